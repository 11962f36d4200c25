// What a pour would record, or why it can't. Rooms and commands both come here.

import { type Item, itemNames } from '../catalogue/item.ts';
import type { Measure, Spec } from '../catalogue/spec.ts';
import { amountOf, splitQuantity } from '../catalogue/units.ts';
import { type Line, linesOf } from '../drink/measures.ts';
import { type Books, isOpen } from '../ledger/books.ts';
import type { Draw, EventDraft, PourPurpose } from '../ledger/event.ts';
import { findItem } from '../search/find.ts';
import { foldText } from '../search/search.ts';
import { exactText, LARGEST_AMOUNT } from '../value/amount.ts';
import type { PersonId } from '../value/ids.ts';
import { valueInMillis } from '../value/money.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { multiplyRatio, parseQuantity, type Ratio, ratio } from '../value/ratio.ts';

export type Moment = {
  /** When it happened, for a late entry; else the store says now. */
  readonly at?: string;
  readonly by: PersonId | null;
};

export type PourWish = Moment & {
  readonly spec: Spec;
  readonly count: number;
  readonly as: PourPurpose;
  /** As typed: `gin=45ml`, `gin->rye`, `-egg white`, `+15ml lemon juice`. */
  readonly changes: readonly string[];
};

const LARGEST_COUNT = 200;

/** The event of pouring a spec N times, with what it draws. */
export function intendPour(books: Books, wish: PourWish): Result<EventDraft[]> {
  const shift = openShift(books, wish.at);
  if (!shift.ok) return shift;
  const count = checkCount(wish.count);
  if (!count.ok) return count;
  const changed = applyChanges(books, wish.spec, wish.changes);
  if (!changed.ok) return changed;
  const lines = linesOf(changed.value, books);
  if (!lines.ok) return lines;
  return done([
    {
      kind: 'drink-poured',
      ...moment(wish, shift.value.id, books),
      spec: wish.spec.id,
      name: wish.spec.name,
      count: wish.count,
      as: wish.as,
      priceMinor: wish.spec.priceMinor,
      changes: [...wish.changes],
      draws: mergeDraws(lines.value).map(({ item, amount }) => drawOf(item, amount * wish.count)),
    },
  ]);
}

/** The event of pouring one item straight. */
export function intendStraight(
  books: Books,
  wish: Moment & {
    readonly item: Item;
    readonly amount: number;
    readonly count: number;
    readonly as: PourPurpose;
  },
): Result<EventDraft[]> {
  const shift = openShift(books, wish.at);
  if (!shift.ok) return shift;
  const count = checkCount(wish.count);
  if (!count.ok) return count;
  const amount = checkAmount(wish.amount * wish.count, wish.item);
  if (!amount.ok) return amount;
  const draws = [drawOf(wish.item, wish.amount * wish.count)];
  return done([
    { kind: 'measure-poured', ...moment(wish, shift.value.id, books), count: wish.count, as: wish.as, draws },
  ]);
}

/** The shift a moment belongs to; refused when none is open then. */
export function openShift(books: Books, at?: string): Result<{ id: NonNullable<Books['shift']>['id'] }> {
  if (!isOpen(books.shift))
    return refuse('no-shift', 'No shift is open. Open one with ullage open, or Ctrl-O in the rooms.');
  if (at !== undefined && at < books.shift.openedAt) {
    return refuse(
      'before-shift',
      'No shift was open at that moment. Give a later moment (--at, or fewer minutes ago), or none for now.',
    );
  }
  return done({ id: books.shift.id });
}

/** Shared fields; who poured defaults to who is pouring in the open shift. */
export function moment(wish: Moment, shift: NonNullable<Books['shift']>['id'] | null, books: Books) {
  const by = wish.by ?? (isOpen(books.shift) ? books.shift.pouring : null);
  return { shift, by, ...(wish.at === undefined ? {} : { at: wish.at }) };
}

function checkCount(count: number): Result<null> {
  if (Number.isSafeInteger(count) && count >= 1 && count <= LARGEST_COUNT) return done(null);
  return refuse(
    'bad-count',
    `A pour is 1 to ${LARGEST_COUNT} drinks, a whole number. Record larger ones in parts.`,
  );
}

/** A single event of more than a hundred containers, or 1,000 l, is a slip of the finger. */
export function checkAmount(amount: number, item: Item): Result<null> {
  const most = Math.min(LARGEST_AMOUNT, item.size * 100);
  if (Number.isSafeInteger(amount) && amount >= 1 && amount <= most) return done(null);
  const unit = item.unit === 'each' ? 'pieces' : item.unit;
  return refuse(
    'bad-amount',
    `That is not an amount of ${item.name} one event can have. Give more than 0 and at most ${exactText(most)} ${unit}.`,
  );
}

export function drawOf(item: Item, amount: number): Draw {
  const costMillis = item.costMinor === null ? null : valueInMillis(amount, item.costMinor, item.size);
  return { item: item.id, place: item.place, amount, costMillis };
}

