// What opening, handing over and sealing a shift would record, or why they can't.
import { type Books, isOpen } from '../ledger/books.ts';
import type { EventDraft } from '../ledger/event.ts';
import { addDays, businessDate, clockText, dateText, epochOf, isDate } from '../value/clock-date.ts';
import type { PersonId } from '../value/ids.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { clean } from '../value/text.ts';
import { type Moment, moment, noShift, SKEW_MS } from './moment.ts';

/** Before this no night was kept here. */
const FIRST_DATE = '2000-01-01';

/** Opens a shift; its business date is proposed by the house's cut-off hour unless given. */
export function intendOpenShift(
  books: Books,
  wish: Moment & { readonly date?: string; readonly now: string },
): Result<EventDraft[]> {
  if (isOpen(books.shift)) {
    return refuse(
      'shift-open',
      `The shift of ${dateText(books.shift.date)} is still open. Seal it first with ullage close --seal.`,
      65,
      `The shift of ${dateText(books.shift.date)} is still open. Seal it first in the Close room.`,
    );
  }
  if (wish.date !== undefined && !isDate(wish.date)) {
    return refuse('bad-date', `"${clean(wish.date).slice(0, 20)}" is not a date. Write it as 2026-11-20.`);
  }
  const at = wish.at ?? wish.now;
  const last = addDays(at.slice(0, 10), 1);
  if (wish.date !== undefined && (wish.date < FIRST_DATE || wish.date > last))
    return refuse(
      'far-date',
      `A shift of ${wish.date} lies too far off. Give a date from ${FIRST_DATE} to ${last}.`,
    );
  const date = wish.date ?? businessDate(at, books.house.zone, books.house.cutOffHour);
  return done([{ kind: 'shift-opened', ...moment(wish, null, books), date }]);
}

/** A night that was quiet for so long by the clock: either it is the next day, or the clock ran ahead. */
const LONG_SILENCE_MS = 6 * 3_600_000;

/** What the clock says of a seal of now that a person should look at first; null when nothing is odd. */
export function oddSeal(books: Books, now: string): string | null {
  const { lastOfNight, house } = books;
  if (lastOfNight === null || epochOf(now) - epochOf(lastOfNight) <= LONG_SILENCE_MS) return null;
  const hours = Math.round((epochOf(now) - epochOf(lastOfNight)) / 3_600_000);
  return `By this clock (${clockText(now, house.zone)}) nothing was recorded for ${hours} hours, since ${clockText(lastOfNight, house.zone)}.`;
}

/**
 * Seals the open shift. A seal closes all that lies before it, so its moment is not taken from a clock that may have run ahead:
 * after a long silence it is asked for.
 */
export function intendSeal(
  books: Books,
  wish: Moment & { readonly now: string; readonly sure?: boolean },
): Result<EventDraft[]> {
  if (!isOpen(books.shift)) return noShift();
  const { id, also } = books.shift;
  const { lastOfNight } = books;
  const at = wish.at ?? wish.now;
  if (lastOfNight !== null && epochOf(lastOfNight) - epochOf(at) > SKEW_MS)
    return refuse(
      'seal-too-early',
      `Something of this night was recorded at ${lastOfNight}, after that moment. Seal at that time or later; if the clock was wrong, take it back first.`,
    );
  const odd = wish.at === undefined && wish.sure !== true ? oddSeal(books, wish.now) : null;
  if (odd !== null)
    return refuse(
      'odd-clock',
      `${odd} If that is right, say when with --at ${wish.now}; else put the clock right.`,
      65,
      `${odd} If that is right, seal with the words seal now; else put the clock right.`,
    );
  // A little behind the last tap, by another station's clock: the seal comes after it all the same.
  const late = lastOfNight !== null && at < lastOfNight ? { ...wish, at: lastOfNight } : wish;
  const openings = also.length === 0 ? {} : { also: [...also] };
  return done([{ kind: 'shift-sealed', ...moment(late, id, books), of: id, ...openings }]);
}

export function intendHandover(books: Books, to: PersonId | null): Result<EventDraft[]> {
  if (!isOpen(books.shift)) return noShift();
  if (books.shift.pouring === to) return done([]);
  return done([{ kind: 'handed-over', shift: books.shift.id, by: books.shift.pouring, to }]);
}
