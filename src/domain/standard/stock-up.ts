// How much to have and how much to order: published formulas of stock control. Amounts are in any one unit, days in days; nothing here
// knows the books. Stevenson, Operations Management, 14th ed., ch. 12, and Taylor, Introduction to Management Science, ch. 16 (published,
// seen second-hand); the periodic review from memory of both.
import { normalQuantile } from './normal.ts';

/**
 * Reorder point under continuous review: demand of the lead time and z of its deviation. `deviation` is of one day's demand, `leadDays`
 * its standard deviation in `leadDeviation` where it varies.
 */
export function reorderPoint(given: {
  readonly mean: number;
  readonly deviation: number;
  readonly leadDays: number;
  readonly z: number;
  readonly leadDeviation?: number;
}): number {
  const { mean, deviation, leadDays, z, leadDeviation = 0 } = given;
  return mean * leadDays + z * Math.sqrt(leadDays * deviation ** 2 + mean ** 2 * leadDeviation ** 2);
}

/** Target of a periodic review: what the covered days take, and z of its deviation. `demand` is the sum over these days. */
export const reviewTarget = (demand: number, deviation: number, days: number, z: number): number =>
  demand + z * deviation * Math.sqrt(days);

/** What is short of a target, in whole cases of `size`; none when nothing is short (our rule). */
export function casesFor(
  target: number,
  onHand: number,
  onOrder: number,
  size: number,
): { readonly need: number; readonly cases: number } {
  const need = Math.max(0, target - onHand - onOrder);
  // A rest of nothing but rounding is no case more.
  return { need, cases: Math.max(0, Math.ceil(need / size - 1e-9)) };
}

/** Economic order quantity: yearly demand, cost of an order, cost of holding one for a year. */
export const economicOrder = (demand: number, order: number, holding: number): number =>
  Math.sqrt((2 * demand * order) / holding);

/** The chance of not running out that is worth it: what one too few costs against what one too many does. */
export const criticalRatio = (tooFew: number, tooMany: number): number => tooFew / (tooFew + tooMany);

/**
 * A normal quantile for what is skewed, as demand is that can double and can't fall below nothing: the first term of Cornish & Fisher
 * (Revue de l'Institut International de Statistique 5, 1938; from memory).
 */
export const skewedQuantile = (z: number, skewness: number): number => z + ((z * z - 1) * skewness) / 6;

/** Newsvendor, demand normal, or skewed by so much: so much that the chance of enough is `chance`. */
export const newsvendor = (mean: number, deviation: number, chance: number, skewness = 0): number =>
  mean + deviation * skewedQuantile(normalQuantile(chance), skewness);

/**
 * Simple exponential smoothing (Hyndman & Athanasopoulos, Forecasting: Principles and Practice, 2nd ed. 2018, 7.1; published, seen
 * second-hand): the level before each value, and after the last, which is the forecast of all that follow.
 */
export function smoothed(
  values: readonly number[],
  alpha: number,
  start: number,
): { readonly fitted: readonly number[]; readonly level: number } {
  const fitted: number[] = [];
  let level = start;
  for (const value of values) {
    fitted.push(level);
    level = alpha * value + (1 - alpha) * level;
  }
  return { fitted, level };
}

/** Root mean square of what a smoothing missed by; null for fewer than two values. */
export function residualDeviation(values: readonly number[], fitted: readonly number[]): number | null {
  if (values.length < 2) return null;
  const sum = values.reduce((all, value, at) => all + (value - (fitted[at] ?? value)) ** 2, 0);
  return Math.sqrt(sum / values.length);
}

/**
 * Weekday indices: mean of each weekday over the mean of all (multiplicative). Seven values, from the day the first value is of; a
 * weekday without a value, and a series of nothing, have index 1.
 */
export function weekdayIndices(
  values: readonly { readonly weekday: number; readonly value: number }[],
): number[] {
  const mean = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0) / list.length;
  const all = mean(values.map(({ value }) => value));
  return Array.from({ length: 7 }, (_, weekday) => {
    const own = values.filter((one) => one.weekday === weekday).map(({ value }) => value);
    return own.length === 0 || !(all > 0) ? 1 : mean(own) / all;
  });
}

/**
 * Intermittent demand after Croston (Forecasting: Principles and Practice, 12.2; published, seen second-hand): size and interval smoothed
 * apart, from their first values. It has no stochastic model, so no interval follows from it. Null where nothing was ever taken.
 */
export function croston(
  values: readonly number[],
  alpha: number,
): { readonly size: number; readonly interval: number; readonly mean: number } | null {
  const sizes: number[] = [];
  const intervals: number[] = [];
  let last = -1;
  values.forEach((value, at) => {
    if (value <= 0) return;
    sizes.push(value);
    intervals.push(at - last);
    last = at;
  });
  const [size, interval] = [sizes, intervals].map(
    (list) => smoothed(list.slice(1), alpha, list[0] ?? 0).level,
  );
  if (sizes.length === 0 || size === undefined || interval === undefined) return null;
  return { size, interval, mean: size / interval };
}
