// The stock of an item through a stretch of time, for a chart: what the books expect, with a mark at every count.

import type { Item } from '../../catalogue/item.ts';
import { type Books, emptyBooks, expectedOf } from '../../ledger/books.ts';
import { compareEvents, type Event } from '../../ledger/event.ts';
import { foldInOrder } from '../../ledger/ledger.ts';
import { clockText, epochOf } from '../../value/clock-date.ts';

export type Point = { readonly x: number; readonly y: number; readonly counted: boolean };
export type Courses = {
  /** A label for every whole x. */
  readonly axis: readonly string[];
  /** y in containers of the item. */
  readonly courses: readonly { readonly item: Item; readonly points: readonly Point[] }[];
};

const HOUR = 3_600_000;

/** Through one night: after every event that changed it, by the hours since the shift was opened. */
export function coursesOfNight(
  before: Books | null,
  events: readonly Event[],
  end: Books,
  items: readonly Item[],
): Courses {
  const start = before ?? emptyBooks;
  const after = events.filter((event) => start.last === null || compareEvents(start.last, event) < 0);
  const opened = epochOf(end.shift?.openedAt ?? after[0]?.at ?? '2000-01-01T00:00:00.000Z');
  const hours = (at: string): number => Math.max(0, (epochOf(at) - opened) / HOUR);
  const points = new Map<Item, Point[]>(items.map((item) => [item, []]));
  foldInOrder(start, after, (event, snapshot) => {
    const touched = items.filter((item) => touches(event, item.id));
    if (touched.length === 0) return;
    const books = snapshot();
    const x = hours(event.at);
    for (const item of touched)
      points
        .get(item)
        ?.push({ x, y: expectedOf(books, item.id) / item.size, counted: event.kind === 'stock-counted' });
  });
  const longest = Math.ceil(after.reduce((most, event) => Math.max(most, hours(event.at)), 1));
  const axis = Array.from({ length: longest + 1 }, (_, hour) =>
    clockText(new Date(opened + hour * HOUR).toISOString(), end.house.zone),
  );
  const courses = items.map((item) => ({
    item,
    points: [
      { x: 0, y: expectedOf(start, item.id) / item.size, counted: false },
      ...(points.get(item) ?? []),
    ],
  }));
  return { axis, courses };
}

function touches(event: Event, item: string): boolean {
  if (event.kind === 'drink-poured' || event.kind === 'measure-poured')
    return event.draws.some((draw) => draw.item === item);
  return 'item' in event && event.item === item;
}

/** Through several nights: how each shift left it, marked where it was counted in that shift. */
export function coursesOfShifts(ends: readonly Books[], items: readonly Item[]): Courses {
  const axis = ends.map((books) => (books.shift?.date ?? '').slice(5));
  const countedIn = (books: Books, item: Item): boolean =>
    [...books.stock.values()].some(
      (stock) => stock.item === item.id && stock.counted?.shift === books.shift?.id,
    );
  const courses = items.map((item) => ({
    item,
    points: ends.map((books, x) => ({
      x,
      y: expectedOf(books, item.id) / item.size,
      counted: countedIn(books, item),
    })),
  }));
  return { axis, courses };
}
