// The Count room's state: the walk along the shelves. What is counted is on disk; only the half-typed reading is not.

import type { Item } from '../../domain/catalogue/item.ts';
import { type Judged, judge, needsSecondLook } from '../../domain/count/variance.ts';
import { intendCount } from '../../domain/intent/intend-stock.ts';
import type { Intent } from '../../domain/intent/intent.ts';
import { type Books, isOpen, type Period, type Stock, stockKey } from '../../domain/ledger/books.ts';
import { hasFlow } from '../../domain/ledger/stock/flows.ts';
import { itemIndex } from '../../domain/search/house-search.ts';
import { searchIndex } from '../../domain/search/search.ts';
import { levelsOf } from '../../domain/service/levels.ts';
import { epochOf } from '../../domain/value/clock-date.ts';
import type { PersonId } from '../../domain/value/ids.ts';
import { memoBy } from '../../domain/value/memo.ts';

export type CountState = {
  readonly cursor: number;
  readonly text: string;
  /** Where the walk was when the mark was taken elsewhere: a mend goes back to it. */
  readonly walk: string | null;
  /** The marked row was counted before, or taken back: its reading is a mend. */
  readonly mends: boolean;
  /** A reading that was refused: until somebody says what becomes of it, nothing is taken for its row or any other. */
  readonly barred: string | null;
  /** The row whose reading was so far off that it was asked for again, and what it said. */
  readonly doubt: { readonly key: string; readonly amount: number; readonly spread: number } | null;
  readonly scope: Scope;
  /** What is walked, chosen when the walk began: it stands still while it is walked. Null for everything. */
  readonly keys: ReadonlySet<string> | null;
  /** Who counts at this window, when it is not who is pouring: two people count two places at once. */
  readonly by: PersonId | null;
  /** In the drill: what the eye said of the marked bottle, before the scale; null when the eye comes next. */
  readonly drill: { readonly eye: string | null } | null;
};

/** What is walked: everything, what moved tonight, or what is worth most. A short count is a good one when it is these. */
export type Scope = 'all' | 'moved' | 'worth';
export const scopes: readonly Scope[] = ['all', 'moved', 'worth'];
export const scopeWords: Readonly<Record<Scope, string>> = {
  all: 'everything',
  moved: 'what moved tonight',
  worth: 'the twenty worth most',
};
const MOST_WORTH = 20;

export const countStart: CountState = {
  cursor: -1,
  text: '',
  walk: null,
  mends: false,
  barred: null,
  doubt: null,
  scope: 'all',
  keys: null,
  by: null,
  drill: null,
};

/** The state that stands on one row of everything, ready for its reading; who counts at this window stays. */
export const countAt = (books: Books, key: string | null, before: CountState): CountState => ({
  ...countStart,
  by: before.by,
  cursor: Math.max(
    0,
    countRows(books).findIndex((row) => row.key === key),
  ),
});

/** The key of the marked row. */
export const markedKey = (books: Books, state: CountState): string | null =>
  walkedRows(books, state)[cursorOf(books, state)]?.key ?? null;

/** A reading begins with a number; what begins with a letter is the name of something to go to. */
export const isName = ({ text }: Pick<CountState, 'text'>): boolean => /^\p{L}/u.test(text);

/** The row a name means: the first of that item that is not counted yet, else the first; null when nothing is called so. */
export function rowNamed(books: Books, state: CountState): number | null {
  const rows = walkedRows(books, state);
  for (const item of searchIndex(itemIndex(books), state.text, () => 0)) {
    const places = rows.flatMap((row, index) => (row.item.id === item.id ? [index] : []));
    const [first] = places;
    if (first === undefined) continue;
    return places.find((index) => !isCounted(books, rows[index] as CountRow)) ?? first;
  }
  return null;
}

export type CountRow = {
  readonly key: string;
  readonly item: Item;
  readonly place: string;
  readonly stock: Stock | null;
};

/** Everything on the shelves, in walking order: by place, then shelf. */
export const countRows = memoBy(
  (books: Books) => [books],
  (books): readonly CountRow[] =>
    levelsOf(books).map(({ item, place }) => {
      const key = stockKey(item.id, place);
      return { key, item, place, stock: books.stock.get(key) ?? null };
    }),
);

