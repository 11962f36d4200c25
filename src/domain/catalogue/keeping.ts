// How long a thing keeps: by the house's own rule, in days with the day of making as the first, or in hours. Counting that day as day one
// is how the FDA Food Code 2022 counts (3-501.17); local rules decide.
import * as z from 'zod/mini';
import {
  addDays,
  businessDate,
  dateText,
  dayClockText,
  epochOf,
  instantOf,
  instantOfWall,
} from '../value/clock-date.ts';
import type { House } from './house.ts';

export const keepsSchema = z.strictObject({
  many: z.int().check(z.minimum(1), z.maximum(1000)),
  unit: z.enum(['days', 'hours']),
});
export type Keeps = z.infer<typeof keepsSchema>;

/** "30 days", "2 weeks", "12 h"; null when it is none of these. */
export function parseKeeps(text: string): Keeps | null {
  const [, many = '', word = ''] = /^\s*(\d{1,4})\s*(weeks?|days?|d|hours?|h)\s*$/i.exec(text) ?? [];
  const number = Number(many) * (/^w/i.test(word) ? 7 : 1);
  if (many === '' || number < 1 || number > 1000) return null;
  return { many: number, unit: /^h/i.test(word) ? 'hours' : 'days' };
}

export const keepsText = ({ many, unit }: Keeps): string =>
  `${many} ${many === 1 ? unit.slice(0, -1) : unit}`;

const clockOf = (hour: number): string => `${String(hour).padStart(2, '0')}:00`;

/** When the business day of a date ends: the cut-off hour of the next one. */
export const endOfDay = (date: string, { zone, cutOffHour }: House): string =>
  instantOfWall(`${addDays(date, 1)} ${clockOf(cutOffHour)}`, zone) ?? `${addDays(date, 2)}T00:00:00.000Z`;

/** The last moment at which what was made, opened or brought then may be used. */
export function discardAfter(keeps: Keeps, at: string, house: House): string {
  if (keeps.unit === 'hours') return instantOf(epochOf(at) + keeps.many * 3_600_000);
  return endOfDay(addDays(businessDate(at, house.zone, house.cutOffHour), keeps.many - 1), house);
}

/** The earliest of some dates; null where none has one. A mixture takes the earliest date of its parts (3-501.17). */
export const earliest = (dates: readonly (string | null)[]): string | null =>
  dates.reduce((first, date) => (date === null || (first !== null && first <= date) ? first : date), null);

/** "Fri 27 Nov" for what lasts to the end of that business day; else with its hour: "Fri 27 Nov 15:00". */
export function dayOrHour(discardAt: string, house: House): string {
  // A moment before, so that the end of a day belongs to that day.
  const date = businessDate(instantOf(epochOf(discardAt) - 1), house.zone, house.cutOffHour);
  if (endOfDay(date, house) === discardAt) return dateText(date);
  return dayClockText(discardAt, house.zone);
}
