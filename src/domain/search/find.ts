// From what a person typed to the thing they mean. A name nobody knows is refused with the nearest ones.

import type { Catalogue, Person } from '../catalogue/catalogue.ts';
import { type Item, itemNames } from '../catalogue/item.ts';
import { type Spec, specNames } from '../catalogue/spec.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { clean, foldText } from '../value/text.ts';
import { nearestNames } from './search.ts';

/** A beginning that fits one name only is enough, from three letters on; people are always named in full. */
const SHORTEST_BEGINNING = 3;

/** Where all of them are listed: by a command, and in the rooms. */
type Remedy = { readonly command: string; readonly rooms: string };

function findNamed<T extends { readonly name: string }>(
  kind: string,
  things: Iterable<T>,
  names: (thing: T) => readonly string[],
  text: string,
  all: Remedy,
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
  const said = `No ${kind} is called "${clean(text).slice(0, 60)}".`;
  const known = near.length > 0 ? `Near it: ${near.join(', ')}.` : null;
  return refuse(`unknown-${kind}`, `${said} ${known ?? all.command}`, 65, `${said} ${known ?? all.rooms}`);
}

/** `also`: other names to find it by, after its own. */
export function findItem(
  catalogue: Catalogue,
  text: string,
  also: (item: Item) => readonly string[] = () => [],
): Result<Item> {
  const help = {
    command: 'Run ullage items to see what is stocked.',
    rooms: 'The Book room lists what is stocked.',
  };
  const own = findNamed('item', catalogue.items.values(), itemNames, text, help);
  if (own.ok) return own;
  const wanted = foldText(text);
  const other = [...catalogue.items.values()].find((item) =>
    also(item).some((name) => foldText(name) === wanted),
  );
  return other === undefined ? own : done(other);
}

export const findSpec = (catalogue: Catalogue, text: string): Result<Spec> =>
  findNamed('spec', catalogue.specs.values(), specNames, text, {
    command: 'Run ullage specs to see what is poured.',
    rooms: 'The Book room lists what is poured.',
  });

export const personNames = (person: Person): string[] => [person.id, person.name];

export function findPerson(catalogue: Catalogue, text: string): Result<Person> {
  const here = [...catalogue.people.values()].filter((person) => person.here);
  return findNamed('person', here, personNames, text, {
    command: 'Add them with ullage people add NAME.',
    rooms: 'The Book room lists who works here.',
  });
}
