// What the nights of a season say of the ones to come: worked out once and asked by orders and by what is to be made.
import type { Books, ShiftBooks } from '../ledger/books.ts';
import { clockText, wallTime } from '../value/clock-date.ts';
import type { ItemId } from '../value/ids.ts';
import { weekdayOf } from './calendar.ts';
import { ENOUGH_NIGHTS, type Expected, type NightUse, nightUses } from './demand.ts';
import { housePours } from './house-pours.ts';
import type { OrderSetting } from './order.ts';

export type Past = {
  /** What left in each night, what went into makings with it; and what of it was poured. */
  readonly uses: readonly NightUse[];
  readonly poured: readonly NightUse[];
  /** What a night can't be without. */
  readonly house: ReadonlySet<ItemId>;
  /** Drinks by the hour on the wall, of all nights of each weekday; Monday is 0. */
  readonly hours: readonly ReadonlyMap<string, number>[];
};

export function pastOf(books: Books, shifts: readonly ShiftBooks[]): Past {
  const hours = Array.from({ length: 7 }, () => new Map<string, number>());
  for (const { date, sealedAt, byHour } of shifts) {
    const own = hours[weekdayOf(date)];
    if (sealedAt === null || own === undefined) continue;
    for (const [hour, count] of byHour) own.set(hour, (own.get(hour) ?? 0) + count);
  }
  return {
    uses: nightUses(shifts),
    poured: nightUses(shifts, 'poured'),
    house: housePours(books, shifts),
    hours,
  };
}

/** Known days ahead, as times the usual. */
export const expectedDays = ({ expected }: Pick<Books, 'expected'>): Expected =>
  new Map([...expected].map(([date, { factor }]) => [date, factor]));

/** What an order is worked out from, at a moment. */
export function orderSetting(books: Books, past: Past, now: string): OrderSetting {
  const { zone, orderZ } = books.house;
  return {
    uses: past.uses,
    house: past.house,
    expected: expectedDays(books),
    onOrder: onOrderOf(books),
    // Suppliers go by the calendar: after midnight the day before is over for them.
    today: wallTime(now, zone).date,
    clock: clockText(now, zone),
    z: orderZ,
  };
}

/** A young house without a par can't know what it is short of. */
export const knowsTooLittle = ({ items }: Pick<Books, 'items'>, nights: number): boolean =>
  nights < ENOUGH_NIGHTS && [...items.values()].every(({ par }) => par === null);

/** Containers on their way, by item. */
export function onOrderOf({ orders }: Pick<Books, 'orders'>): Map<ItemId, number> {
  const sums = new Map<ItemId, number>();
  for (const { lines } of orders.values())
    for (const { item, containers } of lines) sums.set(item, (sums.get(item) ?? 0) + containers);
  return sums;
}