/** The rows that are walked now, in the order of the shelves. In the drill only what a scale can weigh. */
export const walkedRows = memoBy(
  (books: Books, { keys, drill }: Pick<CountState, 'keys' | 'drill'>) => [books, keys, drill !== null],
  (books, { keys, drill }): readonly CountRow[] => {
    const all = countRows(books);
    if (drill !== null) return all.filter(isWeighable);
    return keys === null ? all : all.filter(({ key }) => keys.has(key));
  },
);

const isWeighable = ({ item }: CountRow): boolean =>
  item.unit === 'ml' && item.count !== 'pieces' && item.tareMilligrams !== null;

/** A walk over so much, as it is now; with what was on the walk before and has been counted on it. */
export function walkOver(
  books: Books,
  scope: Scope,
  before: ReadonlySet<string> | null,
): ReadonlySet<string> | null {
  const rows = scoped(books, countRows(books), scope);
  if (scope === 'all') return null;
  const counted = countRows(books).filter((row) => before?.has(row.key) === true && isCounted(books, row));
  return new Set([...rows, ...counted].map(({ key }) => key));
}

function scoped(books: Books, all: readonly CountRow[], scope: Scope): readonly CountRow[] {
  if (scope === 'all') return all;
  if (scope === 'moved') return all.filter((row) => hasMoved(books, row));
  const worth = new Map(all.map((row) => [row.key, worthOf(books, row)]));
  const top = [...worth].sort((a, b) => b[1] - a[1]).slice(0, MOST_WORTH);
  return all.filter(({ key }) => top.some(([one]) => one === key) && (worth.get(key) ?? 0) > 0);
}

/** Poured tonight, or came, went or was lost since it was counted before. */
function hasMoved({ shift }: Books, { item, stock, place }: CountRow): boolean {
  if (stock === null) return false;
  const poured = (shift?.drawnBy.has(item.id) ?? false) && place === item.place;
  const { period } = stock;
  const tonight = period !== null && shift !== null && period.to.at >= shift.openedAt;
  return poured || hasFlow(stock.flows) || (tonight && hasFlow(period.flows));
}

/** What should stand there, at cost: as expected before a reading came in. */
function worthOf(books: Books, row: CountRow): number {
  if (row.item.costMinor === null || row.stock === null) return 0;
  const amount = isCounted(books, row)
    ? (judgeRow(books, row)?.expected ?? row.stock.amount)
    : row.stock.amount;
  return (amount / row.item.size) * row.item.costMinor;
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
  state.cursor >= 0
    ? Math.min(state.cursor, walkedRows(books, state).length - 1)
    : firstUncounted(books, state, 0);

/** The next row that needs counting, from a place on; the place itself when all are counted. */
export function firstUncounted(
  books: Books,
  state: Pick<CountState, 'keys' | 'drill'>,
  from: number,
): number {
  const rows = walkedRows(books, state);
  for (let step = 0; step < rows.length; step += 1) {
    const index = (from + step) % rows.length;
    const row = rows[index];
    if (row !== undefined && !isCounted(books, row)) return index;
  }
  return Math.min(from, Math.max(0, rows.length - 1));
}

/** Whether it is a second look is decided on the newest books, as everything that is recorded. */
export const countIntent =
  (row: CountRow, state: CountState): Intent =>
  (books, now) => {
    const stock = books.stock.get(row.key) ?? null;
    const again = isSecondLook(books, { ...row, stock }, now);
    return intendCount(books, { by: state.by, item: row.item, reading: state.text, place: row.place, again });
  };

/** Who the readings of this window are by: chosen here, else who is pouring. */
export const countingOf = (books: Books, { by }: Pick<CountState, 'by'>): PersonId | null =>
  by ?? (isOpen(books.shift) ? books.shift.pouring : null);

/** The next person who works here, for the window's own counter. */
export function nextCounting(books: Books, state: CountState): PersonId | null {
  const people = [...books.people.values()].filter(({ here }) => here).map(({ id }) => id);
  const at = people.indexOf(countingOf(books, state) as PersonId);
  return people[(at + 1) % Math.max(1, people.length)] ?? null;
}

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
  const period = lastPeriod(row);
  return judged !== null && period !== null && needsSecondLook(judged, period, row.item, books);
}

/** A second look that says the same is an answer; one that says something else is asked about again. */
export function agrees({ doubt }: CountState, row: CountRow): boolean {
  const counted = row.stock?.counted;
  if (doubt === null || doubt.key !== row.key || counted === null || counted === undefined) return false;
  return Math.abs(doubt.amount - counted.amount) <= 2 * Math.hypot(doubt.spread, counted.deviation);
}
