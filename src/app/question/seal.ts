// The seal: a word typed out, never a single key, and who it is sealed by.
import { intendSeal, oddSeal } from '../../domain/intent/intend-shift.ts';
import { type Books, isOpen, peopleHere } from '../../domain/ledger/books.ts';
import { closingReport } from '../../domain/report/closing.ts';
import type { DialogOf } from '../../screens/dialog.ts';
import { askedLines } from '../../screens/frame/dialog-view.ts';
import { field, isMove, moved, only, type Question, refused, wants } from './question.ts';

/** After a long silence the clock is confirmed, too. */
const sealWord = (odd: string | null): string => (odd === null ? 'seal' : 'seal now');

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

export const seal: Question<'seal'> = {
  ask: ({ books, now }, { text, choice }, size) => {
    const odd = oddSeal(books, now);
    return askedLines(
      {
        title: `Seal this shift for good? ${odd === null ? '' : `${odd} `}${notCounted(books)}Later corrections are new events and say so. Type ${sealWord(odd)} and press Enter.`,
        field: { text, hint: '' },
        options: sealers(books).map(({ name }) => `sealed by ${name}`),
        cursor: choice,
        foot: 'Esc keeps it open, ↑↓ choose who seals.',
      },
      size,
    );
  },
  ...field<DialogOf<'seal'>>(40),
  key: (state, dialog, key) => {
    const people = sealers(state.books);
    if (isMove(key)) {
      const choice = moved(key, dialog.choice, people.length, 5);
      return only({ ...state, dialog: { ...dialog, choice } });
    }
    if (key !== 'enter') return null;
    const word = sealWord(oddSeal(state.books, state.now));
    if (dialog.text.trim().toLowerCase() !== word)
      return refused(state, `Type ${word} and press Enter, or Esc to keep the shift open.`);
    const by = people[dialog.choice]?.id ?? null;
    return wants(state, (books, now) => intendSeal(books, { by, now, sure: true }));
  },
};
