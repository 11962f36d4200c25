// Drift of one item over its counts: a one-sided CUSUM of what is missing against its own known ±, and since when.
// Tonight's closing count is tomorrow's opening count, so neighbouring stretches share a reading: over several nights only
// the first and the last reading count (they telescope).

import type { House } from '../catalogue/house.ts';
import type { Item } from '../catalogue/item.ts';
import { pourVariance } from '../count/variance.ts';
import { addAmounts, type Period, type ShiftBooks } from '../ledger/books.ts';
import { cusumAbove, ewma } from '../standard/charts.ts';
import type { Drawer, Pourer } from '../value/ids.ts';

/** One item between two counts, all its places together. Amounts in thousandths of the unit, variances in their squares. */
export type Stretch = {
  readonly shift: string;
  readonly date: string;
  readonly missing: number;
  readonly poured: number;
  readonly fromVariance: number;
  readonly toVariance: number;
  /** What is this stretch's own: scatter of its pours, and of a density. */
  readonly ownVariance: number;
  /** It starts at the very count the stretch before ended with. */
  readonly follows: boolean;
  readonly by: ReadonlyMap<Pourer, number>;
  readonly bySpec: ReadonlyMap<Drawer, number>;
};

/** The stretches of one item over shifts, oldest first. Places counted in a shift are added up. */
export function stretchesOf(shifts: readonly ShiftBooks[], item: Item, house: House): Stretch[] {
  const stretches: Stretch[] = [];
  let ended = new Set<string>();
  for (const shift of shifts) {
    const periods = shift.periods.filter((period) => period.item === item.id);
    if (periods.length === 0) continue;
    const follows = periods.every(
      (period) =>
        ended.has(period.from.event) || periods.some((other) => other.to.event === period.from.event),
    );
    stretches.push({ ...sumUp(periods, item, house), shift: shift.id, date: shift.date, follows });
    ended = new Set(periods.map((period) => period.to.event));
  }
  return stretches;
}

type Sum = Omit<Stretch, 'shift' | 'date' | 'follows'>;

function sumUp(periods: readonly Period[], item: Item, house: House): Sum {
  const total: { -readonly [K in keyof Sum]: Sum[K] } = {
    missing: 0,
    poured: 0,
    fromVariance: 0,
    toVariance: 0,
    ownVariance: 0,
    by: new Map(),
    bySpec: new Map(),
  };
  for (const { from, to, flows } of periods) {
    const expected =
      from.amount + flows.received + flows.movedIn - flows.movedOut - flows.poured - flows.lost;
    total.missing += expected - to.amount;
    total.poured += flows.poured;
    // A reading inside the shift is an end of one stretch and a start of the next: it cancels.
    if (!periods.some((other) => other.to.event === from.event)) total.fromVariance += from.deviation ** 2;
    if (!periods.some((other) => other.from.event === to.event)) total.toVariance += to.deviation ** 2;
    total.ownVariance +=
      flows.pours * pourVariance(item, house) + (from.densityDeviation - to.densityDeviation) ** 2;
    total.by = addAmounts(total.by, flows.by);
    total.bySpec = addAmounts(total.bySpec, flows.bySpec);
  }
  return total;
}

/** Nights before any trend is named: our decision, after a simulation (`npm run bench -- drift`). */
export const ENOUGH_COUNTS = 8;

export type ChartSetting = { readonly k: number; readonly h: number; readonly reading: 'eye' | 'measured' };

/**
 * k and h by the way the item is read. By eye nearly all the scatter is the bounded error of two readings, so the textbook
 * k = 0.5 would never see a small drift: k = 0.25, h = 3. Weighed or measured, pour scatter rules: k = 0.5, h = 5.
 */
export function chartSetting(stretches: readonly Stretch[]): ChartSetting {
  const readings = stretches.reduce((sum, each) => sum + each.fromVariance + each.toVariance, 0);
  const own = stretches.reduce((sum, each) => sum + each.ownVariance, 0);
  return readings > 3 * own ? { k: 0.25, h: 3, reading: 'eye' } : { k: 0.5, h: 5, reading: 'measured' };
}

export type DriftChart = ChartSetting & {
  /** Standardised: missing over its own standard uncertainty. */
  readonly z: readonly number[];
  readonly cusum: readonly number[];
  readonly line: readonly number[];
  readonly state: 'not-enough-counts' | 'steady' | 'drifting';
  /** Index of the first stretch of the run that stands above the limit; null when none does. */
  readonly onset: number | null;
};

export const deviationOf = (stretch: Stretch): number =>
  Math.sqrt(stretch.fromVariance + stretch.toVariance + stretch.ownVariance);

/** z = missing / u; 0 when nothing is missing of what is counted exactly, and a wide step when something is. */
function standardised(stretch: Stretch): number {
  const u = deviationOf(stretch);
  if (u > 0) return stretch.missing / u;
  return stretch.missing === 0 ? 0 : Math.sign(stretch.missing) * 4;
}

/** The chart of one item. With fewer than eight counts it says only that. */
export function driftChart(stretches: readonly Stretch[]): DriftChart {
  const setting = chartSetting(stretches);
  const z = stretches.map(standardised);
  const cusum = cusumAbove(z, 0, setting.k);
  const line = ewma(z, 0, 0.2);
  const last = cusum.at(-1) ?? 0;
  const isOut = last > setting.h;
  if (stretches.length < ENOUGH_COUNTS)
    return { ...setting, z, cusum, line, state: 'not-enough-counts', onset: null };
  return {
    ...setting,
    z,
    cusum,
    line,
    state: isOut ? 'drifting' : 'steady',
    onset: isOut ? cusum.lastIndexOf(0) + 1 : null,
  };
}

export type Telescoped = {
  readonly missing: number;
  readonly poured: number /** k = 2 */;
  readonly uncertainty: number;
  readonly nights: number;
};

/** Several stretches as one: readings in between cancel where one follows the other. */
export function telescope(stretches: readonly Stretch[]): Telescoped {
  let [missing, poured, variance] = [0, 0, 0];
  stretches.forEach((stretch, index) => {
    missing += stretch.missing;
    poured += stretch.poured;
    variance += stretch.ownVariance;
    if (index === 0 || !stretch.follows) variance += stretch.fromVariance;
    if (stretches[index + 1]?.follows !== true) variance += stretch.toVariance;
  });
  return { missing, poured, uncertainty: 2 * Math.sqrt(variance), nights: stretches.length };
}
