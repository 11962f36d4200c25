// Giving an item, a card or a person another name; taking an item or a card out of use and bringing it back. Each is written anew under
// the id it has, so its past stays its own and every report knows it.
import type { Item } from '../catalogue/item.ts';
import { itemNames } from '../catalogue/item.ts';
import { type Spec, specNames } from '../catalogue/spec.ts';
import { type Books, placesOf } from '../ledger/books.ts';
import type { EventDraft } from '../ledger/event.ts';
import { findItem, findPerson, findSpec } from '../search/find.ts';
import { nearestNames } from '../search/nearest.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { clean, firstUnsafe, foldText } from '../value/text.ts';
import { intendItem, intendSpec } from './intend-house.ts';
import { checkPlace } from './intend-stock.ts';

export type Changeable = 'item' | 'spec' | 'person' | 'place';

/** The old name is kept as another name, so that the till and a hand that knows it still find it. */
export function intendRename(
  books: Books,
  what: Changeable,
  old: string,
  name: string,
): Result<EventDraft[]> {
  const next = name.trim().replace(/\s+/g, ' ');
  if (next === '' || next.length > 60 || firstUnsafe(next) !== null)
    return refuse('bad-name', 'A name is 1 to 60 plain characters. Write it without control characters.');
  if (what === 'place') return renamePlace(books, old, name);
  if (what === 'person') return renamePerson(books, old, next);
  if (what === 'item') {
    const item = findItem(books, old);
    if (!item.ok) return item;
    const clash = nameOwner(books.items.values(), itemNames, next, item.value.id);
    return clash === null ? write({ item: renamed(item.value, next) }) : taken(next, clash);
  }
  const spec = findSpec(books, old);
  if (!spec.ok) return spec;
  const clash = nameOwner(books.specs.values(), specNames, next, spec.value.id);
  return clash === null ? write({ spec: renamed(spec.value, next) }) : taken(next, clash);
}

function renamed<T extends { readonly name: string; readonly also: readonly string[] }>(
  thing: T,
  name: string,
): T {
  const also = [...thing.also, thing.name].filter((one) => foldText(one) !== foldText(name));
  return { ...thing, name, also: [...new Set(also)] };
}

/** Its counts, its stock and its past go with it. A name that another place has is refused: two shelves are not one. */
function renamePlace(books: Books, old: string, name: string): Result<EventDraft[]> {
  const places = placesOf(books);
  const from = places.find((place) => foldText(place) === foldText(old));
  if (from === undefined) {
    const near = nearestNames(old, places);
    return refuse(
      'unknown-place',
      `No place is called "${clean(old).slice(0, 40)}". ${near.length > 0 ? `Near it: ${near.join(', ')}.` : `They are ${places.join(', ')}.`}`,
    );
  }
  const to = checkPlace(name);
  if (!to.ok) return to;
  if (to.value === from) return done([]);
  const clash = places.find((place) => foldText(place) === foldText(to.value) && place !== from);
  return clash === undefined
    ? done([{ kind: 'place-renamed', shift: null, by: null, from, to: to.value }])
    : taken(to.value, 'another place; move what stands there instead');
}

function renamePerson(books: Books, old: string, name: string): Result<EventDraft[]> {
  const person = findPerson(books, old);
  if (!person.ok) return person;
  const clash = [...books.people.values()].find(
    (one) => one.id !== person.value.id && foldText(one.name) === foldText(name),
  );
  if (clash !== undefined) return taken(name, clash.name);
  return done([{ kind: 'person-added', shift: null, by: null, person: person.value.id, name }]);
}

function nameOwner<T extends { readonly id: string; readonly name: string }>(
  things: Iterable<T>,
  namesOf: (thing: T) => readonly string[],
  name: string,
  own: string,
): string | null {
  for (const thing of things)
    if (thing.id !== own && namesOf(thing).some((one) => foldText(one) === foldText(name))) return thing.name;
  return null;
}

const taken = (name: string, owner: string): Result<never> =>
  refuse('double-name', `The name "${clean(name)}" belongs to ${clean(owner)}. Give another.`);

/** Out of use, or back; what is so already records nothing. */
export function intendRetire(
  books: Books,
  what: 'item' | 'spec',
  name: string,
  isBack: boolean,
): Result<EventDraft[]> {
  if (what === 'item') {
    const item = findItem(books, name);
    if (!item.ok) return item;
    return setRetired(item.value, isBack, (one) => intendItem(books, one));
  }
  const spec = findSpec(books, name);
  return spec.ok ? setRetired(spec.value, isBack, (one) => intendSpec(books, one)) : spec;
}

function setRetired<T extends Item | Spec>(
  thing: T,
  isBack: boolean,
  written: (thing: T) => Result<EventDraft[]>,
): Result<EventDraft[]> {
  if ((thing.retired === true) !== isBack) return done([]);
  const { retired: _, ...rest } = thing;
  return written((isBack ? rest : { ...rest, retired: true }) as T);
}

const write = (thing: { readonly item: Item } | { readonly spec: Spec }): Result<EventDraft[]> =>
  done([
    'item' in thing
      ? { kind: 'item-written', shift: null, by: null, item: thing.item }
      : { kind: 'spec-written', shift: null, by: null, spec: thing.spec },
  ]);
