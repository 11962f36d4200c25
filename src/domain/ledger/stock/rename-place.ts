// A place with another name: the same bottles on the same shelf, and their counts with them.
import { type Period, type Stock, stockKey } from '../books.ts';
import type { EventOf } from '../event.ts';
import { type Folding, own } from '../folding.ts';
import { addFlows } from './flows.ts';

/** What another station brought to the new name before it was one: the same shelf, so it came there. */
function withWhatStoodThere(stock: Stock, there: Stock | undefined): Stock {
  if (there === undefined) return stock;
  const { amount } = there;
  return {
    ...stock,
    amount: stock.amount + amount,
    sealed: stock.sealed + there.sealed,
    open: [...stock.open, ...there.open],
    flows: addFlows(stock.flows, amount < 0 ? { movedOut: -amount } : { movedIn: amount }),
  };
}

export function renamePlace(folding: Folding, { from, to }: EventOf<'place-renamed'>): void {
  const named = (period: Period): Period => (period.place === from ? { ...period, place: to } : period);
  for (const item of folding.items.values())
    if (item.place === from) folding.items = own(folding, folding.items).set(item.id, { ...item, place: to });
  for (const [item, lots] of folding.lots)
    if (lots.some(({ place }) => place === from))
      folding.lots = own(folding, folding.lots).set(
        item,
        lots.map((lot) => (lot.place === from ? { ...lot, place: to } : lot)),
      );
  for (const [key, stock] of folding.stock) {
    if (stock.place !== from) continue;
    const kept = own(folding, folding.stock);
    kept.delete(key);
    const there = kept.get(stockKey(stock.item, to));
    kept.set(stockKey(stock.item, to), {
      ...withWhatStoodThere(stock, there),
      place: to,
      period: stock.period === null ? null : named(stock.period),
      before: stock.before === null ? null : named(stock.before),
      formerly: [...(stock.formerly ?? []), from],
    });
    folding.stock = kept;
  }
  if (folding.shift !== null) folding.shift = { ...folding.shift, periods: folding.shift.periods.map(named) };
  folding.between = folding.between.map(named);
}
