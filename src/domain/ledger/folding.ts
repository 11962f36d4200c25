// Books while they are being folded: plain copies, each map copied once before its first change.
import type { Books } from './books.ts';

type Mutable<T> = { -readonly [K in keyof T]: T[K] };
/** Books being folded: records are replaced and never changed; a map is copied before the first change of it. */
export type Draft = Mutable<Books> & { readonly owned: Set<MapName> };
type MapName =
  | 'settings'
  | 'items'
  | 'specs'
  | 'people'
  | 'stock'
  | 'habit'
  | 'tallies'
  | 'bought'
  | 'tillNames'
  | 'eyes'
  | 'miseEdits'
  | 'miseTicks';
type MapOf<N extends MapName> = Books[N] extends ReadonlyMap<infer K, infer V> ? Map<K, V> : never;

/** The draft's own copy of a map: what nobody changed keeps its identity, so that indexes made from it stay good. */
export function own<N extends MapName>(draft: Draft, name: N): MapOf<N> {
  if (!draft.owned.has(name)) {
    draft.owned.add(name);
    draft[name] = new Map(draft[name] as ReadonlyMap<never, never>) as never;
  }
  return draft[name] as unknown as MapOf<N>;
}

export const draftOf = (books: Books): Draft => ({ ...books, owned: new Set() });

/** The books as they are now; the draft goes on with copies. */
export function booksOf(draft: Draft): Books {
  const { owned, ...books } = draft;
  owned.clear();
  return books;
}
