// What a pour or a loss emptied: said at once, also when the books go below zero.

import type { Item } from '../../domain/catalogue/item.ts';
import { type Books, stockKey } from '../../domain/ledger/books.ts';
import type { Event } from '../../domain/ledger/event.ts';
import { drinksOf, LOW_DRINKS } from '../../domain/service/levels.ts';
import type { ItemId } from '../../domain/value/ids.ts';
import { shortName, usableNow } from '../format.ts';

/** What an event took of which item. */
const drawnBy = (event: Event): { readonly item: ItemId; readonly amount: number }[] => {
  if (event.kind === 'drink-poured' || event.kind === 'measure-poured' || event.kind === 'prep-made')
    return event.draws;
  return event.kind === 'stock-lost' ? [event] : [];
};

/** "out: Lime", "below zero: Lime, Mint (count them, or record what came in)"; nothing when all is there. */
export function ranOut(events: readonly Event[], books: Books): string[] {
  const short = events.flatMap((event) =>
    event.kind === 'stock-moved' && (books.stock.get(stockKey(event.item, event.from))?.amount ?? 0) < 0
      ? [`${event.from} is below zero now: more went than the books knew of there`]
      : [],
  );
  const drawn = new Map<ItemId, number>();
  for (const { item, amount } of events.flatMap(drawnBy)) drawn.set(item, (drawn.get(item) ?? 0) + amount);
  const touched = [...drawn.keys()].flatMap((id) => books.items.get(id) ?? []);
  const left = (item: Item): number => usableNow(books).get(item.id) ?? 0;
  const names = (items: readonly Item[]): string => items.map(shortName).join(', ');
  const out = touched.filter((item) => left(item) === 0);
  const below = touched.filter((item) => left(item) < 0);
  // Said once, by the pour that crosses the line, and not again with every pour after it.
  const isLow = (item: Item, amount: number): boolean =>
    (drinksOf(books, item.id, amount) ?? LOW_DRINKS + 1) <= LOW_DRINKS;
  const low = touched.filter(
    (item) =>
      left(item) > 0 && isLow(item, left(item)) && !isLow(item, left(item) + (drawn.get(item.id) ?? 0)),
  );
  return [
    ...short,
    ...(low.length === 0
      ? []
      : [
          `getting low: ${low.map((item) => `${shortName(item)}, ${drinksOf(books, item.id, left(item))} drinks left`).join(', ')}`,
        ]),
    ...(out.length === 0 ? [] : [`out: ${names(out)}`]),
    ...(below.length === 0 ? [] : [`below zero: ${names(below)} (count, or record what came in)`]),
  ];
}
