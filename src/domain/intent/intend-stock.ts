// What a loss, a delivery, a move, a count or an opened bottle would record, or why it can't.

import { containersIn, splitContainers } from '../catalogue/container-words.ts';
import type { Item } from '../catalogue/item.ts';
import { eyeError } from '../count/eye-error.ts';
import { parseReading } from '../count/reading.ts';
import { type Books, placesOf, stockKey } from '../ledger/books.ts';
import type { EventDraft, LossReason } from '../ledger/event.ts';
import { roundAmount } from '../value/amount.ts';
import { numberDoubt, parseQuantity } from '../value/number.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { multiplyRatio, ratio, ratioToNumber } from '../value/ratio.ts';
import { clean } from '../value/text.ts';
import { checkAmount, type Moment, moment, shiftAt } from './moment.ts';

export function intendLoss(
  books: Books,
  wish: Moment & {
    readonly item: Item;
    readonly amount: number;
    readonly why: LossReason;
    readonly place?: string;
  },
): Result<EventDraft[]> {
  const amount = checkAmount(wish.amount, wish.item);
  if (!amount.ok) return amount;
  const where = standingPlace(books, wish.place ?? wish.item.place, 'It was lost at');
  if (!where.ok) return where;
  const base = moment(wish, shiftAt(books, wish.at), books);
  return done([
    {
      kind: 'stock-lost',
      ...base,
      item: wish.item.id,
      place: where.value,
      amount: wish.amount,
      why: wish.why,
    },
  ]);
}

/** Containers as typed ("6", "0.5", "2 cases") -> number and exact amount. */
function containersOf(text: string, item: Item): Result<{ containers: number; amount: number }> {
  const held = splitContainers(text);
  const said = held === null || held.rest !== '' ? null : containersIn(held, item);
  if (said !== null && !said.ok) return said;
  const quantity = said === null ? parseQuantity(text) : said.value;
  const amount = quantity === null ? 0 : roundAmount(multiplyRatio(quantity, ratio(item.size)));
  if (quantity === null || amount < 1) {
    return refuse(
      'bad-count',
      numberDoubt(text) ??
        `"${clean(text).slice(0, 40)}" is not a number of containers. Write 6, 0.5 for a part of one, or 2 cases.`,
    );
  }
  const checked = checkAmount(amount, { ...item, size: item.size * 10 });
  if (!checked.ok)
    return refuse(
      'bad-count',
      `${clean(text).slice(0, 20)} containers of ${item.name} is more than one event can have. Give at most 1000.`,
    );
  return done({ containers: ratioToNumber(quantity), amount });
}

export function intendDelivery(
  books: Books,
  wish: Moment & {
    readonly item: Item;
    readonly containers: string;
    readonly costMinor: number | null;
    readonly place?: string;
  },
): Result<EventDraft[]> {
  const got = containersOf(wish.containers, wish.item);
  if (!got.ok) return got;
  const where = checkPlace(wish.place ?? wish.item.place);
  if (!where.ok) return where;
  const base = moment(wish, shiftAt(books, wish.at), books);
  const { costMinor, item } = wish;
  return done([
    { kind: 'delivery-received', ...base, item: item.id, place: where.value, ...got.value, costMinor },
  ]);
}

export function intendMove(
  books: Books,
  wish: Moment & {
    readonly item: Item;
    readonly containers: string;
    readonly from: string;
    readonly to: string;
  },
): Result<EventDraft[]> {
  const got = containersOf(wish.containers, wish.item);
  if (!got.ok) return got;
  const from = standingPlace(books, wish.from, 'Move it from');
  if (!from.ok) return from;
  const to = checkPlace(wish.to);
  if (!to.ok) return to;
  if (from.value === to.value)
    return refuse(
      'same-place',
      'A move needs two different places. Give another --to.',
      64,
      'A move needs two different places. Write another, as 1 to cellar.',
    );
  const base = moment(wish, shiftAt(books, wish.at), books);
  return done([
    { kind: 'stock-moved', ...base, item: wish.item.id, from: from.value, to: to.value, ...got.value },
  ]);
}

