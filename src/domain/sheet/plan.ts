// What a spreadsheet would write into the books: what is new, what changes, what is the same, and what is wrong with it.
import { itemParts } from '../card/card-changes.ts';
import type { Catalogue } from '../catalogue/catalogue.ts';
import type { Item } from '../catalogue/item.ts';
import type { Supplier } from '../catalogue/supplier.ts';
import { canonicalJson } from '../value/canonical.ts';
import type { Problem } from '../value/problem.ts';
import type { Doubt, SheetItems } from './rows.ts';

export type Plan = {
  readonly fresh: readonly Item[];
  readonly suppliers: readonly Supplier[];
  readonly changed: readonly { readonly line: number; readonly says: string }[];
  readonly same: number;
  readonly doubts: readonly Doubt[];
  readonly problems: readonly Problem[];
};

export function planOf({ items, suppliers, doubts, problems }: SheetItems, catalogue: Catalogue): Plan {
  const known = items.flatMap(({ item, line }) => {
    const before = catalogue.items.get(item.id);
    return before === undefined ? [] : [{ line, before, item }];
  });
  const changed = known.filter(({ before, item }) => canonicalJson(before) !== canonicalJson(item));
  return {
    fresh: items.flatMap(({ item }) => (catalogue.items.has(item.id) ? [] : [item])),
    changed: changed.map(({ line, before, item }) => ({
      line,
      says: `${before.name}: ${itemParts(before, item, catalogue)
        .map(({ what, from, to }) => `${what} ${from === '' ? 'none' : from} → ${to === '' ? 'none' : to}`)
        .join(', ')}`,
    })),
    suppliers,
    same: known.length - changed.length,
    doubts,
    problems,
  };
}
