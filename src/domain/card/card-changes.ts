// What is replaced when a card or an item is written anew: line by line, in the card's own words, so that nothing goes unseen.

import type { Catalogue } from '../catalogue/catalogue.ts';
import type { Item } from '../catalogue/item.ts';
import type { Spec } from '../catalogue/spec.ts';
import { writeItemLines } from './item-lines.ts';
import { writeCard } from './spec-card.ts';

/** "− 22 ml lemon juice", "+ 20 ml lemon juice"; nothing where nothing changes. */
export const specChanges = (before: Spec, after: Spec, catalogue: Catalogue): string[] =>
  lineChanges(writeCard(before, catalogue), writeCard(after, catalogue));

export const itemChanges = (before: Item, after: Item, catalogue: Catalogue): string[] =>
  lineChanges(writeItemLines(before, catalogue), writeItemLines(after, catalogue));

function lineChanges(before: string, after: string): string[] {
  const [from, to] = [before, after].map((text) =>
    text.split('\n').map((row) => row.replace(/\s+/g, ' ').trim()),
  ) as [string[], string[]];
  return [
    ...from.filter((row) => !to.includes(row)).map((row) => `− ${row}`),
    ...to.filter((row) => !from.includes(row)).map((row) => `+ ${row}`),
  ];
}