/** Two measures of one item touch the bottle once. */
function mergeDraws(lines: readonly Line[]): { item: Item; amount: number }[] {
  const merged = new Map<string, { item: Item; amount: number }>();
  for (const { item, amount } of lines) {
    const before = merged.get(item.id)?.amount ?? 0;
    merged.set(item.id, { item, amount: before + amount });
  }
  return [...merged.values()];
}

/** The spec's measures with the changes applied, in the order given. */
export function applyChanges(
  books: Books,
  spec: Spec,
  changes: readonly string[],
): Result<readonly Measure[]> {
  let measures: readonly Measure[] = spec.measures;
  for (const change of changes) {
    const next = applyChange(books, spec, measures, change.trim());
    if (!next.ok) return next;
    measures = next.value;
  }
  if (measures.length === 0)
    return refuse('empty-drink', `Nothing is left of ${spec.name}. Leave at least one measure in.`);
  return done(measures);
}

function applyChange(
  books: Books,
  spec: Spec,
  measures: readonly Measure[],
  change: string,
): Result<readonly Measure[]> {
  if (/^(double|half)$/i.test(change))
    return done(
      measures.map((measure) => timesMeasure(measure, /double/i.test(change) ? ratio(2) : ratio(1, 2))),
    );
  if (change.startsWith('-')) {
    const gone = findMeasure(books, spec, measures, change.slice(1));
    return gone.ok ? done(measures.filter((measure) => measure !== gone.value)) : gone;
  }
  if (change.startsWith('+')) return addMeasure(books, measures, change.slice(1));
  const arrow = change.indexOf('->');
  if (arrow > 0) return swapItem(books, spec, measures, change.slice(0, arrow), change.slice(arrow + 2));
  const equals = change.indexOf('=');
  if (equals > 0) return resize(books, spec, measures, change.slice(0, equals), change.slice(equals + 1));
  return refuse(
    'bad-change',
    `"${change.slice(0, 40)}" is not a change. Write gin=45ml, gin->rye, -egg white or +15ml lemon juice.`,
    64,
  );
}

/** A measure twice or half as large, exact. */
function timesMeasure(measure: Measure, times: Ratio): Measure {
  const quantity = parseQuantity(measure.quantity);
  if (quantity === null) return measure;
  const { num, den } = multiplyRatio(quantity, times);
  const whole = num / den;
  const rest = num % den;
  const text = rest === 0n ? `${whole}` : `${whole === 0n ? '' : `${whole} `}${rest}/${den}`;
  return { ...measure, quantity: text };
}

function findMeasure(books: Books, spec: Spec, measures: readonly Measure[], text: string): Result<Measure> {
  const wanted = foldText(text);
  const named = measures.map((measure) => {
    const item = books.items.get(measure.item);
    return { measure, names: item === undefined ? [measure.item] : itemNames(item).map(foldText) };
  });
  const exact = named.filter(({ names }) => names.includes(wanted));
  const part = named.filter(
    ({ names }) => wanted !== '' && names.some((name) => ` ${name} `.includes(` ${wanted} `)),
  );
  const found = exact.length > 0 ? exact : part;
  if (found.length === 1 && found[0] !== undefined) return done(found[0].measure);
  const items = measures.map((measure) => books.items.get(measure.item)?.name ?? measure.item).join(', ');
  const why = found.length > 1 ? 'fits more than one measure' : 'is not a measure';
  return refuse(
    'unknown-measure',
    `"${text.trim().slice(0, 40)}" ${why} of ${spec.name}. Name one of: ${items}.`,
  );
}

function addMeasure(books: Books, measures: readonly Measure[], text: string): Result<readonly Measure[]> {
  const split = splitQuantity(text, books.house);
  if (split === null)
    return refuse('bad-change', `"+${text.slice(0, 40)}" has no amount. Write +15ml lemon juice.`, 64);
  const item = findItem(books, split.rest);
  if (!item.ok) return item;
  return done([...measures, { quantity: split.text, unit: split.unit, item: item.value.id }]);
}

function swapItem(
  books: Books,
  spec: Spec,
  measures: readonly Measure[],
  from: string,
  to: string,
): Result<readonly Measure[]> {
  const old = findMeasure(books, spec, measures, from);
  if (!old.ok) return old;
  const item = findItem(books, to);
  if (!item.ok) return item;
  return done(
    measures.map((measure) => (measure === old.value ? { ...measure, item: item.value.id } : measure)),
  );
}

function resize(
  books: Books,
  spec: Spec,
  measures: readonly Measure[],
  name: string,
  text: string,
): Result<readonly Measure[]> {
  const old = findMeasure(books, spec, measures, name);
  if (!old.ok) return old;
  const split = splitQuantity(text, books.house);
  if (split === null || split.rest !== '' || amountOf(split.quantity, split.unit, books.house) === null) {
    return refuse('bad-change', `"${text.slice(0, 40)}" is not an amount. Write it as 45ml or 2 dash.`, 64);
  }
  const size = { quantity: split.text, unit: split.unit };
  return done(measures.map((measure) => (measure === old.value ? { ...measure, ...size } : measure)));
}
