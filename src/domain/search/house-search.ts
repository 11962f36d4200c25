// What can be typed for a spec and for an item of this house; the indexes are kept as long as the catalogue is the same.

import type { Item } from '../catalogue/item.ts';
import type { Spec } from '../catalogue/spec.ts';
import type { Books } from '../ledger/books.ts';
import { type Index, indexOf } from './search.ts';

/** Specs are found by the names of their items too, so an index is good for one state of both. */
const specIndexes = new WeakMap<
  Books['specs'],
  { readonly items: Books['items']; readonly index: Index<Spec> }
>();
const itemIndexes = new WeakMap<Books['items'], Index<Item>>();

export function specIndex(books: Books): Index<Spec> {
  const known = specIndexes.get(books.specs);
  if (known?.items === books.items) return known.index;
  const index = indexOf(
    [...books.specs.values()].map((spec) => ({
      value: spec,
      names: [spec.name, ...spec.also],
      words: [
        spec.family,
        spec.glass,
        ...spec.tags,
        ...spec.measures.flatMap((measure) => itemWords(books, measure.item)),
      ],
    })),
  );
  specIndexes.set(books.specs, { items: books.items, index });
  return index;
}

function itemWords(books: Books, id: Spec['measures'][number]['item']): string[] {
  const item = books.items.get(id);
  return item === undefined ? [id] : [item.name, ...item.also];
}

export function itemIndex(books: Books): Index<Item> {
  const known = itemIndexes.get(books.items);
  if (known !== undefined) return known;
  const index = indexOf(
    [...books.items.values()].map((item) => ({
      value: item,
      names: [item.name, ...item.also],
      words: [item.kind, item.place],
    })),
  );
  itemIndexes.set(books.items, index);
  return index;
}