export function checkPlace(text: string): Result<string> {
  const name = text.trim().toLowerCase();
  if (name !== '' && name.length <= 40 && clean(name) === name) return done(name);
  return refuse(
    'bad-place',
    'A place is a plain name of 1 to 40 characters, as well or store. Give another.',
  );
}

/** A place something can leave: one the books know. A delivery, a move or a count may name a new one; a loss may not. */
function standingPlace(books: Books, text: string, asks: string): Result<string> {
  const place = checkPlace(text);
  if (!place.ok) return place;
  const known = placesOf(books);
  if (known.includes(place.value)) return place;
  return refuse('unknown-place', `Nothing stands at "${place.value}". ${asks} one of: ${known.join(', ')}.`);
}

export function intendCount(
  books: Books,
  wish: Moment & {
    readonly item: Item;
    readonly reading: string;
    readonly place?: string;
    readonly again: boolean;
    /** It is so, though it is more than was ever there; a reading that ends with "!" says it, too. */
    readonly sure?: boolean;
  },
): Result<EventDraft[]> {
  const base = moment(wish, shiftAt(books, wish.at), books);
  const said = /^(.*?)\s*!?$/s.exec(wish.reading)?.[1] ?? wish.reading;
  const isSure = wish.sure === true || said !== wish.reading.trimEnd();
  const reading = parseReading(said, wish.item, books.house, eyeError(books, base.by));
  if (!reading.ok) return reading;
  const where = checkPlace(wish.place ?? wish.item.place);
  if (!where.ok) return where;
  const { text, method, amount, sealed, open, deviation, densityDeviation, assumed } = reading.value;
  const note = assumed === null ? {} : { note: `weighed as ${assumed}, assumed` };
  return done([
    {
      kind: 'stock-counted',
      ...base,
      item: wish.item.id,
      place: where.value,
      reading: text,
      method,
      amount,
      sealed,
      open: [...open],
      deviation,
      densityDeviation,
      again: wish.again,
      ...(isSure ? { sure: true } : {}),
      ...note,
    },
  ]);
}

export function intendOpenBottle(
  books: Books,
  wish: Moment & { readonly item: Item; readonly place: string },
): Result<EventDraft[]> {
  const where = standingPlace(books, wish.place, 'Open it at');
  if (!where.ok) return where;
  const stock = books.stock.get(stockKey(wish.item.id, where.value));
  if (stock === undefined || stock.sealed === 0) {
    return refuse(
      'none-sealed',
      `The books know of no sealed ${wish.item.name} at ${where.value}. Record a delivery or count it.`,
    );
  }
  return done([
    {
      kind: 'bottle-opened',
      ...moment(wish, shiftAt(books, wish.at), books),
      item: wish.item.id,
      place: where.value,
    },
  ]);
}

/** The same bottle by eye and on the scale; what the drill learns from. Both are readings of one open container. */
export function intendComparison(
  books: Books,
  wish: Moment & { readonly item: Item; readonly eye: string; readonly weighed: string },
): Result<EventDraft[]> {
  const { item } = wish;
  const eye = parseReading(wish.eye, item, books.house);
  if (!eye.ok) return eye;
  if (eye.value.method !== 'tenths')
    return refuse('not-by-eye', `Read ${item.name} by eye first: 7 or 0.7 of one open container.`);
  const text = /^[\d.,]+$/.test(wish.weighed.trim()) ? `${wish.weighed.trim()}g` : wish.weighed;
  const weighed = parseReading(text, item, books.house);
  if (!weighed.ok) return weighed;
  if (weighed.value.method !== 'grams' || eye.value.sealed + weighed.value.sealed > 0)
    return refuse(
      'not-weighed',
      `Then put that one container of ${item.name} on the scale: 812 is grams with its container.`,
    );
  const base = moment(wish, shiftAt(books, wish.at), books);
  return done([
    {
      kind: 'readings-compared',
      ...base,
      item: item.id,
      size: item.size,
      eye: eye.value.amount,
      weighed: weighed.value.amount,
    },
  ]);
}
