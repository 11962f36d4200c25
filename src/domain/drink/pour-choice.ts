// What a part of a round may mean, likeliest first: a drink with its changes, or a straight measure.

import type { Catalogue } from '../catalogue/catalogue.ts';
import { isSoldWhole } from '../catalogue/container-words.ts';
import { displayAmount, shownIn } from '../catalogue/display.ts';
import type { Item } from '../catalogue/item.ts';
import type { Spec } from '../catalogue/spec.ts';
import { itemIndex, specIndex } from '../search/house-search.ts';
import type { PourPart } from '../search/pour-text.ts';
import { beginsName, NOT_A_NAME, searchScored } from '../search/search.ts';
import type { ItemId } from '../value/ids.ts';
import { applyChanges } from './changes.ts';
import { passing, splitFilters } from './spec-filter.ts';
import { straightAmount } from './straight-measure.ts';

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

/** More drinks than this are not listed: a letter more finds them. */
const MOST = 1000;

export function choicesOf(part: PourPart, catalogue: Catalogue, likely: Likely): Choice[] {
  if (part.measure !== null) return straightChoices(part, part.measure, catalogue);
  const left = withoutItem(part, catalogue, likely);
  if (left.length > 0) return left;
  const isName = beginsName(specIndex(catalogue), part.text);
  const { rest, filters } = isName ? { rest: part.text, filters: [] } : splitFilters(part.text);
  const isWanted = filters.length === 0 ? null : passing(filters, catalogue, likely.expected());
  const found = searchScored(specIndex(catalogue), rest, likely.weight, { most: MOST, isWanted });
  const specs = found.map(({ value, score }): Choice => {
    const isNear = score >= NOT_A_NAME || (rest.trim() === '' && filters.length > 0);
    return { kind: 'spec', spec: value, changes: part.changes, isNear };
  });
  const whole = filters.length > 0 || part.changes.length > 0 ? [] : wholeChoices(rest, catalogue);
  return [...specs.filter(({ isNear }) => !isNear), ...whole, ...specs.filter(({ isNear }) => isNear)];
}

/** What is sold by the bottle and called so: a lager needs no card. */
function wholeChoices(text: string, catalogue: Catalogue): Choice[] {
  if (text.trim() === '') return [];
  return searchScored(itemIndex(catalogue), text, () => 0).flatMap(({ value: item, score }): Choice[] =>
    score < NOT_A_NAME && isSoldWhole(item)
      ? [
          {
            kind: 'straight',
            item,
            amount: item.size,
            text: displayAmount(item.size, shownIn(item), catalogue.house),
            isNear: false,
          },
        ]
      : [],
  );
}

/** "door no egg": a drink that is called so and has it, without it. Nothing for "no egg" alone, which filters the list. */
function withoutItem(part: PourPart, catalogue: Catalogue, likely: Likely): Choice[] {
  const said = /^(.*\S)\s+(?:no|without)\s+(\S.*)$/iu.exec(part.text);
  const [, name = '', item = ''] = said ?? [];
  if (said === null || !beginsName(specIndex(catalogue), name)) return [];
  const changes = [...part.changes, `-${item}`];
  return searchScored(specIndex(catalogue), name, likely.weight)
    .filter(({ value, score }) => score < NOT_A_NAME && applyChanges(catalogue, value, changes).ok)
    .map(({ value }) => ({ kind: 'spec', spec: value, changes, isNear: false }));
}

/** What is kept in another kind of unit is none: there is no pouring 20 ml of eggs, but there is of limes that give juice. */
function straightChoices(
  { text }: PourPart,
  { quantity, unit }: NonNullable<PourPart['measure']>,
  catalogue: Catalogue,
): Choice[] {
  return searchScored(itemIndex(catalogue), text, () => 0).flatMap(({ value: item, score }): Choice[] => {
    const amount = straightAmount(item, { quantity, unit }, catalogue);
    if (!amount.ok) return [];
    return [
      {
        kind: 'straight',
        item,
        amount: amount.value,
        text: isSoldWhole(item)
          ? displayAmount(amount.value, shownIn(item), catalogue.house)
          : `${quantity} ${unit}`,
        isNear: score >= NOT_A_NAME,
      },
    ];
  });
}
