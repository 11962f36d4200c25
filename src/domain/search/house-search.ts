// What can be typed for a spec and for an item of this house; the indexes are kept as long as the catalogue is the same.

import { type Catalogue, itemsInUse, specsInUse } from '../catalogue/catalogue.ts';
import type { Item } from '../catalogue/item.ts';
import type { Spec } from '../catalogue/spec.ts';
import type { ItemId } from '../value/ids.ts';
import { memoBy } from '../value/memo.ts';
import { type Index, indexOf } from './search.ts';

/** Specs are found by the names of their items too, so an index is good for one state of both. */
export const specIndex = memoBy(
  ({ specs, items }: Catalogue) => [specs, items],
  (catalogue): Index<Spec> =>
    indexOf(
      specsInUse(catalogue).map((spec) => ({
        value: spec,
        names: [spec.name, ...spec.also],
        words: [
          spec.family,
          spec.glass,
          ...spec.tags,
          ...spec.measures.flatMap((measure) => itemWords(catalogue, measure.item)),
        ],
      })),
    ),
);

function itemWords(catalogue: Catalogue, id: ItemId): string[] {
  const item = catalogue.items.get(id);
  return item === undefined ? [id] : [item.name, ...item.also];
}

/** "lime juice" means limes where no juice is stocked under that name: they stand after what is really called so. */
export const yieldNames = (item: Item): string[] =>
  (item.yields ?? []).flatMap(({ of }) => [item.name, ...item.also].map((name) => `${name} ${of}`));

export const itemIndex = memoBy(
  ({ items }: Catalogue) => [items],
  ({ items }): Index<Item> =>
    indexOf(
      itemsInUse({ items }).map((item) => ({
        value: item,
        names: [item.name, ...item.also, ...yieldNames(item)],
        words: [item.kind, item.place],
      })),
    ),
);
