// Which night the Close room shows: chosen from all there were, found by its date, or a stretch from one to another.
import { dateText, isDate } from '../../domain/value/clock-date.ts';
import type { DialogOf } from '../../screens/dialog.ts';
import type { Nights } from '../../screens/effect.ts';
import { askedLines } from '../../screens/frame/dialog-view.ts';
import type { AppState, NightMark } from '../state.ts';
import { close, field, isMove, moved, only, type Question, refused } from './question.ts';

type Asked = DialogOf<'nights'>;

const said = ({ date, sealedAt }: NightMark): string =>
  `${dateText(date)} ${date.slice(0, 4)}   ${date}${sealedAt === null ? '   open' : ''}`;

/** Nights whose date holds what is typed, whichever comes first, the day or the month; the newest first. */
function found({ nights }: AppState, text: string): readonly NightMark[] {
  const words = text
    .trim()
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== '');
  return [...nights].reverse().filter((night) => {
    const has = said(night).toLowerCase().split(/\s+/);
    return words.every((word) => has.some((one) => isWord(word, one)));
  });
}

/** A day is the whole number; all else may be begun only. */
const isWord = (typed: string, word: string): boolean =>
  /^\d{1,2}$/.test(typed) && /^\d{1,2}$/.test(word)
    ? Number(typed) === Number(word)
    : !/^\d{1,2}$/.test(typed) && word.startsWith(typed);

/** "2026-11-01 to 2026-11-20", "1 nov .. 20 nov", "last 7": a stretch; null when one night is meant. */
function stretchOf(state: AppState, text: string): Nights | null {
  const last = /^last (\d{1,3})$/i.exec(text.trim());
  if (last !== null) {
    const some = state.nights.slice(-Number(last[1]));
    const [first, end] = [some[0], some.at(-1)];
    return first === undefined || end === undefined ? null : { from: first.date, to: end.date };
  }
  // Two dates in full need no word between them.
  const two = /^\s*(\d{4}-\d\d-\d\d)[\s,–—]+(\d{4}-\d\d-\d\d)\s*$/.exec(text)?.slice(1);
  const [from, to, more] = two ?? text.split(/\s*(?:\bto\b|\.\.|–)\s*/i);
  if (from === undefined || to === undefined || more !== undefined) return null;
  const dates = [from, to].map((one) => (isDate(one.trim()) ? one.trim() : found(state, one)[0]?.date));
  return dates[0] === undefined || dates[1] === undefined ? null : { from: dates[0], to: dates[1] };
}

export const nights: Question<'nights'> = {
  ask: (state, { text, choice }, size) => {
    const stretch = stretchOf(state, text);
    const options =
      stretch !== null && 'from' in stretch
        ? [`from ${stretch.from} to ${stretch.to}`]
        : found(state, text).map(said);
    return askedLines(
      {
        title: 'Which night?',
        field: { text, hint: text === '' ? '20 nov; 2026-11-01 to 2026-11-20; last 7' : '' },
        options,
        cursor: stretch === null ? choice : 0,
        foot: '↑↓ choose, Enter shows it, Esc goes back.',
      },
      size,
    );
  },
  ...field<Asked>(60, () => ({ choice: 0 })),
  key: (state, dialog, key) => {
    const options = found(state, dialog.text);
    if (isMove(key)) {
      const choice = moved(key, dialog.choice, options.length, 10);
      return only({ ...state, dialog: { ...dialog, choice } });
    }
    if (key !== 'enter') return null;
    const stretch = stretchOf(state, dialog.text);
    const night = options[dialog.choice];
    if (stretch === null && night === undefined)
      return refused(
        state,
        `No shift was on "${dialog.text.trim()}". The last one was on ${lastDate(state)}; a stretch is written 2026-11-01 to 2026-11-20, or last 7.`,
      );
    const wanted: Nights | null =
      stretch ?? (isNow(state, night) ? null : { shift: (night as NightMark).id });
    return { state: close(state), effects: [{ type: 'show-night', night: wanted }] };
  },
};

const lastDate = ({ nights: all }: AppState): string => dateText(all.at(-1)?.date ?? '');

/** The night the books are at needs no looking up, and follows what is recorded. */
const isNow = ({ books }: AppState, night: NightMark | undefined): boolean => night?.id === books.shift?.id;
