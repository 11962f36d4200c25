// Lots: what was made here, or came and does not keep, each with its date. What leaves is taken from the oldest that is in date, so that
// lots never hold more than stands there; what stands beyond them has no date. Nothing here moves stock: the containers do that.
import { discardAfter } from '../../catalogue/keeping.ts';
import type { Thousandths } from '../../value/amount.ts';
import type { EventId, ItemId } from '../../value/ids.ts';
import type { Event, EventOf, Making } from '../event.ts';
import { itemsOf } from '../event-names.ts';
import { type Folding, own } from '../folding.ts';
import { isLate, type Lot } from './lot.ts';

/** So many lots of an item are remembered though nothing is left of them. */
const REMEMBERED = 20;

const setLots = (folding: Folding, item: ItemId, lots: readonly Lot[]): void => {
  const kept = lots.filter(({ left }, index) => left > 0 || index >= lots.length - REMEMBERED);
  folding.lots = own(folding, folding.lots).set(item, kept);
};

function addLot(folding: Folding, lot: Lot): void {
  setLots(folding, lot.item, [...(folding.lots.get(lot.item) ?? []), lot]);
}

type Brings = Pick<Making, 'id' | 'item' | 'place' | 'at' | 'by' | 'amount'>;

const lotOf = (
  { id, item, place, at, by, amount }: Brings,
  more: Pick<Lot, 'discardAt' | 'costMillis' | 'isMade'>,
): Lot => ({ id, item, place, madeAt: at, by, amount, left: amount, ...more });

/** A making brings a lot. */
export function noteMaking(folding: Folding, event: Making): void {
  const costs = event.draws.map(({ costMillis }) => costMillis);
  const known = costs.filter((cost) => cost !== null);
  const costMillis = known.length < costs.length ? null : known.reduce((sum, cost) => sum + cost, 0);
  addLot(folding, lotOf(event, { discardAt: event.discardAt, costMillis, isMade: true }));
}

/** A delivery of what does not keep brings one, too. */
export function noteDelivery(folding: Folding, event: EventOf<'delivery-received'>): void {
  const keeps = folding.items.get(event.item)?.keeps;
  if (keeps === undefined) return;
  const discardAt = discardAfter(keeps, event.at, folding.house);
  addLot(folding, lotOf(event, { discardAt, costMillis: null, isMade: false }));
}

/** What was thrown away of a lot leaves that one. */
export function noteDiscard(folding: Folding, { item, lot, amount }: EventOf<'stock-lost'>): void {
  if (lot === undefined) return;
  const lots = folding.lots.get(item) ?? [];
  setLots(
    folding,
    item,
    lots.map((one) => (one.id === lot ? { ...one, left: Math.max(0, one.left - amount) } : one)),
  );
}

/** After an event: lots hold no more than what stands of their item at all places. */
export function settleLots(folding: Folding, event: Event): void {
  for (const item of new Set(itemsOf(event))) {
    const lots = folding.lots.get(item);
    if (lots === undefined) continue;
    let stands = 0;
    for (const stock of folding.stock.values()) if (stock.item === item) stands += stock.amount;
    const excess = lots.reduce((sum, { left }) => sum + left, 0) - Math.max(0, stands);
    if (excess > 0) setLots(folding, item, withoutAmount(lots, excess, event));
  }
}

/**
 * Somebody who pours takes the oldest that is in date. What a count does not find, and what was thrown away as spoiled, was most likely the
 * oldest of all.
 */
function withoutAmount(lots: readonly Lot[], amount: Thousandths, event: Event): Lot[] {
  const isOfAge =
    event.kind === 'stock-counted' ||
    (event.kind === 'stock-lost' && (event.why === 'expired' || event.why === 'spoiled'));
  const order = isOfAge
    ? [...lots]
    : [...lots.filter((lot) => !isLate(lot, event.at)), ...lots.filter((lot) => isLate(lot, event.at))];
  const taken = new Map<EventId, Thousandths>();
  let rest = amount;
  for (const { id, left } of order) {
    const some = Math.min(left, rest);
    if (some > 0) taken.set(id, some);
    rest -= some;
  }
  return lots.map((lot) => ({ ...lot, left: lot.left - (taken.get(lot.id) ?? 0) }));
}
