// What a pour or a loss emptied: said at once, also when the books go below zero.
import type { Books } from '../domain/books.ts';
import type { Event } from '../domain/event.ts';
import { expectedNow, shortName } from './format.ts';

const drawnBy = (event: Event): string[] => {
  if (event.kind === 'drink-poured' || event.kind === 'measure-poured')
    return event.draws.map(({ item }) => item);
  return event.kind === 'stock-lost' ? [event.item] : [];
};

/** "Lime is out", "Lime is below zero: count it or record what came in". */
export function ranOut(events: readonly Event[], books: Books): string[] {
  const touched = new Set(events.flatMap(drawnBy));
  return [...touched].flatMap((id) => {
    const item = books.items.get(id as never);
    const left = expectedNow(books).get(id as never) ?? 0;
    if (item === undefined || left > 0) return [];
    return [
      left === 0
        ? `${shortName(item)} is out`
        : `${shortName(item)} is below zero: count it, or record what came in`,
    ];
  });
}
