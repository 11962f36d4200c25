// The 86 list: items that no longer give a drink, and the specs that go with each. Follows from the books, so it keeps
// itself up to date.

import { specsInUse } from '../catalogue/catalogue.ts';
import type { Item } from '../catalogue/item.ts';
import type { Spec } from '../catalogue/spec.ts';
import { needsOf, specLines } from '../drink/measures.ts';
import { type Books, usableByItem } from '../ledger/books.ts';

export type OutItem = {
  readonly item: Item;
  /** Expected now, thousandths of the unit; below zero when more was poured than the books knew of. */
  readonly left: number;
  /** Nothing that needs it can be poured; else it is only too little for some. */
  readonly isOut: boolean;
  /** Never counted and never delivered: the books cannot know. */
  readonly isUnknown: boolean;
  /** Specs that cannot be poured for want of it. */
  readonly specs: readonly Spec[];
};

/** Items that stop at least one spec; those that stop most first. */
export function outList(books: Books): OutItem[] {
  const expected = usableByItem(books);
  const needs = new Map<string, { item: Item; stopped: Spec[]; users: number }>();
  for (const spec of specsInUse(books)) {
    const lines = specLines(spec, books);
    if (!lines.ok) continue;
    for (const [id, amount] of needsOf(lines.value)) {
      const item = books.items.get(id);
      if (item === undefined) continue;
      const need = needs.get(item.id) ?? { item, stopped: [], users: 0 };
      need.users += 1;
      if ((expected.get(item.id) ?? 0) < amount) need.stopped.push(spec);
      needs.set(item.id, need);
    }
  }
  return [...needs.values()]
    .filter(({ stopped }) => stopped.length > 0)
    .map(({ item, stopped, users }) => ({
      item,
      left: expected.get(item.id) ?? 0,
      isOut: stopped.length === users,
      isUnknown: !expected.has(item.id),
      specs: stopped,
    }))
    .sort((a, b) => b.specs.length - a.specs.length || (a.item.name < b.item.name ? -1 : 1));
}
