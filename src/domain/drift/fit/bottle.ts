// One item over its counts as numbers to calculate with: what is missing, who poured, which reading is shared with which.
import type { ItemId, SpecId } from '../../value/ids.ts';
import { type Band, factorBand, type Vector } from './band.ts';

/** How far a reading (by its number) and a stretch's own scatter are widened: 1 as they are, very large when passed over. */
export type Widths = { readonly reading: Vector; readonly own: Vector };

/** By how much the spread of this item's readings and of its own scatter exceeds the least they can have. */
export type Scale = { readonly reading: number; readonly own: number };

/** Amounts in units (ml). Stretch t runs from reading `from[t]` to reading `to[t]`; neighbours that follow share one. */
export type Bottle = {
  readonly id: ItemId;
  readonly method: 'tenths' | 'ml' | 'grams' | 'pieces';
  readonly group: string;
  readonly size: number;
  /** The night each stretch ended on, as an index into the shifts looked at. */
  readonly night: Int32Array;
  readonly missing: Vector;
  readonly poured: Vector;
  /** By person, in the order of the people. */
  readonly by: readonly Vector[];
  readonly bySpec: ReadonlyMap<SpecId, Vector>;
  /** What one drink of a card takes of it. */
  readonly perDrink: ReadonlyMap<SpecId, number>;
  readonly from: Int32Array;
  readonly to: Int32Array;
  /** Least variance of each reading, and who counted (an index; −1 for nobody known). */
  readonly reading: Vector;
  readonly counter: Int32Array;
  /** Least variance of a stretch by itself: scatter of its pours, and of a density. */
  readonly own: Vector;
};

export const asTheyAre = (bottle: Bottle): Widths => ({
  reading: new Float64Array(bottle.reading.length).fill(1),
  own: new Float64Array(bottle.own.length).fill(1),
});

/** Variance below which nothing is believed, in square units: an exact count must not outvote everything. */
const LEAST = 1;

export function readingVariance(bottle: Bottle, scale: Scale, widths: Widths, index: number): number {
  return (
    Math.max(LEAST, (bottle.reading[index] as number) * scale.reading) * (widths.reading[index] as number)
  );
}

export function ownVariance(bottle: Bottle, scale: Scale, widths: Widths, t: number): number {
  return Math.max(LEAST, (bottle.own[t] as number) * scale.own) * (widths.own[t] as number);
}

/** Variances and covariances of what is missing: two readings and the stretch's own scatter; neighbours share −u². */
export function bandOf(bottle: Bottle, scale: Scale, widths: Widths): Band {
  const size = bottle.missing.length;
  const diagonal = new Float64Array(size);
  const beside = new Float64Array(size);
  for (let t = 0; t < size; t += 1) {
    const first = readingVariance(bottle, scale, widths, bottle.from[t] as number);
    const last = readingVariance(bottle, scale, widths, bottle.to[t] as number);
    diagonal[t] = first + last + ownVariance(bottle, scale, widths, t);
    if (t > 0 && bottle.from[t] === bottle.to[t - 1]) beside[t] = -first;
  }
  return factorBand(diagonal, beside);
}
