// What a pour would record, or why it can't. Rooms and commands both come here.

import type { Item } from '../catalogue/item.ts';
import { isPrepCard, type Spec } from '../catalogue/spec.ts';
import { straightPrice } from '../catalogue/straight.ts';
import { applyChanges } from '../drink/changes.ts';
import { inputsOf, linesOf } from '../drink/measures.ts';
import type { Books } from '../ledger/books.ts';
import type { Draw, EventDraft, PourPurpose } from '../ledger/event.ts';
import { costAt } from '../ledger/stock/worth.ts';
import { valueInMillis } from '../value/money.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { checkAmount, type Moment, moment, openShift } from './moment.ts';

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
  if (wish.spec.retired === true)
    return refuse(
      'retired',
      `${wish.spec.name} is retired. Bring it back with ullage retire spec "${wish.spec.name}" --back.`,
      65,
      `${wish.spec.name} is retired. Bring it back in the Book room.`,
    );
  if (isPrepCard(wish.spec))
    return refuse(
      'prep-card',
      `${wish.spec.name} is made, not poured. Record a making with ullage make "${wish.spec.name}".`,
      65,
      `${wish.spec.name} is made, not poured. Make it in the Prep room.`,
    );
  const changed = applyChanges(books, wish.spec, wish.changes);
  if (!changed.ok) return changed;
  const lines = linesOf(changed.value, books);
  if (!lines.ok) return lines;
  // Two measures of one item touch the bottle once.
  const drawn = inputsOf(lines.value, wish.count);
  for (const { item, amount } of drawn) {
    const allowed = checkAmount(amount, item);
    if (!allowed.ok) return allowed;
  }
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
      draws: drawn.map(({ item, amount }) => drawOf(books, item, amount, wish.at)),
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
  const draws = [drawOf(books, wish.item, wish.amount * wish.count, wish.at)];
  return done([
    {
      kind: 'measure-poured',
      ...moment(wish, shift.value.id, books),
      count: wish.count,
      as: wish.as,
      priceMinor: straightPrice(wish.item, wish.amount, books.house),
      draws,
    },
  ]);
}

function checkCount(count: number): Result<null> {
  if (Number.isSafeInteger(count) && count >= 1 && count <= LARGEST_COUNT) return done(null);
  return refuse(
    'bad-count',
    `A pour is 1 to ${LARGEST_COUNT} drinks, a whole number. Record larger ones in parts.`,
  );
}

/** What a pour takes of an item, at what it cost at that moment: a late entry knows nothing of a later delivery. */
export function drawOf(books: Books, item: Item, amount: number, at?: string): Draw {
  const costMinor = at === undefined ? item.costMinor : costAt(books, item, at);
  const costMillis = costMinor === null ? null : valueInMillis(amount, costMinor, item.size);
  return { item: item.id, place: item.place, amount, costMillis };
}

type RoundDraft = Extract<
  EventDraft,
  { kind: 'drink-poured' | 'measure-poured' | 'order-received' | 'delivery-received' }
>;

/** Several pours as one round, or an order with what came of it: taken back, and poured again, together. A round of one is none. */
export function asRound(drafts: readonly EventDraft[]): EventDraft[] {
  const isPart = (draft: EventDraft): draft is RoundDraft =>
    draft.kind === 'drink-poured' ||
    draft.kind === 'measure-poured' ||
    draft.kind === 'order-received' ||
    draft.kind === 'delivery-received';
  const of = drafts.filter(isPart).length;
  if (of < 2 || of > MOST_IN_ROUND) return [...drafts];
  let at = 0;
  return drafts.map((draft) => {
    if (!isPart(draft)) return draft;
    at += 1;
    return { ...draft, round: { at, of } };
  });
}

const MOST_IN_ROUND = 100;
