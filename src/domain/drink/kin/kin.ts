// Kin: specs that differ from one another by a single measure, and what can be made without an item.

import { type Catalogue, specsInUse } from '../../catalogue/catalogue.ts';
import type { Spec } from '../../catalogue/spec.ts';
import type { ItemId } from '../../value/ids.ts';
import { drinkFigures } from '../drink.ts';
import { drinksLeft, type Measured, specLines } from '../measures.ts';

/** How two specs differ: what one has and the other has not, amounts in thousandths of the unit. */
export type Difference =
  | { readonly kind: 'swapped'; readonly from: Measured; readonly to: Measured }
  | { readonly kind: 'resized'; readonly from: Measured; readonly to: Measured }
  | { readonly kind: 'added'; readonly to: Measured }
  | { readonly kind: 'left-out'; readonly from: Measured };

export type Kin = { readonly spec: Spec; readonly difference: Difference };

/** Amounts within this share count as the same measure: 22.5 and 20 ml are one jigger poured by two hands. */
const SAME_SHARE = 0.15;

/** Specs that are this one with a single measure changed, added or left out. */
export function kinOf(spec: Spec, catalogue: Catalogue): Kin[] {
  const own = specLines(spec, catalogue);
  if (!own.ok) return [];
  return specsInUse(catalogue).flatMap((other) => {
    if (other.id === spec.id) return [];
    const lines = specLines(other, catalogue);
    const difference = lines.ok ? singleDifference(own.value, lines.value) : null;
    return difference === null ? [] : [{ spec: other, difference }];
  });
}

function singleDifference(a: readonly Measured[], b: readonly Measured[]): Difference | null {
  const resized: Difference[] = [];
  const left = [...b];
  const alone: Measured[] = [];
  for (const line of a) {
    const index = left.findIndex(({ item }) => item.id === line.item.id);
    const match = left[index];
    if (match === undefined) {
      alone.push(line);
      continue;
    }
    left.splice(index, 1);
    // Of the larger of the two, so that kin is kin from both sides.
    if (Math.abs(match.amount - line.amount) > SAME_SHARE * Math.max(match.amount, line.amount))
      resized.push({ kind: 'resized', from: line, to: match });
  }
  if (resized.length + Math.max(alone.length, left.length) !== 1) return null;
  const [from] = alone;
  const [to] = left;
  if (from !== undefined && to !== undefined) return { kind: 'swapped', from, to };
  if (to !== undefined) return { kind: 'added', to };
  return from !== undefined ? { kind: 'left-out', from } : (resized[0] ?? null);
}

/** Drinks in stock that stand nearest to one that can't be made: by family, shared items, strength, sweetness and acid. */
export function nearestWithout(
  spec: Spec,
  missing: ItemId,
  catalogue: Catalogue,
  expected: ReadonlyMap<ItemId, number>,
): { spec: Spec; distance: number; left: number }[] {
  const figures = drinkFigures(spec, catalogue);
  if (!figures.ok) return [];
  return specsInUse(catalogue)
    .flatMap((other) => {
      const its = drinkFigures(other, catalogue);
      if (!its.ok || other.id === spec.id || its.value.lines.some(({ item }) => item.id === missing))
        return [];
      const left = drinksLeft(other, catalogue, expected) ?? 0;
      if (left === 0) return [];
      const items = new Set(figures.value.lines.map(({ item }) => item.id));
      const shared =
        its.value.lines.filter(({ item }) => items.has(item.id)).length / Math.max(1, items.size);
      const gap = (a: number, b: number, scale: number): number => Math.min(1, Math.abs(a - b) / scale);
      const distance =
        (other.family === spec.family ? 0 : 1) +
        (1 - shared) +
        gap(figures.value.abvPercent ?? 0, its.value.abvPercent ?? 0, 20) +
        gap(figures.value.sugarGrams, its.value.sugarGrams, 20) +
        gap(figures.value.acidGrams, its.value.acidGrams, 1.5);
      return [{ spec: other, distance, left }];
    })
    .sort((a, b) => a.distance - b.distance)
    .slice(0, 6);
}
