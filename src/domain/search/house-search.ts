// What can be typed for a spec and for an item of this house; the indexes are kept as long as the catalogue is the same.

import type { Catalogue } from '../catalogue/catalogue.ts';
import type { Item } from '../catalogue/item.ts';
import type { Spec } from '../catalogue/spec.ts';
import { type Index, indexOf } from './search.ts';

/** Specs are found by the names of their items too, so an index is good for one state of both. */
const specIndexes = new WeakMap<
  Catalogue['specs'],
  { readonly items: Catalogue['items']; readonly index: Index<Spec> }
>();
const itemIndexes = new WeakMap<Catalogue['items'], Index<Item>>();

export function specIndex(catalogue: Catalogue): Index<Spec> {
  const known = specIndexes.get(catalogue.specs);
  if (known?.items === catalogue.items) return known.index;
  const index = indexOf(
    [...catalogue.specs.values()].map((spec) => ({
      value: spec,
      names: [spec.name, ...spec.also],
      words: [
        spec.family,
        spec.glass,
        ...spec.tags,
        ...spec.measures.flatMap((measure) => itemWords(catalogue, measure.item)),
      ],
    })),
  );
  specIndexes.set(catalogue.specs, { items: catalogue.items, index });
  return index;
}

function itemWords(catalogue: Catalogue, id: Spec['measures'][number]['item']): string[] {
  const item = catalogue.items.get(id);
  return item === undefined ? [id] : [item.name, ...item.also];
}

export function itemIndex(catalogue: Catalogue): Index<Item> {
  const known = itemIndexes.get(catalogue.items);
  if (known !== undefined) return known;
  const index = indexOf(
    [...catalogue.items.values()].map((item) => ({
      value: item,
      names: [item.name, ...item.also],
      words: [item.kind, item.place],
    })),
  );
  itemIndexes.set(catalogue.items, index);
  return index;
}
