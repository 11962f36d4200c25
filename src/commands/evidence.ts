// A report with everything that stands beside it: lines of the till, notes, corrections. Shared by all that show or judge
// one.
import type { Books } from '../domain/books.ts';
import { withEvidence } from '../domain/evidence.ts';
import { closingReport, type Report } from '../domain/report.ts';
import { periodReport } from '../domain/report-period.ts';
import type { Store } from '../store/store.ts';

/** What a report is over: the shifts, and the books at both ends. */
export type Reported = {
  readonly report: Report;
  readonly books: Books;
  /** How the shift before left the books; null when there was none. */
  readonly before: Books | null;
  /** All shifts of it, oldest first. */
  readonly shifts: readonly string[];
};

type Shifts = ReturnType<Store['shifts']>;
const END_OF_TIME = '9999-12-31T00:00:00.000Z';

/** The report of one shift; null when the store does not know it. */
export function reportOfShift(store: Store, shift: string): Reported | null {
  const books = store.booksOfShift(shift);
  const report = books === null ? null : closingReport(books);
  if (books === null || report === null) return null;
  const all = store.shifts();
  const at = all.findIndex(({ id }) => id === shift);
  return complete(store, all, report, { books, before: booksBefore(store, all, at), shifts: [shift] });
}

/** One report over the shifts whose business dates lie in a stretch; null when there are none. */
export function reportOfStretch(store: Store, from: string, to: string): Reported | null {
  const all = store.shifts();
  const shifts = all.filter(({ date }) => date >= from && date <= to);
  const [first, last] = [shifts[0], shifts.at(-1)];
  const books = last === undefined ? null : store.booksOfShift(last.id);
  if (first === undefined || books === null) return null;
  const before = booksBefore(store, all, all.indexOf(first));
  const report = periodReport({ before, end: books, first, shifts: shifts.length });
  if (report === null) return null;
  return complete(store, all, report, { books, before, shifts: shifts.map(({ id }) => id) });
}

function booksBefore(store: Store, all: Shifts, at: number): Books | null {
  const before = all[at - 1];
  return before === undefined ? null : store.booksOfShift(before.id);
}

function complete(store: Store, all: Shifts, report: Report, over: Omit<Reported, 'report'>): Reported {
  const next = all[all.findIndex(({ id }) => id === over.shifts.at(-1)) + 1];
  // The till belongs to the night until the next one is opened: the last round is rung up after the seal, too.
  const sales = store.sales(report.shift.openedAt, next?.openedAt ?? END_OF_TIME);
  const remarks = store.remarks(over.shifts);
  return { ...over, report: withEvidence(report, { sales, remarks }, over.books) };
}
