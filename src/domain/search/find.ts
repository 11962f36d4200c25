// From what a person typed to the thing they mean. A name nobody knows is refused with the nearest ones.

import type { Catalogue, Person } from '../catalogue/catalogue.ts';
import { amountFor, amountIn, splitContainers } from '../catalogue/container-words.ts';
import { type Item, itemNames } from '../catalogue/item.ts';
import { type Spec, specNames } from '../catalogue/spec.ts';
import { splitSigned } from '../catalogue/units.ts';
import type { Thousandths } from '../value/amount.ts';
import { numberDoubt } from '../value/number.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { clean, foldText } from '../value/text.ts';
import { nearestNames } from './nearest.ts';

/** A beginning that fits one name only is enough, from three letters on: of things and of people. */
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

/** "1 bottle of rye", "2 cases dry gin"; null where the words after it name nothing, or no container is spoken of. */
function amountInContainers(
  catalogue: Catalogue,
  text: string,
): Result<{ readonly item: Item; readonly amount: Thousandths }> | null {
  const held = splitContainers(text);
  const item = held === null || held.rest === '' ? null : findItem(catalogue, held.rest);
  if (held === null || item === null || !item.ok) return null;
  const amount = amountIn(held, item.value);
  return amount.ok ? done({ item: item.value, amount: amount.value }) : amount;
}

/** "50 ml dry gin", and "-2 egg white" where less has a meaning: how much of which item. `example` is what to write instead. */
export function findAmount(
  catalogue: Catalogue,
  text: string,
  { example, signed = false }: { readonly example: string; readonly signed?: boolean },
): Result<{ readonly item: Item; readonly amount: Thousandths }> {
  const held = amountInContainers(catalogue, text);
  if (held !== null) return held;
  const split = splitSigned(text, catalogue.house);
  if (split === null || split.rest === '' || (!signed && /^\s*[-−+]/.test(text)))
    return refuse(
      'bad-amount',
      numberDoubt(text) ?? `"${clean(text).slice(0, 60)}" is not an amount of an item. Write ${example}.`,
    );
  const item = findItem(catalogue, split.rest);
  if (!item.ok) return item;
  const amount = amountFor(item.value, split);
  if (amount !== null) return done({ item: item.value, amount });
  const unit = item.value.unit === 'each' ? 'pieces' : item.value.unit;
  return refuse('other-unit', `${item.value.name} is kept in ${unit}. Give the amount in that unit.`);
}
