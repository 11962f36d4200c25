// What a part of a round may mean, likeliest first: a drink with its changes, or a straight measure.

import type { Catalogue } from '../catalogue/catalogue.ts';
import type { Item } from '../catalogue/item.ts';
import type { Spec } from '../catalogue/spec.ts';
import { itemIndex, specIndex } from '../search/house-search.ts';
import type { PourPart } from '../search/pour-text.ts';
import { beginsName, NEAR, searchScored } from '../search/search.ts';
import type { ItemId } from '../value/ids.ts';
import { applyChanges } from './changes.ts';
import { lineOf } from './measures.ts';
import { passing, splitFilters } from './spec-filter.ts';

export type Choice = {
  /** Nothing is called so: it only comes near, and a second key must say that it is meant. */
  readonly isNear: boolean;
} & (
  | { readonly kind: 'spec'; readonly spec: Spec; readonly changes: readonly string[] }
  | { readonly kind: 'straight'; readonly item: Item; readonly amount: number; readonly text: string }
);

export type Likely = {
  /** How much a drink is poured: tonight, and lately. */
  readonly weight: (spec: Spec) => number;
  readonly expected: () => ReadonlyMap<ItemId, number>;
};

export function choicesOf(part: PourPart, catalogue: Catalogue, likely: Likely): Choice[] {
  if (part.measure !== null) return straightChoices(part, part.measure, catalogue);
  const left = withoutItem(part, catalogue, likely);
  if (left.length > 0) return left;
  const isName = beginsName(specIndex(catalogue), part.text);
  const { rest, filters } = isName ? { rest: part.text, filters: [] } : splitFilters(part.text);
  const found = searchScored(specIndex(catalogue), rest, likely.weight);
  const isWanted = filters.length === 0 ? () => true : passing(filters, catalogue, likely.expected());
  return found
    .filter(({ value }) => isWanted(value))
    .map(({ value, score }) => ({
      kind: 'spec',
      spec: value,
      changes: part.changes,
      isNear: score >= NEAR,
    }));
}

/** "door no egg": a drink that is called so and has it, without it. Nothing for "no egg" alone, which filters the list. */
function withoutItem(part: PourPart, catalogue: Catalogue, likely: Likely): Choice[] {
  const said = /^(.*\S)\s+(?:no|without)\s+(\S.*)$/iu.exec(part.text);
  const [, name = '', item = ''] = said ?? [];
  if (said === null || !beginsName(specIndex(catalogue), name)) return [];
  const changes = [...part.changes, `-${item}`];
  return searchScored(specIndex(catalogue), name, likely.weight)
    .filter(({ value, score }) => score < NEAR && applyChanges(catalogue, value, changes).ok)
    .map(({ value }) => ({ kind: 'spec', spec: value, changes, isNear: false }));
}

/** What is kept in another kind of unit is none: there is no pouring 20 ml of eggs, but there is of limes that give juice. */
function straightChoices(
  { text }: PourPart,
  { quantity, unit }: NonNullable<PourPart['measure']>,
  catalogue: Catalogue,
): Choice[] {
  return searchScored(itemIndex(catalogue), text, () => 0).flatMap(({ value: item, score }): Choice[] => {
    const line = lineOf({ quantity, unit, item: item.id }, catalogue);
    if (!line.ok) return [];
    return [
      {
        kind: 'straight',
        item,
        amount: line.value.amount,
        text: `${quantity} ${unit}`,
        isNear: score >= NEAR,
      },
    ];
  });
}
