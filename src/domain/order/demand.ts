// What of each item leaves on which weekday: from what really left between counts where it was counted, else from what was tapped and lost.
// The level by exponential smoothing of the series without its weekdays, the spread from what that missed. Hyndman & Athanasopoulos,
// Forecasting: Principles and Practice, 2nd ed. 2018, 7.1; weekday indices as in common practice (no source).
import type { ShiftBooks } from '../ledger/books.ts';
import { addAmounts, netFlow } from '../ledger/stock/flows.ts';
import { smoothed, weekdayIndices } from '../standard/stock-up.ts';
import { addDays } from '../value/clock-date.ts';
import type { ItemId } from '../value/ids.ts';
import { weekdayOf } from './calendar.ts';

/** So much of each item left in one night, thousandths of its unit. */
export type NightUse = { readonly date: string; readonly used: ReadonlyMap<ItemId, number> };

const ALPHA = 0.1;
/** Fewer nights than two weeks say nothing of a weekday. */
export const ENOUGH_NIGHTS = 12;

/**
 * What left in each sealed night. What a count found missing left in the nights since the count before, as these were tapped. What went
 * into makings is a use of what is bought (`all`), and none of what is made (`poured`): that follows from what is to be made. What was
 * thrown away past its date was wanted by nobody.
 */
export function nightUses(shifts: readonly ShiftBooks[], what: 'all' | 'poured' = 'all'): NightUse[] {
  const nights = shifts.filter(({ sealedAt }) => sealedAt !== null);
  const uses = nights.map(({ date, drawnBy, prepped }) => {
    const tapped = new Map([...drawnBy].map(([item, by]) => [item, sumOf(by.values())]));
    return { date, used: what === 'all' ? addAmounts(tapped, prepped) : tapped };
  });
  nights.forEach((night, at) => {
    for (const { item, from, to, flows } of night.periods) {
      // An improbable reading says nothing of what left.
      if (to.improbable === true || from.improbable === true) continue;
      const lost = flows.lost - (flows.why.expired ?? 0);
      const beyond = from.amount + netFlow(flows) + lost - to.amount;
      const first = nights.findIndex(({ sealedAt }) => (sealedAt ?? '') > from.at);
      spread(uses.slice(Math.max(0, first), at + 1), item, beyond);
    }
  });
  return uses;
}

const sumOf = (amounts: Iterable<number>): number => [...amounts].reduce((sum, amount) => sum + amount, 0);

/** What is beyond the taps goes to the nights in the measure of their taps; to the last where none was tapped. */
function spread(
  nights: readonly { readonly used: Map<ItemId, number> }[],
  item: ItemId,
  beyond: number,
): void {
  const total = nights.reduce((sum, { used }) => sum + (used.get(item) ?? 0), 0);
  const last = nights.at(-1);
  if (last === undefined || beyond === 0) return;
  for (const night of nights) {
    const own = night.used.get(item) ?? 0;
    const share = total > 0 ? own / total : night === last ? 1 : 0;
    // Less than nothing never left.
    night.used.set(item, Math.max(0, own + beyond * share));
  }
}

export type Demand = {
  readonly nights: number;
  /** What a day takes on average of all weekdays at the level of now. */
  readonly meanPerDay: number;
  /** What the forecast of some dates may be off by, as a standard deviation of one of them: times √n it is that of their sum. */
  readonly deviationOver: (dates: readonly string[]) => number;
  /** How far busy nights stand out more than slow ones fall short: skewness of what the forecasts missed by, drawn towards none. */
  readonly skewness: number;
  /** What a date is expected to take. */
  readonly on: (date: string) => number;
};

/** A known day: its night takes so many times the usual. */
export type Expected = ReadonlyMap<string, number>;

