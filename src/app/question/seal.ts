// The seal: a word typed out, never a single key, and who it is sealed by.
import { intendSeal, oddSeal } from '../../domain/intent/intend-shift.ts';
import { type Books, isOpen, peopleHere } from '../../domain/ledger/books.ts';
import { closingReport } from '../../domain/report/closing.ts';
import { clockText } from '../../domain/value/clock-date.ts';
import type { DialogOf } from '../../screens/dialog.ts';
import { askedLines } from '../../screens/frame/dialog-view.ts';
import type { AppState } from '../state.ts';
import { field, isMove, moved, only, type Question, refused, wants } from './question.ts';

/** After a long silence the clock is confirmed, too; and what may be missing of other stations, by their names. */
function sealWord(odd: string | null, away: readonly string[]): string {
  const plain = odd === null ? 'seal' : 'seal now';
  return away.length === 0 ? plain : `${plain} without ${away.join(', ')}`;
}

const awayNames = ({ house }: AppState): string[] => (house?.away ?? []).map(({ name }) => name);

/** Which stations are not in step, and since when. */
function awayText({ house, books }: AppState): string {
  const away = house?.away ?? [];
  if (away.length === 0) return '';
  const each = away.map(({ name, since }) =>
    since === null ? name : `${name} since ${clockText(since, books.house.zone)}`,
  );
  return `Not in step: ${each.join(', ')}. What comes from there later stands beside this report. `;
}

/** Who may be named as the one who seals: who is pouring stands first. */
function sealers(books: Books) {
  const pouring = isOpen(books.shift) ? books.shift.pouring : null;
  return peopleHere(books).sort((a, b) => Number(b.id === pouring) - Number(a.id === pouring));
}

/** What a seal would leave uncounted. */
function notCounted(books: Books): string {
  const { counted, notCounted: left } = closingReport(books)?.totals ?? { counted: 0, notCounted: 0 };
  return left === 0 ? '' : `${left} of ${counted + left} items are not counted. `;
}

/** The word, and every station that is away by its name or its short one, in any order; commas and capitals don't matter. */
function isMeant(state: AppState, text: string): boolean {
  const words = (said: string): string =>
    said
      .toLowerCase()
      .split(/[\s,]+/)
      .filter((word) => word !== '')
      .join(' ');
  const typed = words(text);
  const plain = sealWord(oddSeal(state.books, state.now), []);
  const away = state.house?.away ?? [];
  if (away.length === 0) return typed === plain;
  const start = `${plain} without `;
  const named = ` ${typed.slice(start.length)} `;
  return (
    typed.startsWith(start) &&
    away.every(({ id, name }) => [id, name].some((one) => named.includes(` ${words(one)} `)))
  );
}

export const seal: Question<'seal'> = {
  ask: (state, { text, choice }, size) => {
    const { books, now } = state;
    const odd = oddSeal(books, now);
    return askedLines(
      {
        title: `Seal this shift for good? ${odd === null ? '' : `${odd} `}${notCounted(books)}${awayText(state)}Later corrections are new events and say so. Type ${sealWord(odd, awayNames(state))} and press Enter.`,
        field: { text, hint: '' },
        options: sealers(books).map(({ name }) => `sealed by ${name}`),
        cursor: choice,
        foot: 'Esc keeps it open, ↑↓ choose who seals.',
      },
      size,
    );
  },
  ...field<DialogOf<'seal'>>(200),
  key: (state, dialog, key) => {
    const people = sealers(state.books);
    if (isMove(key)) {
      const choice = moved(key, dialog.choice, people.length, 5);
      return only({ ...state, dialog: { ...dialog, choice } });
    }
    if (key !== 'enter') return null;
    const word = sealWord(oddSeal(state.books, state.now), awayNames(state));
    if (!isMeant(state, dialog.text))
      return refused(state, `Type ${word} and press Enter, or Esc to keep the shift open.`);
    const by = people[dialog.choice]?.id ?? null;
    return wants(state, (books, now) => intendSeal(books, { by, now, sure: true }));
  },
};
