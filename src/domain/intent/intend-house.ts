// What changes of the house, its people, its shifts and its log would record, or why they can't.

import { prepCards } from '../catalogue/catalogue.ts';
import { checkSetting, newHouse } from '../catalogue/house.ts';
import type { Item } from '../catalogue/item.ts';
import type { Spec } from '../catalogue/spec.ts';
import type { Supplier } from '../catalogue/supplier.ts';
import type { Books } from '../ledger/books.ts';
import type { EventDraft } from '../ledger/event.ts';
import { itemsOnCard } from '../ledger/event-names.ts';
import { isCountedInPieces } from '../ledger/stock/containers.ts';
import { findPerson } from '../search/find.ts';
import { canonicalJson } from '../value/canonical.ts';
import { businessDate, dateText, isDate } from '../value/clock-date.ts';
import { type ItemId, type PersonId, slugOf } from '../value/ids.ts';
import { parseDecimal } from '../value/number.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { ratioToNumber } from '../value/ratio.ts';
import { clean, firstUnsafe, foldText } from '../value/text.ts';
import { intendEach } from './intent.ts';

export function intendSetting(books: Books, key: string, value: string): Result<EventDraft[]> {
  const checked = checkSetting(key, value);
  if (!checked.ok) return checked;
  if (firstUnsafe(value) !== null)
    return refuse(
      'bad-setting',
      `${key} holds a control character (${firstUnsafe(value)}). Write it plainly.`,
    );
  if (books.settings.get(key) === checked.value.value) return done([]);
  const currency = key === 'currency' ? checkCurrency(books, value.trim()) : done(null);
  if (!currency.ok) return currency;
  return done([{ kind: 'house-set', shift: null, by: null, ...checked.value }]);
}

/** Costs and prices are kept as numbers of one currency: once there are some, it stays. Null: the one nobody set. */
export function checkCurrency(books: Books, value: string | null): Result<null> {
  const hasMoney =
    [...books.items.values()].some((item) => item.costMinor !== null) ||
    [...books.specs.values()].some((spec) => spec.priceMinor !== null);
  const wanted = value ?? newHouse.currency;
  if (!hasMoney || wanted === books.house.currency) return done(null);
  return refuse(
    'currency-in-use',
    `The books hold costs and prices in ${books.house.currency} already. Begin new books with --data for another currency.`,
    65,
    `The books hold costs and prices in ${books.house.currency} already, so the currency stays.`,
  );
}

