// What is replaced when a card or an item is written anew: line by line, in the card's own words, so that nothing goes unseen.

import type { Catalogue } from '../catalogue/catalogue.ts';
import type { Item } from '../catalogue/item.ts';
import type { Spec } from '../catalogue/spec.ts';
import { cellsOf, itemColumns } from './item-card.ts';
import { writeItemLines } from './item-lines.ts';
import { writeCard } from './spec-card.ts';

/** "− 22 ml lemon juice", "+ 20 ml lemon juice"; nothing where nothing changes. */
export const specChanges = (before: Spec, after: Spec, catalogue: Catalogue): string[] =>
  lineChanges(writeCard(before, catalogue), writeCard(after, catalogue));

export const itemChanges = (before: Item, after: Item, catalogue: Catalogue): string[] =>
  lineChanges(writeItemLines(before, catalogue), writeItemLines(after, catalogue));

/** One thing that changes: a line of the card by what it is called, what stood there and what stands there now. */
export type PartChange = { readonly what: string; readonly from: string; readonly to: string };

export const itemParts = (before: Item, after: Item, catalogue: Catalogue): PartChange[] =>
  partChanges(cellsByName(before, catalogue), cellsByName(after, catalogue));

const cellsByName = (item: Item, catalogue: Catalogue): ReadonlyMap<string, string> =>
  new Map(cellsOf(item, catalogue).map((cell, at) => [itemColumns[at] ?? '', cell]));

/** Measures go by the item they are of. */
export const specParts = (before: Spec, after: Spec, catalogue: Catalogue): PartChange[] =>
  partChanges(linesByName(before, catalogue), linesByName(after, catalogue));

function linesByName(spec: Spec, catalogue: Catalogue): ReadonlyMap<string, string> {
  const [head = '', ...rows] = writeCard(spec, catalogue).trimEnd().split('\n');
  const parts = new Map([['name', head.replace(/^#\s*/, '')]]);
  const measures = rows.filter((row) => !/^[a-z]+:/.test(row));
  for (const row of rows) {
    const [, name, value] = /^([a-z]+):\s*(.*)$/.exec(row) ?? [];
    if (name !== undefined) parts.set(name, value ?? '');
  }
  measures.forEach((row, at) => {
    const item = spec.measures[at]?.item ?? row;
    const text = row.replace(/\s+/g, ' ').trim();
    const known = parts.get(item);
    parts.set(item, known === undefined ? text : `${known}; ${text}`);
  });
  return parts;
}

function partChanges(before: ReadonlyMap<string, string>, after: ReadonlyMap<string, string>): PartChange[] {
  return [...new Set([...before.keys(), ...after.keys()])]
    .map((what) => ({ what, from: before.get(what) ?? '', to: after.get(what) ?? '' }))
    .filter(({ from, to }) => from !== to);
}

/** Rows that are gone and rows that are new. */
export function lineChanges(before: string, after: string): string[] {
  const [from, to] = [before, after].map((text) =>
    text.split('\n').map((row) => row.replace(/\s+/g, ' ').trim()),
  ) as [string[], string[]];
  return [
    ...from.filter((row) => !to.includes(row)).map((row) => `− ${row}`),
    ...to.filter((row) => !from.includes(row)).map((row) => `+ ${row}`),
  ];
}
