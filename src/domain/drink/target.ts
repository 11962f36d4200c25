// Which cards a new price moves past the pour cost that the house wants to stay under.
import { type Catalogue, specsInUse } from '../catalogue/catalogue.ts';
import type { Item } from '../catalogue/item.ts';
import type { Spec } from '../catalogue/spec.ts';
import { drinkFigures } from './drink.ts';

export type PastTarget = { readonly spec: Spec; readonly from: number; readonly to: number };

const percentOf = (spec: Spec, catalogue: Catalogue): number | null => {
  const read = drinkFigures(spec, catalogue);
  return read.ok ? read.value.pourCostPercent : null;
};

/** Cards at or under the target before and over it after, dearest share first; none where the house has no target. */
export function movedPast(items: readonly Item[], catalogue: Catalogue): PastTarget[] {
  const target = catalogue.house.targetPercent;
  const dearer = items.filter((item) => catalogue.items.get(item.id)?.costMinor !== item.costMinor);
  if (target === 0 || dearer.length === 0) return [];
  const ids = new Set(dearer.map(({ id }) => id));
  const after = {
    ...catalogue,
    items: new Map([...catalogue.items, ...dearer.map((item) => [item.id, item] as const)]),
  };
  return specsInUse(catalogue)
    .filter(({ measures }) => measures.some(({ item }) => ids.has(item)))
    .flatMap((spec) => {
      const [from, to] = [percentOf(spec, catalogue), percentOf(spec, after)];
      return from !== null && to !== null && from <= target && to > target ? [{ spec, from, to }] : [];
    })
    .sort((a, b) => b.to - a.to);
}

const MOST_NAMED = 5;

/** The same in one sentence; empty where there are none. */
export function pastTargetText(past: readonly PastTarget[], target: number): string {
  if (past.length === 0) return '';
  const named = past.slice(0, MOST_NAMED).map(({ spec, to }) => `${spec.name} ${to.toFixed(1)} %`);
  const more = past.length > named.length ? ` and ${past.length - named.length} more` : '';
  return `Past the target of ${target} % by this price: ${named.join(', ')}${more}.`;
}
