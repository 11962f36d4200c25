// What the house is, for all that reads a card and nothing else: its settings, items, specs and people.
import type { ItemId, PersonId, SpecId, SupplierId } from '../value/ids.ts';
import { foldText } from '../value/text.ts';
import type { House } from './house.ts';
import type { Item } from './item.ts';
import { isPrepCard, type PrepCard, type Spec } from './spec.ts';
import type { Supplier } from './supplier.ts';

export type Person = { readonly id: PersonId; readonly name: string; readonly here: boolean };

export type Catalogue = {
  readonly house: House;
  readonly items: ReadonlyMap<ItemId, Item>;
  readonly specs: ReadonlyMap<SpecId, Spec>;
  readonly people: ReadonlyMap<PersonId, Person>;
  readonly suppliers: ReadonlyMap<SupplierId, Supplier>;
};

/** Cards that are poured now; a retired one is only remembered. */
export const specsInUse = ({ specs }: Pick<Catalogue, 'specs'>): Spec[] =>
  [...specs.values()].filter((spec) => spec.retired !== true && !isPrepCard(spec));

/** Cards that make an item, in use. */
export const prepCards = ({ specs }: Pick<Catalogue, 'specs'>): PrepCard[] =>
  [...specs.values()].filter(isPrepCard).filter(({ retired }) => retired !== true);

/** What is out of use and called so, or begins so: its name, for whoever looks for it. Null for none. */
export function retiredName(
  { specs, items }: Pick<Catalogue, 'specs' | 'items'>,
  text: string,
): string | null {
  const wanted = foldText(text);
  const gone = [...specs.values(), ...items.values()].find(
    ({ name, retired }) => retired === true && wanted !== '' && foldText(name).startsWith(wanted),
  );
  return gone?.name ?? null;
}

/** Items that are stocked now. */
export const itemsInUse = ({ items }: Pick<Catalogue, 'items'>): Item[] =>
  [...items.values()].filter(({ retired }) => retired !== true);
