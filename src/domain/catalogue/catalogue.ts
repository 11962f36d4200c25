// What the house is, for all that reads a card and nothing else: its settings, items, specs and people.
import type { ItemId, PersonId, SpecId } from '../value/ids.ts';
import type { House } from './house.ts';
import type { Item } from './item.ts';
import type { Spec } from './spec.ts';

export type Person = { readonly id: PersonId; readonly name: string; readonly here: boolean };

export type Catalogue = {
  readonly house: House;
  readonly items: ReadonlyMap<ItemId, Item>;
  readonly specs: ReadonlyMap<SpecId, Spec>;
  readonly people: ReadonlyMap<PersonId, Person>;
};
