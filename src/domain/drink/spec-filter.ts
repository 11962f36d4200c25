// What a bartender asks of a list of drinks: `with rye`, `no egg`, `under 15%`, `over 20%`, `in stock`. Taken out of what is
// typed; the rest is searched for.

import type { Catalogue } from '../catalogue/catalogue.ts';
import { type Item, itemNames } from '../catalogue/item.ts';
import type { Spec } from '../catalogue/spec.ts';
import type { ItemId } from '../value/ids.ts';
import { memoBy } from '../value/memo.ts';
import { foldText } from '../value/text.ts';
import { allergenNear, allergensAsked, mayHoldAny, silentItems } from './allergens.ts';
import { drinkFigures } from './drink.ts';
import { drinksLeft } from './measures.ts';

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
    /\b(with|no|without)\s+(\p{L}[\p{L}-]*(?:\s+(?:juice|syrup|white|yolk|wine|vermouth|liqueur|nuts?|dioxide|shellfish))?)/iu,
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

/**
 * What passes every filter, as a question to be asked of many specs: what a filter means of each item is looked up once. Strength is as
 * served where a formula gives it, else as measured.
 */
export function passing(
  filters: readonly SpecFilter[],
  catalogue: Catalogue,
  expected: ReadonlyMap<ItemId, number>,
): (spec: Spec) => boolean {
  const tests = filters.map((filter) => testOf(filter, catalogue, expected));
  return (spec) => tests.every((test) => test(spec));
}

export const passes = (
  spec: Spec,
  filters: readonly SpecFilter[],
  catalogue: Catalogue,
  expected: ReadonlyMap<ItemId, number>,
): boolean => passing(filters, catalogue, expected)(spec);

function testOf(
  filter: SpecFilter,
  catalogue: Catalogue,
  expected: ReadonlyMap<ItemId, number>,
): (spec: Spec) => boolean {
  switch (filter.kind) {
    case 'in-stock':
      return (spec) => (drinksLeft(spec, catalogue, expected) ?? 0) > 0;
    case 'with':
      return withWord(filter.word, catalogue);
    case 'without': {
      const [has, may] = [withWord(filter.word, catalogue), mayBeWord(filter.word, catalogue)];
      return (spec) => !has(spec) && !may(spec);
    }
    case 'under':
      return (spec) => strengthOf(spec, catalogue) < filter.percent;
    case 'over':
      return (spec) => strengthOf(spec, catalogue) > filter.percent;
  }
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
function withWord(word: string, catalogue: Catalogue): (spec: Spec) => boolean {
  const asked = allergensAsked(word);
  // "with nuts" asks for the allergen; "with rye" for what stands on the shelf.
  const isItem = asked.length === 0 || isStocked(catalogue, word);
  const ids = idsWhere(catalogue, (item) => (isItem ? answersTo(item, word) : mayHoldAny([item], asked)));
  return ({ measures }) => measures.some(({ item }) => ids.has(item));
}

const idsWhere = ({ items }: Catalogue, is: (item: Item) => boolean): ReadonlySet<ItemId> =>
  new Set([...items.values()].filter(is).map(({ id }) => id));

const answersTo = (item: Item, word: string): boolean =>
  item.kind === word || foldedNames(item).some((name) => name.includes(` ${word}`));
const isStocked = ({ items }: Catalogue, word: string): boolean =>
  [...items.values()].some((item) => answersTo(item, word));

/** What "no …" leaves out: of words that are no allergen together, each alone, so that "no egg juice" still leaves out eggs. */
function avoided(word: string): readonly string[] {
  const together = allergensAsked(word);
  return together.length > 0 ? together : word.split(' ').flatMap(allergensAsked);
}

/**
 * Whether a spec holds an allergen or may, so that "no nuts" leaves out whatever may hold any: what nobody knows, what its names
 * hint at, and what nobody stocks.
 */
function mayBeWord(word: string, catalogue: Catalogue): (spec: Spec) => boolean {
  const asked = avoided(word);
  if (asked.length === 0) return () => false;
  const ids = idsWhere(catalogue, (item) => mayHoldAny([item], asked));
  return ({ measures }) => measures.some(({ item }) => ids.has(item) || !catalogue.items.has(item));
}

/** Whether a filter is about an allergen: "no rye" is, "with rye" asks for what stands on the shelf. */
const isOfAllergen = (
  filter: SpecFilter,
  catalogue: Catalogue,
): filter is Extract<SpecFilter, { word: string }> =>
  filter.kind === 'without'
    ? avoided(filter.word).length > 0
    : filter.kind === 'with' && !isStocked(catalogue, filter.word) && allergensAsked(filter.word).length > 0;

/** A word after "no" that nobody knows left nothing out, and that is said. */
function unknownDoubt(filters: readonly SpecFilter[], catalogue: Catalogue): string | null {
  const unknown = filters.find(
    (filter) =>
      filter.kind === 'without' && avoided(filter.word).length === 0 && !isStocked(catalogue, filter.word),
  );
  if (unknown === undefined || !('word' in unknown)) return null;
  const near = allergenNear(unknown.word);
  return `nobody knows "${unknown.word}", so nothing was left out${near === null ? '' : `; did you mean ${near}?`}`;
}

/** What a filter by an allergen cannot know, for whoever reads its list; null when it asks for none. */
export function filterDoubt(filters: readonly SpecFilter[], catalogue: Catalogue): string | null {
  const unknown = unknownDoubt(filters, catalogue);
  if (unknown !== null) return unknown;
  const asked = filters.flatMap((filter) => (isOfAllergen(filter, catalogue) ? [filter.word] : []));
  if (asked.length === 0) return null;
  const silent = silentItems(catalogue).length;
  return `ask the label of ${asked.join(', ')}: ${silent} of ${catalogue.items.size} items say nothing`;
}
