// What the Prep room lists: what is past its date, then what to make for a night, in the order of work.
import type { Item } from '../../domain/catalogue/item.ts';
import { weekdays } from '../../domain/catalogue/supplier.ts';
import { type Books, usableByItem } from '../../domain/ledger/books.ts';
import { isLate, type Lot } from '../../domain/ledger/stock/lot.ts';
import type { Past } from '../../domain/order/past.ts';
import { type PrepLine, prepFor } from '../../domain/prep/need.ts';
import { prepSetting } from '../../domain/prep/setting.ts';
import { addDays, businessDate, isDate } from '../../domain/value/clock-date.ts';
import { memoBy } from '../../domain/value/memo.ts';
import { foldText } from '../../domain/value/text.ts';
import type { Scene } from '../room.ts';

export type PrepRow =
  | { readonly kind: 'late'; readonly lot: Lot; readonly item: Item }
  | { readonly kind: 'make'; readonly line: PrepLine };

export const todayOf = ({ house }: Books, now: string): string =>
  businessDate(now, house.zone, house.cutOffHour);

/** "sat", "tomorrow", "2026-12-31": the night that is meant; null when the text is none. */
export function dateTyped(text: string, books: Books, now: string): string | null {
  const word = foldText(text);
  const today = todayOf(books, now);
  if (isDate(text.trim())) return text.trim();
  if (word === 'tomorrow') return addDays(today, 1);
  const at = word.length < 3 ? -1 : weekdays.findIndex((day) => fullDays[day].startsWith(word));
  if (at < 0) return null;
  for (let ahead = 0; ahead < 7; ahead += 1) {
    const date = addDays(today, ahead);
    if ((new Date(`${date}T00:00:00Z`).getUTCDay() + 6) % 7 === at) return date;
  }
  return null;
}
const fullDays = {
  mon: 'monday',
  tue: 'tuesday',
  wed: 'wednesday',
  thu: 'thursday',
  fri: 'friday',
  sat: 'saturday',
  sun: 'sunday',
} as const;

export type KnownDay = { readonly date: string; readonly factor: string; readonly text: string };

/** "sat 1.8 town feast": a day that will not be as usual; null when the text is none. */
export function knownDay(text: string, books: Books, now: string): KnownDay | null {
  const [, day = '', factor = '', rest = ''] =
    /^(\S+)\s+(?:x\s*)?(\d+(?:[.,]\d+)?)\s*(.*)$/i.exec(text.trim()) ?? [];
  const date = day === '' ? null : dateTyped(day, books, now);
  return date === null ? null : { date, factor, text: rest };
}

/** The night the list is for. */
export const nightOf = ({ books, now }: Pick<Scene, 'books' | 'now'>, query: string): string =>
  dateTyped(query, books, now) ?? knownDay(query, books, now)?.date ?? todayOf(books, now);

const linesOf = memoBy(
  (books: Books, past: Past, date: string, minute: string) => [books, past, date, minute],
  (books, past, date, minute): readonly PrepLine[] =>
    prepFor(books, prepSetting(books, past, date, `${minute}:00.000Z`)),
);

const noPast: Past = { uses: [], poured: [], house: new Set(), hours: [] };

export function prepLines({ books, now, ahead }: Scene, query: string): readonly PrepLine[] {
  return linesOf(books, ahead ?? noPast, nightOf({ books, now }, query), now.slice(0, 16));
}

export function prepRows(scene: Scene, query: string): readonly PrepRow[] {
  const { books, now } = scene;
  const late = [...books.lots].flatMap(([id, lots]) => {
    const item = books.items.get(id);
    return item === undefined
      ? []
      : lots
          .filter((lot) => lot.left > 0 && isLate(lot, now))
          .map((lot): PrepRow => ({ kind: 'late', lot, item }));
  });
  const rows = [...late, ...prepLines(scene, query).map((line): PrepRow => ({ kind: 'make', line }))];
  const isDay = dateTyped(query, books, now) !== null || knownDay(query, books, now) !== null;
  const wanted = isDay ? '' : foldText(query);
  return wanted === '' ? rows : rows.filter((row) => foldText(itemOf(row).name).includes(wanted));
}

export const itemOf = (row: PrepRow): Item => (row.kind === 'late' ? row.item : row.line.item);

/** What tonight can reckon with of an item. */
export const standsOf = (books: Books, item: Item): number => usableByItem(books).get(item.id) ?? 0;
