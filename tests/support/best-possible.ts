// The best that anybody could do with the same counts: least squares with the true variances, slips put right, the planted fault known.

import type { Stretch } from '../../src/domain/drift/drift.ts';
import { blockOf } from '../../src/domain/drift/fit/block.ts';
import type { Bottle } from '../../src/domain/drift/fit/bottle.ts';
import type { Cause } from '../../src/domain/drift/fit/causes.ts';
import { type SeasonFit, solveSeason } from '../../src/domain/drift/fit/season-fit.ts';
import { unmarked } from '../../src/domain/drift/fit/slips.ts';
import type { Season } from './worlds.ts';

const WIDTH = { tenths: 0.1, ml: 10, grams: 1, pieces: 1 } as const;

/** The same bottle as it truly is: slips taken out, variances as the world made them. */
export function trueBottle(
  bottle: Bottle,
  season: Season,
  people: readonly string[],
  slipOfReading: readonly number[],
): Bottle {
  const { world, bar, pourDeviation } = season;
  const share = WIDTH[bottle.method] / Math.sqrt(12);
  const reading =
    bottle.method === 'tenths'
      ? bottle.size ** 2 * (share ** 2 + (world.grows ? 4 / 3 : 1) * world.eye ** 2 + world.bias ** 2)
      : bottle.method === 'ml'
        ? share ** 2 + (world.eye > 0 ? 9 : 0)
        : 1.2;
  const missing = bottle.missing.map(
    (value, t) =>
      value +
      (slipOfReading[bottle.to[t] as number] as number) -
      (slipOfReading[bottle.from[t] as number] as number),
  );
  const own = bottle.own.map((_, t) => {
    const poured = bottle.poured[t] as number;
    const one = 35;
    const pours = people.reduce(
      (sum, name, person) =>
        sum +
        (((bottle.by[person] as Float64Array)[t] as number) / one) *
          (pourDeviation[bar.people.indexOf(name)] as number) ** 2,
      0,
    );
    return pours + world.unlogged * poured * one;
  });
  return { ...bottle, missing, own, reading: bottle.reading.map(() => reading) };
}

/** Slips of the readings of an item in the order of its bottle. */
export function slipsOf(
  season: Season,
  stretches: readonly Stretch[],
  item: string,
  bottle: Bottle,
): number[] {
  const out = new Array<number>(bottle.reading.length).fill(0);
  stretches.forEach((stretch, t) => {
    const shift = season.shifts.find(({ id }) => id === stretch.shift);
    for (const { from, to, item: id } of shift?.periods ?? []) {
      if (id !== item) continue;
      out[bottle.from[t] as number] = season.slips.get(from.event) ?? 0;
      out[bottle.to[t] as number] = season.slips.get(to.event) ?? 0;
    }
  });
  return out;
}

export function bestFit(bottles: readonly Bottle[], people: number, causes: readonly Cause[]): SeasonFit {
  const layout = { people, counters: [], causes };
  const blocks = bottles.map((bottle) =>
    blockOf({ bottle, scale: { reading: 1, own: 1 }, marks: unmarked(bottle) }, layout),
  );
  return solveSeason(blocks, layout, { level: 0.25, each: 0, counter: 1e-6, loose: 0.25 });
}
