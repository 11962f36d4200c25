// When to order and when it comes: by the days of a supplier and the hour until which an order counts for its day.
import { type Supplier, type Weekday, weekdays } from '../catalogue/supplier.ts';
import { addDays, isDate } from '../value/clock-date.ts';
import { foldText } from '../value/text.ts';

/** 0 is Monday, as ISO 8601 counts. */
export const weekdayOf = (date: string): number => (new Date(`${date}T00:00:00Z`).getUTCDay() + 6) % 7;

export type Delivery = {
  /** The day by which it must be ordered. */
  readonly orderBy: string;
  readonly deliveryAt: string;
  /** The delivery after that one: until then what was ordered must do. */
  readonly coversUntil: string;
};

const isOn = (days: readonly Weekday[], date: string): boolean =>
  days.length === 0 || days.includes(weekdays[weekdayOf(date)] ?? 'mon');

/** A year of days is looked through; a supplier without days of its own takes any. */
const LONGEST = 366;

function firstOn(days: readonly Weekday[], from: string): string {
  let date = from;
  for (let step = 0; step < LONGEST && !isOn(days, date); step += 1) date = addDays(date, 1);
  return date;
}

/** The first of its days after the order day that is not the same day, or later where it needs longer. */
const deliveryAfter = ({ deliveryDays, leadDays }: Supplier, order: string): string =>
  firstOn(deliveryDays, addDays(order, Math.max(1, leadDays ?? 1)));

/** The next order that is still in time at a moment on the house's wall, what it brings when, and until when that must do. */
export function nextDelivery(supplier: Supplier, today: string, clock: string): Delivery {
  const isLate = supplier.cutOff !== null && clock > supplier.cutOff;
  const orderBy = firstOn(supplier.orderDays, isLate ? addDays(today, 1) : today);
  const deliveryAt = deliveryAfter(supplier, orderBy);
  let next = firstOn(supplier.orderDays, addDays(orderBy, 1));
  // Orders of two days may come with one delivery: the one after it is meant.
  for (let step = 0; step < LONGEST && deliveryAfter(supplier, next) <= deliveryAt; step += 1)
    next = firstOn(supplier.orderDays, addDays(next, 1));
  return { orderBy, deliveryAt, coversUntil: deliveryAfter(supplier, next) };
}

/** The nights from one date to the day before another: what a delivery in the day brings is there for its own night. */
export function nightsBetween(from: string, until: string): string[] {
  const nights: string[] = [];
  for (let date = from; date < until && nights.length < LONGEST; date = addDays(date, 1)) nights.push(date);
  return nights;
}

const fullDays = ['monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday'];

/** "sat", "tomorrow", "2026-12-31": the next day of that name, from today on; null when the text is none. */
export function dayNamed(text: string, today: string): string | null {
  const word = foldText(text);
  if (isDate(text.trim())) return text.trim();
  if (word === 'tomorrow') return addDays(today, 1);
  const at = word.length < 3 ? -1 : fullDays.findIndex((day) => day.startsWith(word));
  return at < 0 ? null : addDays(today, (at - weekdayOf(today) + 7) % 7);
}
