// Questions about time: a clock that jumped, and a shift that was left open.
import { spanText } from '../../domain/intent/moment.ts';
import { type Books, isOpen } from '../../domain/ledger/books.ts';
import { LONG_SHIFT_MS } from '../../domain/ledger/shift-order.ts';
import { clockText, dateText, epochOf } from '../../domain/value/clock-date.ts';
import type { Dialog, DialogOf } from '../../screens/dialog.ts';
import { askedLines } from '../../screens/frame/dialog-view.ts';
import { putAside } from '../aside.ts';
import { goTo } from '../keymap.ts';
import type { AppState } from '../state.ts';
import { close, isMove, moved, noField, only, type Question } from './question.ts';

/** The answer that records nothing stands first: what was typed ahead ends in Enter. */
const answers = ['it is wrong: record nothing', 'it is right: record with it'] as const;

export const clock: Question<'clock'> = {
  ask: (_, { text, cursor }, size) =>
    askedLines(
      { title: `${text} Is this clock right?`, options: answers, cursor, foot: '↑↓ choose, Enter answers.' },
      size,
    ),
  ...noField,
  esc: dropped,
  key: (state, dialog, key) => {
    if (isMove(key)) {
      const cursor = moved(key, dialog.cursor, answers.length, answers.length);
      return only({ ...state, dialog: { ...dialog, cursor } });
    }
    if (key !== 'enter') return only(state);
    if (dialog.cursor === 0) return only(dropped(state, dialog));
    return { state: { ...state, dialog: dialog.behind }, effects: [{ type: 'trust-clock' }, dialog.wish] };
  },
};

/** What was to be recorded is not; what was typed for it can be taken up again. */
function dropped(state: AppState, { wish, behind }: DialogOf<'clock'>): AppState {
  const { from, typed = null } = wish;
  const message = {
    text: 'Nothing was recorded. Put the clock right, then try again.',
    tone: 'refused',
  } as const;
  const next: AppState = { ...state, dialog: behind, message };
  return from === 'frame' || typed === null ? next : putAside(next, from, typed);
}

const ways = [
  'go on with it',
  'count and seal it: the Count room',
  'see what it comes to: the Close room',
] as const;

export const longShift: Question<'long-shift'> = {
  ask: (_, { text, cursor }, size) =>
    askedLines(
      { title: text, options: ways, cursor, foot: '↑↓ choose, Enter answers. Nothing is sealed by itself.' },
      size,
    ),
  ...noField,
  key: (state, dialog, key) => {
    if (isMove(key)) {
      const cursor = moved(key, dialog.cursor, ways.length, ways.length);
      return only({ ...state, dialog: { ...dialog, cursor } });
    }
    if (key !== 'enter') return only(state);
    if (dialog.cursor === 0) return only(close(state));
    return goTo(close(state), { room: dialog.cursor === 1 ? 'count' : 'close' });
  },
};

/** Asked at the start about a shift that no night is as long as; null when there is none. */
export function askAboutShift(books: Books, now: string): Dialog | null {
  if (!isOpen(books.shift)) return null;
  const { openedAt, date } = books.shift;
  const open = epochOf(now) - epochOf(openedAt);
  if (open <= LONG_SHIFT_MS) return null;
  const last = books.lastOfNight ?? openedAt;
  const text = `The shift of ${dateText(date)} has been open for ${spanText(open)}; the last entry was at ${clockText(last, books.house.zone)}, ${spanText(epochOf(now) - epochOf(last))} ago. What now?`;
  return { kind: 'long-shift', text, cursor: 0 };
}
