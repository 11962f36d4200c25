// The pages of the Book and how they are found: by a name, by a part of the book, or by being out of use.

import { itemsInUse, type Person } from '../../domain/catalogue/catalogue.ts';
import { settingValues } from '../../domain/catalogue/house.ts';
import type { Item } from '../../domain/catalogue/item.ts';
import type { Spec } from '../../domain/catalogue/spec.ts';
import type { Supplier } from '../../domain/catalogue/supplier.ts';
import { type Books, placesOf } from '../../domain/ledger/books.ts';
import { itemIndex, specIndex } from '../../domain/search/house-search.ts';
import { searchIndex } from '../../domain/search/search.ts';
import { memoBy } from '../../domain/value/memo.ts';
import { foldText } from '../../domain/value/text.ts';

export type Page =
  | { readonly kind: 'spec'; readonly name: string; readonly spec: Spec }
  | { readonly kind: 'item'; readonly name: string; readonly item: Item }
  | { readonly kind: 'person'; readonly name: string; readonly person: Person }
  | { readonly kind: 'supplier'; readonly name: string; readonly supplier: Supplier }
  | { readonly kind: 'place'; readonly name: string; readonly lives: readonly Item[] }
  | { readonly kind: 'setting'; readonly name: string; readonly value: string; readonly says: string };

/** A part of the book by its name. */
const parts: readonly { readonly word: RegExp; readonly kind: Page['kind'] | 'retired' }[] = [
  { word: /^specs$/, kind: 'spec' },
  { word: /^items$/, kind: 'item' },
  { word: /^people$/, kind: 'person' },
  { word: /^suppliers$/, kind: 'supplier' },
  { word: /^places$/, kind: 'place' },
  { word: /^settings$/, kind: 'setting' },
  { word: /^retired$/, kind: 'retired' },
];

/** What is out of use: found by that word alone, so that it can be brought back. */
export const retiredPages = (books: Books): readonly Page[] => [
  ...[...books.specs.values()]
    .filter(({ retired }) => retired === true)
    .map((spec): Page => ({ kind: 'spec', name: spec.name, spec })),
  ...[...books.items.values()]
    .filter(({ retired }) => retired === true)
    .map((item): Page => ({ kind: 'item', name: item.name, item })),
  ...[...books.suppliers.values()]
    .filter(({ retired }) => retired === true)
    .map((supplier): Page => ({ kind: 'supplier', name: supplier.name, supplier })),
  ...[...books.people.values()]
    .filter(({ here }) => !here)
    .map((person): Page => ({ kind: 'person', name: person.name, person })),
];

export const partNamed = (query: string): Page['kind'] | 'retired' | undefined =>
  parts.find(({ word }) => word.test(foldText(query)))?.kind;
export const EMPTY_PART = 'None yet. "supplier", "person" or "item" and a name, then ^N, writes one.';

const partOf = (books: Books, kind: Page['kind'] | 'retired'): readonly Page[] =>
  kind === 'retired' ? retiredPages(books) : pagesOf(books, '').filter((page) => page.kind === kind);

export const pagesOf = memoBy(
  (books: Books, query: string) => [books, query],
  (books, query): readonly Page[] => {
    const specs = searchIndex(specIndex(books), query, () => 0).map(
      (spec): Page => ({ kind: 'spec', name: spec.name, spec }),
    );
    const items = searchIndex(itemIndex(books), query, () => 0).map(
      (item): Page => ({ kind: 'item', name: item.name, item }),
    );
    const people = [...books.people.values()]
      .filter((person) => person.here)
      .map((person): Page => ({ kind: 'person', name: person.name, person }));
    const suppliers = [...books.suppliers.values()]
      .filter(({ retired }) => retired !== true)
      .map((supplier): Page => ({ kind: 'supplier', name: supplier.name, supplier }));
    const places = placesOf(books).map((name): Page => {
      const lives = itemsInUse(books).filter((item) => item.place === name);
      return { kind: 'place', name, lives };
    });
    const house = settingValues(books.settings).map(
      ({ key, value, says }): Page => ({ kind: 'setting', name: key, value, says }),
    );
    const wanted = foldText(query);
    const part = partNamed(query);
    if (part !== undefined && query.trim() !== '') return partOf(books, part);
    const all = [
      ...specs,
      ...items,
      ...[...people, ...suppliers, ...places, ...house].filter(({ name }) => foldText(name).includes(wanted)),
    ];
    // What is called so goes before what begins so, and that before what only holds it.
    const rank = ({ name }: Page): number =>
      foldText(name) === wanted ? 0 : foldText(name).startsWith(wanted) ? 1 : 2;
    return wanted === '' ? all : [...all].sort((a, b) => rank(a) - rank(b));
  },
);
