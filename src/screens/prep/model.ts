// What the Prep room lists: what is past its date, then what to make for a night, in the order of work.
import type { Item } from '../../domain/catalogue/item.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { lateOpen } from '../../domain/ledger/stock/in-date.ts';
import { isLate, type Lot } from '../../domain/ledger/stock/lot.ts';
import { dayNamed } from '../../domain/order/calendar.ts';
import type { Past } from '../../domain/order/past.ts';
import { type PrepLine, prepFor } from '../../domain/prep/need.ts';
import { prepSetting } from '../../domain/prep/setting.ts';
import { businessDate } from '../../domain/value/clock-date.ts';
import { memoBy } from '../../domain/value/memo.ts';
import { foldText } from '../../domain/value/text.ts';
import type { FilterState } from '../filter.ts';
import type { Scene } from '../room.ts';

export type PrepState = FilterState & {
  /** Another night than this one. */
  readonly night: string | null;
};

export type PrepRow =
  | { readonly kind: 'late'; readonly lot: Lot; readonly item: Item }
  /** It stood open too long. */
  | {
      readonly kind: 'open';
      readonly item: Item;
      readonly place: string;
      readonly amount: number;
      readonly until: string;
    }
  | { readonly kind: 'make'; readonly line: PrepLine };

export const todayOf = ({ house }: Books, now: string): string =>
  businessDate(now, house.zone, house.cutOffHour);

/** "sat", "tomorrow", "2026-12-31": the night that is meant; null when the text is none. */
export const dateTyped = (text: string, books: Books, now: string): string | null =>
  dayNamed(text, todayOf(books, now));

export type KnownDay = { readonly date: string; readonly factor: string; readonly text: string };

/** "sat 1.8 town feast": a day that will not be as usual; null when the text is none. */
export function knownDay(text: string, books: Books, now: string): KnownDay | null {
  const [, day = '', factor = '', rest = ''] =
    /^(\S+)\s+(?:x\s*)?(\d+(?:[.,]\d+)?)\s*(.*)$/i.exec(text.trim()) ?? [];
  const date = day === '' ? null : dateTyped(day, books, now);
  return date === null ? null : { date, factor, text: rest };
}

/** The night the list is for: what is typed, else what was chosen, else this one. */
export const nightOf = (
  { books, now }: Pick<Scene, 'books' | 'now'>,
  { query, night }: Pick<PrepState, 'query' | 'night'>,
): string =>
  dateTyped(query, books, now) ?? knownDay(query, books, now)?.date ?? night ?? todayOf(books, now);

const linesOf = memoBy(
  (books: Books, past: Past, date: string, minute: string) => [books, past, date, minute],
  (books, past, date, minute): readonly PrepLine[] =>
    prepFor(books, prepSetting(books, past, date, `${minute}:00.000Z`)),
);

const noPast: Past = { uses: [], poured: [], house: new Set(), hours: [] };

export function prepLines({ books, now, ahead }: Scene, state: PrepState): readonly PrepLine[] {
  return linesOf(books, ahead ?? noPast, nightOf({ books, now }, state), now.slice(0, 16));
}

export function prepRows(scene: Scene, state: PrepState): readonly PrepRow[] {
  const { books, now } = scene;
  const late = [...books.lots].flatMap(([id, lots]) => {
    const item = books.items.get(id);
    return item === undefined
      ? []
      : lots
          .filter((lot) => lot.left > 0 && isLate(lot, now))
          .map((lot): PrepRow => ({ kind: 'late', lot, item }));
  });
  const rows = [
    ...late,
    ...lateOpen(books, now).map((open): PrepRow => ({ kind: 'open', ...open })),
    ...prepLines(scene, state).map((line): PrepRow => ({ kind: 'make', line })),
  ];
  const isDay = dateTyped(state.query, books, now) !== null || knownDay(state.query, books, now) !== null;
  const wanted = isDay ? '' : foldText(state.query);
  return wanted === '' ? rows : rows.filter((row) => foldText(wordsOf(row)).includes(wanted));
}

/** Found by what it is and by the card that makes it. */
const wordsOf = (row: PrepRow): string =>
  [itemOf(row).name, ...itemOf(row).also, row.kind === 'make' ? row.line.card.name : ''].join(' ');

export const itemOf = (row: PrepRow): Item => (row.kind === 'make' ? row.line.item : row.item);
