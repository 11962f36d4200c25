// What changes of the house, its people, its shifts and its log would record, or why they can't.

import { checkSetting } from '../catalogue/house.ts';
import type { Item } from '../catalogue/item.ts';
import type { Spec } from '../catalogue/spec.ts';
import { type Books, isOpen } from '../ledger/books.ts';
import type { Event, EventDraft } from '../ledger/event.ts';
import { findPerson } from '../search/find.ts';
import { canonicalJson } from '../value/canonical.ts';
import { businessDate, dateText, isDate } from '../value/clock-date.ts';
import { type PersonId, slugOf } from '../value/ids.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { clean, firstUnsafe } from '../value/text.ts';
import { type Moment, moment } from './intend-pour.ts';

/** A moment must not lie ahead, nor in what is sealed. */
export function checkMoment(books: Books, at: string, now: string): Result<null> {
  if (at > now)
    return refuse('future', 'That moment lies in the future. Give an --at up to now, or leave it out.');
  if (books.sealedUntil !== null && at <= books.sealedUntil) {
    const last = books.shift === null ? 'a shift' : `the shift of ${dateText(books.shift.date)}`;
    return refuse('sealed', `That moment lies before the last seal (${last}). Record it as of now instead.`);
  }
  return done(null);
}

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

/** Opens a shift; its business date is proposed by the house's cut-off hour unless given. */
export function intendOpenShift(
  books: Books,
  wish: Moment & { readonly date?: string; readonly now: string },
): Result<EventDraft[]> {
  if (isOpen(books.shift)) {
    return refuse(
      'shift-open',
      `The shift of ${dateText(books.shift.date)} is still open. Seal it first with ullage close --seal.`,
    );
  }
  if (wish.date !== undefined && !isDate(wish.date)) {
    return refuse('bad-date', `"${clean(wish.date).slice(0, 20)}" is not a date. Write it as 2026-11-20.`);
  }
  const at = wish.at ?? wish.now;
  const date = wish.date ?? businessDate(at, books.house.zone, books.house.cutOffHour);
  return done([{ kind: 'shift-opened', ...moment(wish, null, books), date }]);
}

export function intendSeal(books: Books, wish: Moment): Result<EventDraft[]> {
  if (!isOpen(books.shift))
    return refuse('no-shift', 'No shift is open. Open one with ullage open, or Ctrl-O in the rooms.');
  return done([{ kind: 'shift-sealed', ...moment(wish, books.shift.id, books), of: books.shift.id }]);
}

export function intendHandover(books: Books, to: PersonId | null): Result<EventDraft[]> {
  if (!isOpen(books.shift))
    return refuse('no-shift', 'No shift is open. Open one with ullage open, or Ctrl-O in the rooms.');
  if (books.shift.pouring === to) return done([]);
  return done([{ kind: 'handed-over', shift: books.shift.id, by: books.shift.pouring, to }]);
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

/** Beside the books and not in them: taking these back changes nothing that was sealed. */
const movesNothing: ReadonlySet<Event['kind']> = new Set<Event['kind']>([
  'note-written',
  'report-corrected',
  'drink-sold',
  'till-name-matched',
  'readings-compared',
]);

/**
 * Takes one event back. What is sealed stays; a shift with pours in it stays; an event already taken back is not taken
 * back twice (take the take-back back instead).
 */
export function intendTakeBack(
  books: Books,
  target: Event | null,
  isTakenBack: boolean,
): Result<EventDraft[]> {
  if (target === null)
    return refuse(
      'nothing-to-take-back',
      'There is nothing to take back. Run ullage log to see what happened.',
    );
  if (isTakenBack)
    return refuse('taken-back', 'That was taken back before. Take back the take-back to restore it.');
  if (!movesNothing.has(target.kind) && books.sealedUntil !== null && target.at <= books.sealedUntil) {
    return refuse(
      'sealed',
      'That lies in a sealed shift and stays as it is. Record a correction as a new event.',
    );
  }
  if (target.kind === 'shift-opened' && books.shift?.id === target.id && hasNight(books)) {
    return refuse('shift-in-use', 'That shift has pours or counts in it. Take those back first, or seal it.');
  }
  const shift = isOpen(books.shift) ? books.shift.id : null;
  return done([
    {
      kind: 'event-taken-back',
      shift,
      by: isOpen(books.shift) ? books.shift.pouring : null,
      target: target.id,
    },
  ]);
}

const hasNight = (books: Books): boolean =>
  books.shift !== null &&
  (books.shift.recent.length > 0 ||
    [...books.stock.values()].some((s) => s.counted?.shift === books.shift?.id));
