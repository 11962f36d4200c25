// Books while they are being folded: plain copies, each map copied once before its first change.
import type { ItemId } from '../value/ids.ts';
import type { Books, Stock } from './books.ts';
import { noFlows } from './stock/flows.ts';

type Mutable<T> = { -readonly [K in keyof T]: T[K] };
/** Books being folded: records are replaced and never changed; a map is copied before the first change of it. */
export type Folding = Mutable<Books> & { readonly owned: Set<object> };

/** The folding's own copy of a map: what nobody changed keeps its identity, so that indexes made from it stay good. */
export function own<K, V>({ owned }: Folding, map: ReadonlyMap<K, V>): Map<K, V> {
  if (map instanceof Map && owned.has(map)) return map;
  const copy = new Map(map);
  owned.add(copy);
  return copy;
}

export const foldingOf = (books: Books): Folding => ({ ...books, owned: new Set() });

/** The books as they are now; the folding goes on with copies. */
export function booksOf(folding: Folding): Books {
  const { owned, ...books } = folding;
  owned.clear();
  return books;
}

/** A place where nothing has been yet. */
export const newStock = (item: ItemId, place: string): Stock => ({
  item,
  place,
  amount: 0,
  sealed: 0,
  open: [],
  counted: null,
  period: null,
  before: null,
  flows: noFlows,
  total: noFlows,
  first: null,
  found: 0,
});
