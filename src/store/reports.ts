// Reports asked of the store, with everything that stands beside them: lines of the till, notes, corrections. Shared by
// all that show or judge one.

import type { Books } from '../domain/ledger/books.ts';
import { closingReport } from '../domain/report/closing.ts';
import { withEvidence } from '../domain/report/evidence.ts';
import { periodReport } from '../domain/report/period.ts';
import type { Report } from '../domain/report/report.ts';
import { FIRST_DATE, isDate, LAST_DATE } from '../domain/value/clock-date.ts';
import type { EventId } from '../domain/value/ids.ts';
import { done, type Result, refuse } from '../domain/value/problem.ts';
import { clean } from '../domain/value/text.ts';
import { evidenceOf } from './evidence.ts';
import type { Store } from './store.ts';

/** What a report is over: the shifts, and the books at both ends. */
export type Reported = {
  readonly report: Report;
  readonly books: Books;
  /** How the shift before left the books; null when there was none. */
  readonly before: Books | null;
  /** All shifts of it, oldest first. */
  readonly shifts: readonly string[];
};

/** So many nights stand around the last one: enough to know whose count a correction is about. */
const RECENT = 40;

type Shifts = ReturnType<Store['shifts']>;

/** Where a shift stands, by whichever of its openings it is named. */
const placeIn = (all: Shifts, shift: string): number =>
  all.findIndex(
    ({ id, seal, openings }) =>
      id === shift || seal === shift || openings.some((opening) => opening === shift),
  );

/** A shift by its date or id, or the last one when none is named; the refusal names the last dates. */
export function findShift(store: Store, wanted: string | undefined): Result<Shifts[number]> {
  const shifts = store.shifts(wanted === undefined ? RECENT : undefined);
  const found = shifts.findLast(({ id, date }) => wanted === undefined || id === wanted || date === wanted);
  if (found !== undefined) return done(found);
  // Sealed apart under another of its openings: that seal has a report of its own.
  const seal = wanted === undefined ? null : store.eventById(wanted);
  const named = seal?.event.kind === 'shift-sealed' && !seal.takenBack ? seal.event.of : wanted;
  const apart = shifts.find(({ openings }) => openings.some((opening) => opening === named));
  if (apart !== undefined) return done({ ...apart, id: wanted as EventId });
  if (shifts.length === 0) return refuse('no-shift', 'No shift was ever opened. Open one with ullage open.');
  const dates = shifts.slice(-3).map(({ date }) => date);
  const said = clean(wanted ?? '').slice(0, 40);
  return refuse('unknown-shift', `No shift is known as "${said}". The last ones are ${dates.join(', ')}.`);
}

/** The report of the shift named, or of the last one. */
export function reportNamed(store: Store, wanted: string | undefined): Result<Reported> {
  const shift = findShift(store, wanted);
  if (!shift.ok) return shift;
  const reported = reportOfShift(store, shift.value.id);
  return reported === null
    ? refuse('unknown-shift', 'That shift cannot be read from the books. Run ullage check.')
    : done(reported);
}

/** The report over the stretch between two dates as they were typed; one left out is an open end. */
export function reportBetween(
  store: Store,
  {
    from = FIRST_DATE,
    to = LAST_DATE,
  }: { readonly from?: string | undefined; readonly to?: string | undefined },
): Result<Reported> {
  if (!isDate(from) || !isDate(to))
    return refuse('bad-date', '--from and --to take dates. Write them as 2026-11-20.', 64);
  const reported = reportOfStretch(store, from, to);
  if (reported !== null) return done(reported);
  const message = 'No shift lies between these dates. Run ullage log to see when there were some.';
  return refuse('unknown-shift', message);
}

/** The report of one shift; null when the store does not know it. */
export function reportOfShift(store: Store, shift: string): Reported | null {
  const books = store.booksOfShift(shift);
  const report = books === null ? null : closingReport(books);
  if (books === null || report === null) return null;
  const recent = store.shifts(RECENT, shift);
  const all = placeIn(recent, shift) > 0 ? recent : store.shifts(undefined, shift);
  const before = booksBefore(store, all, placeIn(all, shift), shift);
  return before === undefined ? null : complete(store, all, report, { books, before, shifts: [shift] });
}

/** One report over the shifts whose business dates lie in a stretch; null when there are none. */
export function reportOfStretch(store: Store, from: string, to: string): Reported | null {
  const isWanted = ({ date }: Shifts[number]): boolean => date >= from && date <= to;
  // Which nights there are is what the last of them knew.
  const all = store.shifts(undefined, store.shifts().findLast(isWanted)?.id);
  // Dates are given by hand, too: a shift between two wanted ones belongs to the stretch, whatever date it was given.
  const [begin, end] = [all.findIndex(isWanted), all.findLastIndex(isWanted)];
  const [first, last] = [all[begin], all[end]];
  const books = last === undefined ? null : store.booksOfShift(last.id);
  if (first === undefined || last === undefined || books === null) return null;
  const before = booksBefore(store, all, begin, last.id);
  if (before === undefined) return null;
  const shifts = all.slice(begin, end + 1);
  const report = periodReport({ before, end: books, first, shifts: shifts.length });
  if (report === null) return null;
  return complete(store, all, report, { books, before, shifts: shifts.map(({ id }) => id) });
}

/**
 * As the last shift of the report knew them. Null when there was none before; undefined when it cannot be read, which must not pass
 * for a beginning.
 */
function booksBefore(store: Store, all: Shifts, at: number, knownBy: string): Books | null | undefined {
  const before = all[at - 1];
  return before === undefined ? null : (store.booksOfShift(before.id, knownBy) ?? undefined);
}

function complete(store: Store, all: Shifts, report: Report, over: Omit<Reported, 'report'>): Reported {
  return {
    ...over,
    report: withEvidence(
      report,
      evidenceOf(store, all, over.shifts),
      over.books,
      store.books(),
      new Set(over.shifts),
    ),
  };
}

/** Shifts looked back upon unless said otherwise: a season. */
export const SEASON = 90;
