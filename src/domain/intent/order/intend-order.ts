// Orders: placed as they were sent, and received as ordered or as what came. What is short is asked for again with the next one.
import type { Item } from '../../catalogue/item.ts';
import type { Books } from '../../ledger/books.ts';
import type { EventDraft, EventOf } from '../../ledger/event.ts';
import type { EventId, SupplierId } from '../../value/ids.ts';
import { done, type Result, refuse } from '../../value/problem.ts';
import { asRound } from '../intend-pour.ts';
import { intendDelivery } from '../intend-stock.ts';
import type { Moment } from '../moment.ts';

export type OrderWish = {
  readonly supplier: SupplierId | null;
  readonly deliveryAt: string;
  readonly lines: EventOf<'order-placed'>['lines'];
};

/** Places an order; the same for the same day that is open already is not placed twice. */
export function intendOrder(books: Books, wish: OrderWish, moment: Moment): Result<EventDraft[]> {
  const same = [...books.orders.values()].find(
    ({ supplier, deliveryAt }) => supplier === wish.supplier && deliveryAt === wish.deliveryAt,
  );
  if (same !== undefined)
    return refuse(
      'order-open',
      `An order for that day is open already. Receive it with ullage receive --order ${same.id}, or take it back with ullage undo ${same.id}.`,
      65,
      'An order for that day is open already. Take it back in the Log, or receive it first.',
    );
  if (wish.lines.length === 0)
    return refuse('empty-order', 'Nothing is short, so there is nothing to order.');
  return done([{ kind: 'order-placed', shift: null, by: moment.by, ...wish, lines: [...wish.lines] }]);
}

/** What came of one thing: so many containers, at which cost of one; null is what it cost last. */
export type Came = { readonly item: Item; readonly containers: string; readonly costMinor: number | null };

/** An order that came: as ordered but for what is named; what was not ordered may have come too. It is closed by this. */
export function intendReceived(
  books: Books,
  id: EventId,
  came: readonly Came[],
  moment: Moment,
): Result<EventDraft[]> {
  const order = books.orders.get(id);
  if (order === undefined)
    return refuse(
      'unknown-order',
      'No open order has that id. Run ullage order --open to see them.',
      65,
      'No open order has that id.',
    );
  const named = new Map(came.map((one) => [one.item.id, one]));
  const rest = order.lines.flatMap(({ item: itemId, containers, costMinor }): Came[] => {
    const item = books.items.get(itemId);
    return item === undefined || named.has(itemId)
      ? []
      : [{ item, containers: String(containers), costMinor }];
  });
  const drafts: EventDraft[] = [{ kind: 'order-received', shift: null, by: moment.by, order: id }];
  for (const one of [...rest, ...came]) {
    if (/^0+([.,]0+)?$/.test(one.containers)) continue;
    const delivered = intendDelivery(books, { ...moment, ...one });
    if (!delivered.ok) return delivered;
    drafts.push(...delivered.value);
  }
  return done(asRound(drafts));
}
