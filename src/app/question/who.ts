// Who is pouring: at the opening of a shift, and at a handover.
import { intendHandover, intendOpenShift } from '../../domain/intent/intend-shift.ts';
import { peopleHere, personName } from '../../domain/ledger/books.ts';
import { businessDate, dateText } from '../../domain/value/clock-date.ts';
import type { PersonId } from '../../domain/value/ids.ts';
import { askedLines } from '../../screens/frame/dialog-view.ts';
import { isMove, moved, noField, only, type Question, wants } from './question.ts';

export const who: Question<'who'> = {
  ask: ({ books, now }, dialog, size) => {
    const people = peopleHere(books).map(({ name }, at) => (at < 9 ? `${at + 1} ${name}` : `  ${name}`));
    const date = dateText(businessDate(now, books.house.zone, books.house.cutOffHour));
    const title =
      dialog.why === 'open-shift'
        ? `Open the shift of ${date}. Who is pouring?`
        : `Who is pouring now? So far ${personName(books, books.shift?.pouring ?? null) ?? 'nobody'}.`;
    const options = people.length === 0 ? ['nobody named'] : people;
    const foot = 'Press a number, or ↑↓ and Enter. Esc goes back.';
    return askedLines({ title, options, cursor: dialog.cursor, foot }, size);
  },
  ...noField,
  key: (state, dialog, key) => {
    const people = peopleHere(state.books);
    if (isMove(key)) {
      const cursor = moved(key, dialog.cursor, people.length, 5);
      return only({ ...state, dialog: { ...dialog, cursor } });
    }
    // A number is the person beside it, at once.
    const chosen = /^[1-9]$/.test(key) ? Number(key) - 1 : key === 'enter' ? dialog.cursor : null;
    if (chosen === null || (chosen > 0 && people[chosen] === undefined)) return only(state);
    const person: PersonId | null = people[chosen]?.id ?? null;
    if (dialog.why === 'hand-over') return wants(state, (books) => intendHandover(books, person));
    return wants(state, (books, now) => intendOpenShift(books, { by: person, now }));
  },
};
