// What a bartender asks of a list of drinks: `with rye`, `no egg`, `under 15%`, `over 20%`, `in stock`. Taken out of what is
// typed; the rest is searched for.

import type { Catalogue } from '../catalogue/catalogue.ts';
import { type Item, itemNames } from '../catalogue/item.ts';
import type { Spec } from '../catalogue/spec.ts';
import { memoBy } from '../value/memo.ts';
import { foldText } from '../value/text.ts';
import { drinkFigures } from './drink.ts';
import { drinksLeft, specLines } from './measures.ts';

export type SpecFilter =
  | { readonly kind: 'with' | 'without'; readonly word: string }
  | { readonly kind: 'under' | 'over'; readonly percent: number }
  | { readonly kind: 'in-stock' };

const patterns: readonly (readonly [RegExp, (found: RegExpExecArray) => SpecFilter])[] = [
  [/\bin stock\b/i, () => ({ kind: 'in-stock' })],
  [
    /\b(under|below|over|above)\s+(\d{1,2}(?:[.,]\d)?)\s*%/i,
    ([, word = '', percent = '0']) => ({
      kind: /under|below/i.test(word) ? 'under' : 'over',
      percent: Number(percent.replace(',', '.')),
    }),
  ],
  [
    /\b(with|no|without)\s+(\p{L}[\p{L}-]*(?:\s+(?:juice|syrup|white|wine|vermouth|liqueur))?)/iu,
    ([, word = '', item = '']) => ({ kind: /^with$/i.test(word) ? 'with' : 'without', word: foldText(item) }),
  ],
];

/** Filters out of what was typed, and what is left to search for. */
export function splitFilters(text: string): { rest: string; filters: SpecFilter[] } {
  const filters: SpecFilter[] = [];
  let rest = text;
  for (const [pattern, make] of patterns) {
    for (let found = pattern.exec(rest); found !== null; found = pattern.exec(rest)) {
      filters.push(make(found));
      rest = `${rest.slice(0, found.index)} ${rest.slice(found.index + found[0].length)}`;
    }
  }
  return { rest: rest.replace(/\s+/g, ' ').trim(), filters };
}

/** Whether a spec passes every filter. Strength is as served where a formula gives it, else as measured. */
export function passes(
  spec: Spec,
  filters: readonly SpecFilter[],
  catalogue: Catalogue,
  expected: ReadonlyMap<string, number>,
): boolean {
  return filters.every((filter) => {
    if (filter.kind === 'in-stock') return (drinksLeft(spec, catalogue, expected) ?? 0) > 0;
    if (filter.kind === 'with' || filter.kind === 'without')
      return holds(spec, filter.word, catalogue) === (filter.kind === 'with');
    const limit = filter as Extract<SpecFilter, { kind: 'under' | 'over' }>;
    const percent = strengthOf(spec, catalogue);
    return limit.kind === 'under' ? percent < limit.percent : percent > limit.percent;
  });
}

/** Kept for each state of the catalogue: a filter asks it of every spec with every letter. */
const strengthOf = memoBy(
  (spec: Spec, { items, house }: Catalogue) => [spec, items, house],
  (spec, catalogue): number => {
    const figures = drinkFigures(spec, catalogue);
    if (!figures.ok) return 0;
    return figures.value.dilution?.finalAbvPercent ?? figures.value.abvPercent ?? 0;
  },
);

const foldedNames = memoBy(
  (item: Item) => [item],
  (item): readonly string[] => itemNames(item).map((name) => ` ${foldText(name)}`),
);

/** Whether an item of the spec answers to a word: by the start of a word of its names, or by its kind. */
function holds(spec: Spec, word: string, catalogue: Catalogue): boolean {
  const lines = specLines(spec, catalogue);
  if (!lines.ok) return false;
  return lines.value.some(
    ({ item }) => item.kind === word || foldedNames(item).some((name) => name.includes(` ${word}`)),
  );
}
