// From what a person typed to the thing they mean. A name nobody knows is refused with the nearest ones.

import { type Item, itemNames } from '../catalogue/item.ts';
import { type Spec, specNames } from '../catalogue/spec.ts';
import type { Books, Person } from '../ledger/books.ts';
import type { PersonId } from '../value/ids.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { clean } from '../value/text.ts';
import { foldText, nearestNames } from './search.ts';

/** A beginning that fits one name only is enough, from three letters on; people are always named in full. */
const SHORTEST_BEGINNING = 3;

function findNamed<T extends { readonly name: string }>(
  kind: string,
  things: Iterable<T>,
  names: (thing: T) => readonly string[],
  text: string,
  all: string,
): Result<T> {
  const wanted = foldText(text);
  const list = [...things];
  const exact = list.filter((thing) =>
    names(thing).some((name) => name === text.trim().toLowerCase() || foldText(name) === wanted),
  );
  const [only] = exact;
  if (only !== undefined && wanted !== '') return done(only);
  const begun =
    wanted.length < SHORTEST_BEGINNING
      ? []
      : list.filter((thing) => names(thing).some((name) => foldText(name).startsWith(wanted)));
  if (begun.length === 1 && begun[0] !== undefined) return done(begun[0]);
  const near =
    begun.length > 1
      ? begun.slice(0, 3).map((thing) => thing.name)
      : nearestNames(
          text,
          list.map((thing) => thing.name),
        );
  const remedy = near.length > 0 ? `Near it: ${near.join(', ')}.` : all;
  return refuse(`unknown-${kind}`, `No ${kind} is called "${clean(text).slice(0, 60)}". ${remedy}`);
}

export const findItem = (books: Books, text: string): Result<Item> =>
  findNamed('item', books.items.values(), itemNames, text, 'Run ullage items to see what is stocked.');

export const findSpec = (books: Books, text: string): Result<Spec> =>
  findNamed('spec', books.specs.values(), specNames, text, 'Run ullage specs to see what is poured.');

export const personNames = (person: Person): string[] => [person.id, person.name];

export function findPerson(books: Books, text: string): Result<Person> {
  const here = [...books.people.values()].filter((person) => person.here);
  return findNamed('person', here, personNames, text, 'Add them with ullage people add NAME.');
}

export const personName = (books: Books, id: PersonId | null): string | null =>
  id === null ? null : (books.people.get(id)?.name ?? id);

/** Every place the house knows: where items live and where stock stands. */
export function placesOf(books: Books): string[] {
  const places = new Set<string>();
  for (const item of books.items.values()) places.add(item.place);
  for (const stock of books.stock.values()) places.add(stock.place);
  return [...places];
}
