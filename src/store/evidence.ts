// What the store holds beside the report of some shifts: lines of the till, notes, corrections.

import type { Books } from '../domain/ledger/books.ts';
import type { Loss } from '../domain/ledger/event.ts';
import { costAt } from '../domain/ledger/stock/worth.ts';
import { cameAfterOf } from '../domain/report/came-after.ts';
import { closingReport } from '../domain/report/closing.ts';
import type { Evidence, ValuedLoss } from '../domain/report/evidence.ts';
import type { CameAfter } from '../domain/report/report.ts';
import { epochOf, instantOf } from '../domain/value/clock-date.ts';
import type { Store } from './store.ts';

type Shifts = ReturnType<Store['shifts']>;
/** No seal's knowledge: everything that is there now. */
const KNOWN_NOW = '';
const END_OF_TIME = '9999-12-31T00:00:00.000Z';

/**
 * From when to when the till's lines belong to a night: to the middle between its seal and the next opening, because the last
 * round is rung up after the seal, and the first one before somebody thinks of opening. The first night has all before it.
 */
function tillBounds(all: Shifts, first: number, last: number): [from: string, to: string] {
  const middle = (at: number): string => {
    const [one, other] = [all[at], all[at + 1]];
    if (one === undefined) return '';
    if (other === undefined) return END_OF_TIME;
    return instantOf((epochOf(one.sealedAt ?? other.openedAt) + epochOf(other.openedAt)) / 2);
  };
  return [middle(first - 1), middle(last)];
}

/** What was lost between two nights belongs to the one that comes, as in the fold: from the seal before to the own one. */
const lossBounds = (all: Shifts, first: number, last: number): [after: string, to: string] => [
  all[first - 1]?.sealedAt ?? '',
  all[last]?.sealedAt ?? END_OF_TIME,
];

/** What stands beside the report of some shifts. */
export function evidenceOf(store: Store, all: Shifts, shifts: readonly string[]): Evidence {
  const place = (id: string | undefined): number =>
    all.findIndex(
      (shift) => shift.id === id || shift.seal === id || shift.openings.some((opening) => opening === id),
    );
  const [from, to] = tillBounds(all, place(shifts[0]), place(shifts.at(-1)));
  const remarks = store.remarks(all.map(({ id }) => id));
  const bounds = lossBounds(all, place(shifts[0]), place(shifts.at(-1)));
  const last = shifts.at(-1) ?? '';
  const losses = valued(store, all, store.losses(...bounds, last));
  const cameAfter = cameAfterOn(store, shifts);
  return { sales: store.sales(from, to), losses, remarks, shifts: all, sealed: null, cameAfter };
}

/** What the seal of the last shift did not see; what would be missing with it is said of a night alone. */
function cameAfterOn(store: Store, shifts: readonly string[]): CameAfter | null {
  const last = shifts.at(-1);
  const events = last === undefined ? [] : store.cameAfter([last]);
  if (last === undefined || events.length === 0) return null;
  const sealed = store.booksOfShift(last);
  const report = sealed === null ? null : closingReport(sealed);
  if (sealed === null || report === null) return null;
  const then = shifts.length > 1 ? null : store.booksOfShift(last, KNOWN_NOW);
  return cameAfterOf(report, events, then === null ? null : closingReport(then), sealed);
}

/** What each cost by the books of its own night: over a stretch prices change, and the list must come to its total. */
function valued(store: Store, all: Shifts, losses: readonly Loss[]): ValuedLoss[] {
  const books = new Map<string, Books | null>();
  const booksOf = (shift: string): Books | null => {
    const known = books.get(shift);
    if (known !== undefined) return known;
    const made = store.booksOfShift(shift);
    books.set(shift, made);
    return made;
  };
  return losses.map((loss) => {
    const shift = all.find(({ sealedAt }) => sealedAt === null || loss.at <= sealedAt) ?? all.at(-1);
    const then = shift === undefined ? null : booksOf(shift.id);
    const item = then?.items.get(loss.item);
    return { ...loss, costMinor: then === null || item === undefined ? null : costAt(then, item, loss.at) };
  });
}
