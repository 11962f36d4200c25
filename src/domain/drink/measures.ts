// From a spec's measures to amounts of items, by the house's own units. Rounded once per measure.

import type { Catalogue } from '../catalogue/catalogue.ts';
import { type Item, TAP_WATER } from '../catalogue/item.ts';
import type { Measure, Spec } from '../catalogue/spec.ts';
import { amountOf } from '../catalogue/units.ts';
import { LARGEST_AMOUNT, type Thousandths, type Unit } from '../value/amount.ts';
import type { ItemId } from '../value/ids.ts';
import { memoBy } from '../value/memo.ts';
import { storedQuantity } from '../value/number.ts';
import { done, type Problem, type Result, refuse, refuseAll } from '../value/problem.ts';
import { ceilRatio, multiplyRatio, ratio } from '../value/ratio.ts';

export type Measured = { readonly measure: Measure; readonly item: Item; readonly amount: number };

const unitWords: Record<Unit, string> = { ml: 'ml', each: 'pieces', g: 'g' };

/** One measure as an amount of its item; refused when the item is unknown or kept in another kind of unit. */
export function lineOf(measure: Measure, catalogue: Catalogue): Result<Measured> {
  const item = catalogue.items.get(measure.item) ?? (measure.item === TAP_WATER.id ? TAP_WATER : undefined);
  if (item === undefined) {
    return refuse(
      'unknown-item',
      `The item "${measure.item}" is not stocked. Add it with an items file first.`,
    );
  }
  const quantity = storedQuantity(measure.quantity);
  const scaled = quantity === null ? null : amountOf(quantity, measure.unit, catalogue.house);
  if (scaled === null) {
    return refuse(
      'bad-amount',
      `"${measure.quantity} ${measure.unit}" of ${item.name} is not an amount. Write it as 60 ml or 2 dash.`,
    );
  }
  const yielded = fromYield(measure, scaled, item);
  if (yielded === null && scaled.unit !== item.unit) {
    const words = unitWords[item.unit];
    return refuse(
      'other-unit',
      `${item.name} is kept in ${words}, so "${measure.quantity} ${measure.unit}" does not fit. Write it in ${words}.`,
    );
  }
  const amount = yielded ?? scaled.amount;
  if (amount < 1 || amount > LARGEST_AMOUNT || scaled.amount < 1) {
    return refuse(
      'bad-amount',
      `"${measure.quantity} ${measure.unit}" of ${item.name} is out of range. Write between 0.001 ml and 1000 l.`,
    );
  }
  return done({ measure, item, amount });
}

/**
 * A measure of what a piece gives, as an amount of pieces: 22.5 ml of a lime that gives 30 ml is 0.75 of it, a wedge of one
 * that gives 8 is 0.125. Null when the item says nothing of the kind. Rounded up, so that juice is never counted as free.
 */
function fromYield(measure: Measure, scaled: { amount: number; unit: Unit }, item: Item): number | null {
  if (item.unit !== 'each') return null;
  const part = item.yields?.find((entry) => entry.unit === 'each' && entry.of === measure.unit);
  const quantity = part === undefined ? null : storedQuantity(measure.quantity);
  if (part !== undefined && quantity !== null)
    return ceilRatio(multiplyRatio(quantity, ratio(1_000_000, part.amount)));
  const liquid = scaled.unit === 'ml' ? item.yields?.find((entry) => entry.unit === 'ml') : undefined;
  return liquid === undefined ? null : Math.ceil((scaled.amount * 1000) / liquid.amount);
}

/** All measures of a spec; every problem is listed. */
export function linesOf(measures: readonly Measure[], catalogue: Catalogue): Result<readonly Measured[]> {
  const problems: Problem[] = [];
  const lines: Measured[] = [];
  for (const measure of measures) {
    const line = lineOf(measure, catalogue);
    if (line.ok) lines.push(line.value);
    else problems.push(...line.problems);
  }
  return problems.length > 0 ? refuseAll(problems) : done(lines);
}

/** The lines of a spec as it is written; worked out once for each state of the catalogue, because every list asks. */
export const specLines = memoBy(
  (spec: Spec, { items, house }: Catalogue) => [spec, items, house],
  (spec, catalogue): Result<readonly Measured[]> => linesOf(spec.measures, catalogue),
);

/** Everything measured of what is stocked, `times` over: two measures of one item are one, and what comes from the tap is none. */
export function inputsOf(lines: readonly Measured[], times = 1): { item: Item; amount: Thousandths }[] {
  const sums = new Map<ItemId, { item: Item; amount: Thousandths }>();
  for (const { item, amount } of lines)
    if (item !== TAP_WATER)
      sums.set(item.id, { item, amount: (sums.get(item.id)?.amount ?? 0) + amount * times });
  return [...sums.values()];
}

/** The same by item: what one drink needs of each. */
export const needsOf = (lines: readonly Measured[]): Map<ItemId, Thousandths> =>
  new Map(inputsOf(lines).map(({ item, amount }) => [item.id, amount]));

/** How many whole drinks the expected stock still gives; null when a measure cannot be read. */
export function drinksLeft(
  spec: Spec,
  catalogue: Catalogue,
  expected: ReadonlyMap<ItemId, number>,
): number | null {
  const lines = specLines(spec, catalogue);
  if (!lines.ok) return null;
  let left = Number.POSITIVE_INFINITY;
  for (const [item, need] of needsOf(lines.value))
    left = Math.min(left, Math.floor((expected.get(item) ?? 0) / need));
  return Math.max(0, left);
}
