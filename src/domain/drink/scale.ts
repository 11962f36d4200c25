// A card for many drinks, or for a volume to fill: amounts, the water a batch needs, what to fetch, what does not scale.

import type { Item } from '../catalogue/item.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { ratio, roundRatio } from '../value/ratio.ts';
import type { DrinkFigures } from './drink.ts';

export type Scaling =
  | { readonly kind: 'times'; readonly times: number }
  /** So many ml in the bottle, water included when there is any. */
  | { readonly kind: 'volume'; readonly targetMl: number };

export type ScaledLine = {
  readonly item: Item;
  /** Thousandths of the item's unit. */
  readonly amount: number;
  /** Whole containers to fetch, rounded up. */
  readonly containers: number;
};

export type Batch = {
  readonly times: number;
  readonly lines: readonly ScaledLine[];
  /** Water that stands for the ice, ml; 0 without. */
  readonly waterMl: number;
  readonly waterUncertaintyMl: number;
  readonly totalMl: number;
  readonly warnings: readonly string[];
};

const LARGEST_BATCH_ML = 1_000_000;

/**
 * Scales a drink. With water, the dilution of its method is added, so that the batch is served without ice work.
 * Amounts round half to even once a line. Refused when water is asked of a drink no formula fits.
 */
export function scaleDrink(figures: DrinkFigures, scaling: Scaling, withWater: boolean): Result<Batch> {
  const { dilution } = figures;
  if (withWater && dilution === null) {
    return refuse(
      'no-dilution',
      'No published formula gives the water of this method and strength. Leave the water out, or measure it once.',
    );
  }
  const waterEach = withWater && dilution !== null ? dilution.addedMl : 0;
  const each = figures.volumeMl + waterEach;
  const times = scaling.kind === 'times' ? scaling.times : each === 0 ? 0 : scaling.targetMl / each;
  if (!(times > 0) || each * times > LARGEST_BATCH_ML) {
    return refuse(
      'bad-batch',
      'A batch is more than nothing and at most 1000 litres. Give another number or volume.',
    );
  }
  // Six decimals are far below a microlitre for any batch allowed here.
  const exact = ratio(BigInt(Math.round(times * 1_000_000)), 1_000_000n);
  const lines = figures.lines.map(({ item, amount }) => {
    const scaled = roundRatio(ratio(BigInt(amount) * exact.num, exact.den));
    return { item, amount: scaled, containers: Math.ceil(scaled / item.size) };
  });
  return done({
    times,
    lines,
    waterMl: waterEach * times,
    waterUncertaintyMl: withWater && dilution !== null ? dilution.addedUncertaintyMl * times : 0,
    totalMl: each * times,
    warnings: warningsOf(figures, times),
  });
}

function warningsOf(figures: DrinkFigures, times: number): string[] {
  if (times <= 1) return [];
  const warnings: string[] = [];
  for (const { measure, item } of figures.lines) {
    if (['dash', 'drop', 'splash', 'rinse'].includes(measure.unit)) {
      warnings.push(`${item.name}: a ${measure.unit} does not scale; start with half of the sum and taste`);
    } else if (item.kind === 'egg')
      warnings.push(`${item.name}: egg does not keep in a batch; add it glass by glass, on the day`);
    else if (item.kind === 'juice')
      warnings.push(`${item.name}: juice turns within a day; batch without it, or for tonight only`);
    else if (measure.unit === 'top') warnings.push(`${item.name}: top at the glass, not in the batch`);
    else if (['leaf', 'sprig'].includes(measure.unit))
      warnings.push(`${item.name}: herbs go in glass by glass`);
  }
  return [...new Set(warnings)];
}
