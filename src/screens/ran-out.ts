// What a pour or a loss emptied: said at once, also when the books go below zero.
import type { Books } from '../domain/books.ts';
import type { Event } from '../domain/event.ts';
import type { Item } from '../domain/item.ts';
import { expectedNow, shortName } from './format.ts';

const drawnBy = (event: Event): string[] => {
  if (event.kind === 'drink-poured' || event.kind === 'measure-poured')
    return event.draws.map(({ item }) => item);
  return event.kind === 'stock-lost' ? [event.item] : [];
};

/** "out: Lime", "below zero: Lime, Mint (count them, or record what came in)"; nothing when all is there. */
export function ranOut(events: readonly Event[], books: Books): string[] {
  const touched = [...new Set(events.flatMap(drawnBy))].flatMap((id) => books.items.get(id as never) ?? []);
  const left = (item: Item): number => expectedNow(books).get(item.id) ?? 0;
  const names = (items: readonly Item[]): string => items.map(shortName).join(', ');
  const out = touched.filter((item) => left(item) === 0);
  const below = touched.filter((item) => left(item) < 0);
  return [
    ...(out.length === 0 ? [] : [`out: ${names(out)}`]),
    ...(below.length === 0 ? [] : [`below zero: ${names(below)} (count, or record what came in)`]),
  ];
}