/** The demand of one item; null with too few nights. Days without a night took nothing: a house may be closed on Mondays. */
export function demandOf(uses: readonly NightUse[], item: ItemId, expected: Expected): Demand | null {
  const [first, last] = [uses[0]?.date, uses.at(-1)?.date];
  if (uses.length < ENOUGH_NIGHTS || first === undefined || last === undefined) return null;
  const byDate = new Map<string, number>();
  for (const { date, used } of uses) byDate.set(date, (byDate.get(date) ?? 0) + (used.get(item) ?? 0));
  const days: { weekday: number; value: number }[] = [];
  for (let date = first; date <= last; date = addDays(date, 1)) {
    // What was known ahead is taken out of what is usual.
    const factor = expected.get(date) ?? 1;
    if (factor > 0) days.push({ weekday: weekdayOf(date), value: (byDate.get(date) ?? 0) / factor });
  }
  const indices = weekdayIndices(days);
  const indexOf = (weekday: number): number => indices[weekday] ?? 1;
  const open = days
    .filter(({ weekday }) => indexOf(weekday) > 0)
    .map(({ weekday, value }) => ({ weekday, index: indexOf(weekday), plain: value / indexOf(weekday) }));
  const start = open.reduce((sum, { plain }) => sum + plain, 0) / Math.max(1, open.length);
  const { fitted, level } = smoothed(
    open.map(({ plain }) => plain),
    ALPHA,
    start,
  );
  const missed = open.map(({ index, plain }, at) => ({ index, off: plain - (fitted[at] ?? 0) }));
  const spread = spreadOf(missed, new Set(open.map(({ weekday }) => weekday)).size);
  const nightsOf = (date: string): number => open.filter(({ weekday }) => weekday === weekdayOf(date)).length;
  const sizeOf = (date: string): number => indexOf(weekdayOf(date)) * (expected.get(date) ?? 1);
  return {
    nights: uses.length,
    meanPerDay: level * (indices.reduce((a, b) => a + b, 0) / 7),
    on: (date) => level * sizeOf(date),
    skewness: spread.skewness,
    deviationOver: (dates) => {
      // Each night by itself, with what so few of its weekday say of it; and the level, which is off for all of them alike.
      const own = dates.map((date) => spread.of(sizeOf(date)) ** 2 * (1 + 1 / Math.max(1, nightsOf(date))));
      const alike = dates.reduce((sum, date) => sum + sizeOf(date), 0) ** 2 * spread.of(1) ** 2;
      const sum = own.reduce((a, b) => a + b, 0) + (alike * ALPHA) / (2 - ALPHA);
      return Math.sqrt(sum / Math.max(1, dates.length));
    },
  };
}

/** So many nights weigh as much as the presumption that nothing is skewed. */
const FEW = 30;

/** A busy weekday scatters more than a slow one: by the root of its size where chance alone is at work, by its size where all of it swings. */
const POWERS = [0.5, 0.75, 1] as const;

/**
 * The scatter of a night of a given size (1: a middling one), from what the forecasts missed by: of these powers the likeliest under normal
 * errors, with as many degrees of freedom taken off as there are weekdays. Prediction of a new value from n of its kind: s·√(1 + 1/n)
 * (NIST/SEMATECH e-Handbook of Statistical Methods, 2012, from memory).
 */
function spreadOf(
  missed: readonly { readonly index: number; readonly off: number }[],
  weekdays: number,
): { readonly of: (size: number) => number; readonly skewness: number } {
  const all = missed.length;
  const free = Math.max(1, all - weekdays);
  const tried = POWERS.map((power) => {
    const square = missed.reduce((sum, { index, off }) => sum + (off * index ** (1 - power)) ** 2, 0) / free;
    const logs = missed.reduce((sum, { index }) => sum + (power - 1) * Math.log(index), 0);
    return { power, square, cost: (all / 2) * Math.log(square || Number.MIN_VALUE) + logs };
  });
  const { power, square } = tried.reduce((a, b) => (b.cost < a.cost ? b : a));
  const cubes = missed.reduce((sum, { index, off }) => sum + (off * index ** (1 - power)) ** 3, 0);
  const skewness = square > 0 ? cubes / all / square ** 1.5 : 0;
  return {
    of: (size) => (size <= 0 ? 0 : Math.sqrt(square) * size ** power),
    // So few nights say little of a third moment: its own standard error is √(6/n).
    skewness: Math.max(0, Math.min(1, (skewness * all) / (all + FEW))),
  };
}
