// Books while they are being folded: plain copies, each map copied once before its first change.
import type { Books } from './books.ts';

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
