// What a making, or throwing a lot away, would record, or why it can't.
import { displayAmount, shownIn } from '../../catalogue/display.ts';
import { isPrepCard, type Spec } from '../../catalogue/spec.ts';
import { inputsOf, linesOf } from '../../drink/measures.ts';
import { type Books, stockKey, stockOf } from '../../ledger/books.ts';
import type { EventDraft } from '../../ledger/event.ts';
import { lotById } from '../../ledger/stock/in-date.ts';
import type { Lot } from '../../ledger/stock/lot.ts';
import { discardOf } from '../../prep/dates.ts';
import { madeOf } from '../../prep/made.ts';
import type { Thousandths } from '../../value/amount.ts';
import type { EventId } from '../../value/ids.ts';
import { done, type Result, refuse } from '../../value/problem.ts';
import { drawOf } from '../intend-pour.ts';
import { checkAmount, type Moment, moment, shiftAt } from '../moment.ts';

export type MakeWish = Moment & {
  readonly card: Spec;
  readonly times: number;
  /** What it gave, where that was measured; else what the card says. */
  readonly amount: Thousandths | null;
};

const MOST_TIMES = 100;
/** What came out is at most so many times what the card says, and at least so small a part of it (our decision). */
const MOST_YIELD = 3;
const LEAST_YIELD = 10;

/** A making: what its card measures goes out, a lot of what it makes comes in. */
export function intendMaking(books: Books, wish: MakeWish, now: string): Result<EventDraft[]> {
  const { card, times } = wish;
  if (!isPrepCard(card))
    return refuse(
      'no-prep-card',
      `${card.name} makes nothing that is stocked. A prep card has a line makes: 1 l simple syrup.`,
    );
  if (card.retired === true)
    return refuse('retired', `${card.name} is out of use. Bring it back in the Book first.`);
  if (!Number.isSafeInteger(times) || times < 1 || times > MOST_TIMES)
    return refuse('bad-count', `A making is 1 to ${MOST_TIMES} times its card. Record larger ones in parts.`);
  const item = books.items.get(card.makes.item);
  if (item === undefined)
    return refuse(
      'unknown-item',
      `${card.name} makes "${card.makes.item}", which is not stocked. Write it first.`,
    );
  const amount = wish.amount ?? card.makes.amount * times;
  const allowed = checkAmount(amount, item);
  if (!allowed.ok) return allowed;
  const usual = card.makes.amount * times;
  if (amount > MOST_YIELD * usual || amount * LEAST_YIELD < usual)
    return refuse(
      'odd-yield',
      `${card.name} gives about ${displayAmount(usual, shownIn(item), books.house)}${times > 1 ? `, ${times} times over` : ''}, so that can't be what came out. Say how often it was made, or write its card anew.`,
    );
  const lines = linesOf(card.measures, books);
  if (!lines.ok) return lines;
  const inputs = inputsOf(lines.value, times);
  for (const input of inputs) {
    const fits = checkAmount(input.amount, input.item);
    if (!fits.ok) return fits;
  }
  const draws = inputs.map((input) => drawOf(books, input.item, input.amount, wish.at));
  const discard = discardOf(books, { card, item, draws, at: wish.at ?? now });
  if (!discard.ok) return discard;
  return done([
    {
      kind: 'prep-made',
      ...moment(wish, shiftAt(books, wish.at), books),
      spec: card.id,
      name: card.name,
      item: item.id,
      place: item.place,
      amount,
      draws,
      discardAt: discard.value,
      made: madeOf(books, { item, lines: lines.value, times, amount, draws }),
    },
  ]);
}

/** What is left of a lot, as a loss of that lot. */
export function intendDiscard(books: Books, id: EventId, wish: Moment): Result<EventDraft[]> {
  const lot = lotById(books, id);
  if (lot === undefined || lot.left === 0)
    return refuse(
      'unknown-lot',
      'Nothing is left of a lot of that id. Run ullage lots to see them.',
      65,
      'Nothing is left of that lot.',
    );
  return done([
    {
      kind: 'stock-lost',
      ...moment(wish, shiftAt(books, wish.at), books),
      item: lot.item,
      place: placeOf(books, lot),
      amount: lot.left,
      why: 'expired',
      lot: id,
    },
  ]);
}

/** Where it was made, as long as that much stands there; else where most of it does. */
function placeOf(books: Books, { item, place, left }: Lot): string {
  if ((books.stock.get(stockKey(item, place))?.amount ?? 0) >= left) return place;
  const [most] = stockOf(books, item).sort((a, b) => b.amount - a.amount);
  return most?.place ?? place;
}
