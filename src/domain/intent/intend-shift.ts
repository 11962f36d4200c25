// What opening, handing over and sealing a shift would record, or why they can't.
import { type Books, isOpen } from '../ledger/books.ts';
import type { EventDraft } from '../ledger/event.ts';
import { businessDate, dateText, isDate } from '../value/clock-date.ts';
import type { PersonId } from '../value/ids.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { clean } from '../value/text.ts';
import { type Moment, moment } from './moment.ts';

/** Opens a shift; its business date is proposed by the house's cut-off hour unless given. */
export function intendOpenShift(
  books: Books,
  wish: Moment & { readonly date?: string; readonly now: string },
): Result<EventDraft[]> {
  if (isOpen(books.shift)) {
    return refuse(
      'shift-open',
      `The shift of ${dateText(books.shift.date)} is still open. Seal it first with ullage close --seal.`,
    );
  }
  if (wish.date !== undefined && !isDate(wish.date)) {
    return refuse('bad-date', `"${clean(wish.date).slice(0, 20)}" is not a date. Write it as 2026-11-20.`);
  }
  const at = wish.at ?? wish.now;
  const date = wish.date ?? businessDate(at, books.house.zone, books.house.cutOffHour);
  return done([{ kind: 'shift-opened', ...moment(wish, null, books), date }]);
}

export function intendSeal(books: Books, wish: Moment): Result<EventDraft[]> {
  if (!isOpen(books.shift))
    return refuse('no-shift', 'No shift is open. Open one with ullage open, or Ctrl-O in the rooms.');
  return done([{ kind: 'shift-sealed', ...moment(wish, books.shift.id, books), of: books.shift.id }]);
}

export function intendHandover(books: Books, to: PersonId | null): Result<EventDraft[]> {
  if (!isOpen(books.shift))
    return refuse('no-shift', 'No shift is open. Open one with ullage open, or Ctrl-O in the rooms.');
  if (books.shift.pouring === to) return done([]);
  return done([{ kind: 'handed-over', shift: books.shift.id, by: books.shift.pouring, to }]);
}
