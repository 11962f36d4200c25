// What changes of the house, its people, its shifts and its log would record, or why they can't.

import { checkSetting } from '../catalogue/house.ts';
import type { Item } from '../catalogue/item.ts';
import type { Spec } from '../catalogue/spec.ts';
import type { Books } from '../ledger/books.ts';
import type { EventDraft } from '../ledger/event.ts';
import { findPerson } from '../search/find.ts';
import { canonicalJson } from '../value/canonical.ts';
import { type PersonId, slugOf } from '../value/ids.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { clean, firstUnsafe } from '../value/text.ts';

export function intendSetting(books: Books, key: string, value: string): Result<EventDraft[]> {
  const checked = checkSetting(key, value);
  if (!checked.ok) return checked;
  if (firstUnsafe(value) !== null)
    return refuse(
      'bad-setting',
      `${key} holds a control character (${firstUnsafe(value)}). Write it plainly.`,
    );
  if (books.settings.get(key) === checked.value.value) return done([]);
  const hasMoney =
    [...books.items.values()].some((item) => item.costMinor !== null) ||
    [...books.specs.values()].some((spec) => spec.priceMinor !== null);
  if (key === 'currency' && hasMoney && value.trim() !== books.house.currency) {
    return refuse(
      'currency-in-use',
      `The books hold costs and prices in ${books.house.currency} already. Begin new books with --data for another currency.`,
    );
  }
  return done([{ kind: 'house-set', shift: null, by: null, ...checked.value }]);
}

export function intendPersonAdded(books: Books, text: string): Result<EventDraft[]> {
  const name = text.trim().replace(/\s+/g, ' ');
  if (name === '' || name.length > 60 || firstUnsafe(name) !== null) {
    return refuse('bad-name', 'A name is 1 to 60 plain characters. Write it without control characters.');
  }
  const same = [...books.people.values()].find((person) => person.name.toLowerCase() === name.toLowerCase());
  if (same?.here)
    return refuse(
      'known-person',
      `${clean(name)} already works here. Add a letter to tell two people apart.`,
    );
  const person = same?.id ?? freeId(books, name);
  return done([{ kind: 'person-added', shift: null, by: null, person, name }]);
}

function freeId(books: Books, name: string): PersonId {
  const base = slugOf(name).slice(0, 50);
  let id = base;
  for (let next = 2; books.people.has(id as PersonId); next += 1) id = `${base}-${next}`;
  return id as PersonId;
}

export function intendPersonLeft(books: Books, text: string): Result<EventDraft[]> {
  const person = findPerson(books, text);
  if (!person.ok) return person;
  return done([{ kind: 'person-left', shift: null, by: null, person: person.value.id }]);
}

/** Writes an item or a spec; writing the same again records nothing. */
export function intendItem(books: Books, item: Item): EventDraft[] {
  const before = books.items.get(item.id);
  return before !== undefined && sameRecord(before, item)
    ? []
    : [{ kind: 'item-written', shift: null, by: null, item }];
}

export function intendSpec(books: Books, spec: Spec): EventDraft[] {
  const before = books.specs.get(spec.id);
  return before !== undefined && sameRecord(before, spec)
    ? []
    : [{ kind: 'spec-written', shift: null, by: null, spec }];
}

const sameRecord = (a: object, b: object): boolean => canonicalJson(a) === canonicalJson(b);
