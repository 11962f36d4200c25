// The Count room's state: the walk along the shelves. What is counted is on disk; only the half-typed reading is not.
import { type Books, hasFlow, type Period, type Stock, stockKey } from '../../domain/books.ts';
import { epochOf } from '../../domain/clock-date.ts';
import { intendCount, needsSecondLook } from '../../domain/intend-stock.ts';
import type { Item } from '../../domain/item.ts';
import { levelsOf } from '../../domain/levels.ts';
import { type Judged, judge } from '../../domain/variance.ts';
import type { Intent } from '../effect.ts';

export type CountState = {
  readonly cursor: number;
  readonly text: string;
  /** Key of the row whose reading was so far off that a second look was asked for. */
  readonly doubt: string | null;
};

export const countStart: CountState = { cursor: -1, text: '', doubt: null };

export type CountRow = {
  readonly key: string;
  readonly item: Item;
  readonly place: string;
  readonly stock: Stock | null;
};

const kept = new WeakMap<Books['stock'], readonly CountRow[]>();

/** Everything on the shelves, in walking order: by place, then shelf. */
export function countRows(books: Books): readonly CountRow[] {
  const known = kept.get(books.stock);
  if (known !== undefined) return known;
  const rows = levelsOf(books).map(({ item, place }) => {
    const key = stockKey(item.id, place);
    return { key, item, place, stock: books.stock.get(key) ?? null };
  });
  kept.set(books.stock, rows);
  return rows;
}

/** Counted in this shift, and nothing has moved since: the reading still stands. */
export function isCounted(books: Books, row: CountRow): boolean {
  const counted = row.stock?.counted ?? null;
  if (counted === null || row.stock === null || hasFlow(row.stock.flows)) return false;
  return books.shift === null || counted.at >= books.shift.openedAt;
}

/** A reading of a row counted in this shift less than an hour ago, with nothing moved since, is a second look. */
const SECOND_LOOK_MS = 3_600_000;

function isSecondLook(books: Books, row: CountRow, now: string): boolean {
  const counted = row.stock?.counted ?? null;
  if (counted === null || row.stock === null || hasFlow(row.stock.flows)) return false;
  return counted.shift === (books.shift?.id ?? null) && epochOf(now) - epochOf(counted.at) < SECOND_LOOK_MS;
}

export const cursorOf = (books: Books, state: CountState): number =>
  state.cursor >= 0 ? Math.min(state.cursor, countRows(books).length - 1) : firstUncounted(books, 0);

/** The next row that needs counting, from a place on; the place itself when all are counted. */
export function firstUncounted(books: Books, from: number): number {
  const rows = countRows(books);
  for (let step = 0; step < rows.length; step += 1) {
    const index = (from + step) % rows.length;
    const row = rows[index];
    if (row !== undefined && !isCounted(books, row)) return index;
  }
  return Math.min(from, Math.max(0, rows.length - 1));
}

export const countIntent = (
  row: CountRow,
  reading: string,
  scene: { readonly books: Books; readonly now: string },
): Intent => {
  const again = isSecondLook(scene.books, row, scene.now);
  return (books) => intendCount(books, { by: null, item: row.item, reading, place: row.place, again });
};

export function lastPeriod(row: CountRow): Period | null {
  const period = row.stock?.period ?? null;
  return period !== null && period.to.event === row.stock?.counted?.event ? period : null;
}

export function judgeRow(books: Books, row: CountRow): Judged | null {
  const period = lastPeriod(row);
  return period === null ? null : judge([period], row.item, books.house);
}

export function isDoubtful(books: Books, row: CountRow): boolean {
  const judged = judgeRow(books, row);
  return judged !== null && needsSecondLook(judged.expected, judged.counted, row.item);
}
