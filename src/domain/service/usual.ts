// What such a weekday usually takes: how a night's drinks spread over its hours, and how much of each item goes. From the
// last nights of the same weekday; fewer than three say nothing. How demand is averaged: the day-of-week index of common
// forecasting practice (no source), means of the same weekday.

import type { Item } from '../catalogue/item.ts';
import { type Books, isOpen, type ShiftBooks, usableByItem } from '../ledger/books.ts';
import { dateText, epochOf, instantOf, wallTime } from '../value/clock-date.ts';
import type { ItemId } from '../value/ids.ts';

export type Usual = {
  /** "Fri". */
  readonly weekday: string;
  readonly nights: number;
  /** Share of a night's drinks poured in each hour of the clock, "00" to "23". */
  readonly byHour: ReadonlyMap<string, number>;
  /** Per item: what a night takes on average, and how much that differs from night to night; thousandths of the unit. */
  readonly items: ReadonlyMap<ItemId, { readonly mean: number; readonly deviation: number }>;
};

const ENOUGH_NIGHTS = 3;
const MOST_NIGHTS = 8;

/** Sealed nights of the same weekday as a date, that date left out. */
export function usualOf(shifts: readonly ShiftBooks[], date: string): Usual {
  const weekday = date === '' ? '' : dateText(date).slice(0, 3);
  const nights = shifts
    .filter(
      (shift) => shift.sealedAt !== null && shift.date !== date && dateText(shift.date).startsWith(weekday),
    )
    .slice(-MOST_NIGHTS);
  const hours = new Map<string, number>();
  let drinks = 0;
  for (const { byHour } of nights)
    for (const [hour, count] of byHour) {
      hours.set(hour, (hours.get(hour) ?? 0) + count);
      drinks += count;
    }
  const ids = new Set(nights.flatMap(({ drawnBy }) => [...drawnBy.keys()]));
  const items = new Map([...ids].map((id) => [id, spreadOf(nights.map((night) => drawnOf(night, id)))]));
  const byHour = new Map([...hours].map(([hour, count]) => [hour, count / drinks]));
  return { weekday, nights: nights.length, byHour, items };
}

const drawnOf = (shift: ShiftBooks, id: Item['id']): number =>
  [...(shift.drawnBy.get(id)?.values() ?? [])].reduce((sum, amount) => sum + amount, 0);

function spreadOf(amounts: readonly number[]): { mean: number; deviation: number } {
  const mean = amounts.reduce((sum, amount) => sum + amount, 0) / amounts.length;
  const squares = amounts.reduce((sum, amount) => sum + (amount - mean) ** 2, 0);
  return { mean, deviation: Math.sqrt(squares / Math.max(1, amounts.length - 1)) };
}

export type UsualOut = {
  readonly item: Item;
  readonly weekday: string;
  readonly about: string;
  readonly earliest: string;
  /** Null: on a slow one it does not run out at all. */
  readonly latest: string | null;
};

const STEP = 600_000;
const LONGEST_NIGHT = 14 * 3_600_000;

/** Items that a usual night of this weekday empties before it ends; two standard deviations of nights on either side. */
export function outOnUsual(books: Books, usual: Usual, now: string): UsualOut[] {
  if (!isOpen(books.shift) || usual.nights < ENOUGH_NIGHTS) return [];
  const expected = usableByItem(books);
  const shares = sharesFrom(now, usual, books.house.zone);
  const at = (wanted: number): string | null => {
    let sum = 0;
    for (const { epoch, share } of shares) {
      sum += share;
      if (sum >= wanted) return instantOf(epoch);
    }
    return null;
  };
  return [...usual.items].flatMap(([id, { mean, deviation }]) => {
    const item = books.items.get(id);
    const left = expected.get(id) ?? 0;
    if (item === undefined || left <= 0 || mean <= 0) return [];
    const about = at(left / mean);
    const earliest = at(left / (mean + 2 * deviation));
    if (about === null || earliest === null) return [];
    const slow = mean - 2 * deviation;
    return [{ item, weekday: usual.weekday, about, earliest, latest: slow <= 0 ? null : at(left / slow) }];
  });
}

/** The shares of the rest of the night in steps of ten minutes, each hour's spread evenly over it. */
function sharesFrom(now: string, usual: Usual, zone: string): { epoch: number; share: number }[] {
  const start = epochOf(now);
  return Array.from({ length: LONGEST_NIGHT / STEP }, (_, step) => {
    const epoch = start + (step + 1) * STEP;
    const hour = String(wallTime(instantOf(epoch - STEP / 2), zone).hour).padStart(2, '0');
    return { epoch, share: ((usual.byHour.get(hour) ?? 0) * STEP) / 3_600_000 };
  });
}
