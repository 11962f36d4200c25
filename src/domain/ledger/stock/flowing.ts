// What flows in or out of one item at one place: its containers, its amount, and what has flowed since the last count.

import type { ItemId } from '../../value/ids.ts';
import { type CountMark, stockKey } from '../books.ts';
import type { Event } from '../event.ts';
import { type Folding, newStock, own } from '../folding.ts';
import { type Containers, containersTotal } from './containers.ts';
import { addFlows, type Flows, netFlow, noFlows } from './flows.ts';

/**
 * A place where an item never stood and does not live begins empty: what is moved or delivered there can be missing from the
 * first count on. Where it lives it may have stood before the books began, and the first count is its beginning.
 */
export function beginEmpty(folding: Folding, item: ItemId, place: string, event: Event): void {
  const key = stockKey(item, place);
  if (folding.stock.has(key) || folding.items.get(item)?.place === place) return;
  const mark: CountMark = {
    event: event.id,
    at: event.at,
    by: event.by,
    shift: event.shift,
    reading: 'empty',
    method: 'pieces',
    amount: 0,
    deviation: 0,
    densityDeviation: 0,
  };
  folding.stock = own(folding, folding.stock).set(key, {
    ...newStock(item, place),
    counted: mark,
    first: { mark, total: noFlows },
  });
}

/** What is drawn at a place that was renamed meanwhile, elsewhere, is drawn where the bottle stands now. */
function nowCalled(folding: Folding, item: ItemId, place: string): string {
  if (folding.stock.has(stockKey(item, place))) return place;
  for (const stock of folding.stock.values())
    if (stock.item === item && stock.formerly?.includes(place) === true) return stock.place;
  return place;
}

export function flow(
  folding: Folding,
  item: ItemId,
  place: string,
  added: Partial<Flows>,
  change: (held: Containers, size: number) => Containers,
  /** When one of them may have been opened by it; null where none is. */
  at: string | null = null,
): void {
  const named = nowCalled(folding, item, place);
  const key = stockKey(item, named);
  const stock = folding.stock.get(key) ?? newStock(item, named);
  const size = folding.items.get(item)?.size ?? 1_000_000;
  const { sealed, open } = change(stock, size);
  const flows = addFlows(stock.flows, added);
  const amount = stock.amount + netFlow(flows) - netFlow(stock.flows);
  // A container whose size was changed later could leave a difference; the amount is what the events say.
  const drift = amount - containersTotal({ sealed, open }, size);
  const mended = drift === 0 ? open : [...open.slice(0, -1), (open.at(-1) ?? 0) + drift];
  const { openedAt, ...rest } = stock;
  const since = at !== null && sealed < stock.sealed ? at : openedAt;
  folding.stock = own(folding, folding.stock).set(key, {
    ...rest,
    ...openedSince(folding, item, mended, since),
    amount,
    sealed,
    open: mended,
    flows,
  });
}

/** Of what does not keep once it is open: since when it is; nothing where none is. */
export function openedSince(
  folding: Folding,
  item: ItemId,
  open: readonly number[],
  since: string | undefined,
): { readonly openedAt?: string } {
  const isKnown = folding.items.get(item)?.opened !== undefined && since !== undefined;
  return isKnown && open.some((level) => level > 0) ? { openedAt: since } : {};
}