export function intendPersonAdded(books: Books, text: string): Result<EventDraft[]> {
  const name = text.trim().replace(/\s+/g, ' ');
  if (!/\p{L}/u.test(name) || name.startsWith('=') || name.length > 60 || firstUnsafe(name) !== null) {
    return refuse('bad-name', 'A name is 1 to 60 plain characters, a letter among them. Write it so.');
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

/** What stands of an item was recorded in its unit: another would turn millilitres into pieces. */
export function checkItemChange(books: Books, item: Item): Result<null> {
  const before = books.items.get(item.id);
  if (before === undefined || before.unit === item.unit) return done(null);
  const isUsed = [...books.stock.values()].some((stock) => stock.item === item.id);
  if (!isUsed) return done(null);
  return refuse(
    'other-unit',
    `${item.name} is kept in ${unitWord(before.unit)} and was poured or counted so. Keep the unit, or write it as a new item with another id.`,
  );
}

const unitWord = (unit: Item['unit']): string => (unit === 'each' ? 'pieces' : unit);

/** What is poured by a card that stands is not taken out of use. */
function checkInUse(books: Books, item: Item): Result<null> {
  if (item.retired !== true || books.items.get(item.id)?.retired === true) return done(null);
  const users = [...books.specs.values()].filter(
    ({ retired, measures }) => retired !== true && measures.some((measure) => measure.item === item.id),
  );
  if (users.length === 0) return done(null);
  const named = users.slice(0, 3).map(({ name }) => name);
  const more = users.length > named.length ? ` and ${users.length - named.length} more` : '';
  return refuse(
    'in-use',
    `${item.name} is a measure of ${named.join(', ')}${more}. Retire these first, or write them without it.`,
  );
}

/** Writes an item or a spec; writing the same again records nothing. */
export function intendItem(books: Books, item: Item): Result<EventDraft[]> {
  const before = books.items.get(item.id);
  if (before !== undefined && sameRecord(before, item)) return done([]);
  const allowed = checkItemChange(books, item);
  if (!allowed.ok) return allowed;
  const inUse = checkInUse(books, item);
  if (!inUse.ok) return inUse;
  // What stands sealed was filled before the size changed; things counted by the piece are only that many.
  const stays = before !== undefined && before.size !== item.size && !isCountedInPieces(before);
  const draft: EventDraft = { kind: 'item-written', shift: null, by: null, item };
  return done([stays ? { ...draft, keepsSealed: true } : draft]);
}

/** A card in use can only call what is in use. */
function checkMeasures(books: Books, spec: Spec): Result<null> {
  if (spec.retired === true) return done(null);
  const gone = itemsOnCard(spec)
    .map((item) => books.items.get(item))
    .find((item) => item?.retired === true);
  return gone === undefined
    ? done(null)
    : refuse('retired', `${gone.name} is a measure of it and is retired. Bring that back first.`);
}

/** What a card makes, by way of what into itself: names from the item to the item; null where it goes in no circle. */
function circleOf(books: Books, spec: Spec): readonly string[] | null {
  if (spec.makes === undefined || spec.retired === true) return null;
  const target = spec.makes.item;
  const cards = [spec, ...prepCards(books).filter(({ id }) => id !== spec.id)];
  const nameOf = (id: ItemId): string => books.items.get(id)?.name ?? id;
  const walk = (item: ItemId, seen: readonly ItemId[]): readonly ItemId[] | null => {
    // Cards that measure it make what it goes into.
    for (const card of cards.filter(({ measures }) => measures.some((one) => one.item === item))) {
      const next = card.makes?.item;
      if (next === undefined) continue;
      if (next === target) return [...seen, next];
      if (seen.includes(next)) continue;
      const found = walk(next, [...seen, next]);
      if (found !== null) return found;
    }
    return null;
  };
  return walk(target, [target])?.map(nameOf) ?? null;
}

function checkCircle(books: Books, spec: Spec): Result<null> {
  const circle = circleOf(books, spec);
  return circle === null
    ? done(null)
    : refuse(
        'circle',
        `${spec.name} would go into itself: ${circle.join(', which goes into ')}. Make something else of it, or leave that measure out.`,
      );
}

/** Several cards at once: together they go in no circle either. */
export function intendSpecs(books: Books, specs: readonly Spec[]): Result<EventDraft[]> {
  const together = {
    ...books,
    specs: new Map([...books.specs, ...specs.map((spec) => [spec.id, spec] as const)]),
  };
  for (const spec of specs) {
    const circle = checkCircle(together, spec);
    if (!circle.ok) return circle;
  }
  return intendEach(books, specs, intendSpec);
}

export function intendSpec(books: Books, spec: Spec): Result<EventDraft[]> {
  const before = books.specs.get(spec.id);
  if (before !== undefined && sameRecord(before, spec)) return done([]);
  const allowed = checkMeasures(books, spec);
  if (!allowed.ok) return allowed;
  const circle = checkCircle(books, spec);
  if (!circle.ok) return circle;
  return done([{ kind: 'spec-written', shift: null, by: null, spec }]);
}

const sameRecord = (a: object, b: object): boolean => canonicalJson(a) === canonicalJson(b);

/** A day ahead that will not be as usual; 1 takes it back to that. */
export function intendExpected(
  books: Books,
  { date, factor, text }: { readonly date: string; readonly factor: string; readonly text: string },
  now: string,
): Result<EventDraft[]> {
  if (!isDate(date))
    return refuse('bad-date', `"${clean(date).slice(0, 20)}" is no date. Write it as 2026-12-31.`);
  if (date < businessDate(now, books.house.zone, books.house.cutOffHour))
    return refuse(
      'past-date',
      `${dateText(date)} ${date.slice(0, 4)} is over. What it took is known; write a day that is to come.`,
    );
  const value = parseDecimal(factor, 100);
  const number = value === null ? Number.NaN : ratioToNumber(value);
  if (!(number >= 0 && number <= 100))
    return refuse(
      'bad-factor',
      `"${clean(factor).slice(0, 20)}" is not how many times the usual. Write it as 1.8; 0 for closed.`,
    );
  const said = text.trim();
  if (said.length > 80 || firstUnsafe(said) !== null)
    return refuse('bad-text', 'What for is at most 80 plain characters. Write it shorter.');
  const before = books.expected.get(date) ?? { factor: 1, text: '' };
  if (before.factor === number && (before.text === said || number === 1)) return done([]);
  return done([{ kind: 'night-expected', shift: null, by: null, date, factor: number, text: said }]);
}

/** Writes a supplier; writing the same again records nothing. */
export function intendSupplier(books: Books, supplier: Supplier): Result<EventDraft[]> {
  const before = books.suppliers.get(supplier.id);
  if (before !== undefined && sameRecord(before, supplier)) return done([]);
  const clash = [...books.suppliers.values()].find(
    ({ id, name }) => id !== supplier.id && foldText(name) === foldText(supplier.name),
  );
  if (clash !== undefined)
    return refuse('double-name', `The name "${clean(supplier.name)}" belongs to ${clash.id}. Give another.`);
  return done([{ kind: 'supplier-written', shift: null, by: null, supplier }]);
}

/** Items of a spreadsheet, all or none, and how such a one is read from now on. `columns`: what was settled for these headings; null keeps nothing. */
export function intendSheet(
  books: Books,
  { items, suppliers }: { readonly items: readonly Item[]; readonly suppliers: readonly Supplier[] },
  headings: string,
  columns: ReadonlyMap<string, number> | null,
): Result<EventDraft[]> {
  // Who brings it is written first, so that no item names somebody who is not there.
  const brought = intendEach(books, suppliers, intendSupplier);
  if (!brought.ok) return brought;
  const stocked = intendEach(books, items, intendItem);
  if (!stocked.ok) return stocked;
  const written = [...brought.value, ...stocked.value];
  if (columns === null || isKept(books, headings, columns)) return done(written);
  const kept: EventDraft = {
    kind: 'sheet-matched',
    shift: null,
    by: null,
    headings,
    columns: [...columns].map(([ours, at]) => ({ ours, at })),
  };
  return done([...written, kept]);
}

function isKept({ sheets }: Books, headings: string, columns: ReadonlyMap<string, number>): boolean {
  const before = sheets.get(headings);
  return before?.size === columns.size && [...columns].every(([ours, at]) => before.get(ours) === at);
}
