// What may still be used at a moment: what stands, less the lots past their date and what has stood open too long. Late stock is still
// stock, it is counted and thrown away as such; it is only never reckoned with for tonight.
import type { Item } from '../../catalogue/item.ts';
import { discardAfter } from '../../catalogue/keeping.ts';
import type { Thousandths } from '../../value/amount.ts';
import type { EventId, ItemId } from '../../value/ids.ts';
import { type Books, expectedByItem, type Stock } from '../books.ts';
import { isLate, type Lot } from './lot.ts';

/** Until when what stands open of an item may be used; null where nobody knows, or it keeps. */
export function openUntil({ items, house }: Books, { item, openedAt }: Stock): string | null {
  const opened = items.get(item)?.opened;
  return opened === undefined || openedAt === undefined ? null : discardAfter(opened, openedAt, house);
}

/** What stands open of items past its time, place by place. */
export const lateOpen = (
  books: Books,
  at: string,
): { readonly item: Item; readonly place: string; readonly amount: Thousandths; readonly until: string }[] =>
  [...books.stock.values()].flatMap((stock) => {
    const [item, until] = [books.items.get(stock.item), openUntil(books, stock)];
    const amount = stock.open.reduce((sum, level) => sum + level, 0);
    return item === undefined || until === null || until > at || amount <= 0
      ? []
      : [{ item, place: stock.place, amount, until }];
  });

/**
 * Per item what stands there and may no longer be used, and never more than stands there. What stands open is used first, so it is of the
 * oldest lots: the larger of the two is late, not both of them.
 */
function lateAt(books: Books, at: string): Map<ItemId, Thousandths> {
  const opened = new Map<ItemId, Thousandths>();
  for (const { item, amount } of lateOpen(books, at))
    opened.set(item.id, (opened.get(item.id) ?? 0) + amount);
  const late = new Map<ItemId, Thousandths>();
  const stands = expectedByItem(books);
  for (const item of new Set([...books.lots.keys(), ...opened.keys()])) {
    const past = (books.lots.get(item) ?? []).filter((lot) => isLate(lot, at));
    const ofLots = past.reduce((sum, { left }) => sum + left, 0);
    const amount = Math.min(Math.max(ofLots, opened.get(item) ?? 0), stands.get(item) ?? 0);
    if (amount > 0) late.set(item, amount);
  }
  return late;
}

/** The books as they are to be read at a moment; the very same where nothing is late that was not. */
export function booksAt(books: Books, at: string): Books {
  const late = lateAt(books, at);
  const isSame =
    late.size === books.late.size && [...late].every(([item, amount]) => books.late.get(item) === amount);
  return isSame ? books : { ...books, late };
}

/** A lot by its id, whatever is left of it. */
export const lotById = ({ lots }: Pick<Books, 'lots'>, id: EventId): Lot | undefined =>
  [...lots.values()].flat().find((lot) => lot.id === id);

/** Lots of an item that hold something, oldest first. */
export const lotsOf = ({ lots }: Pick<Books, 'lots'>, item: ItemId): readonly Lot[] =>
  (lots.get(item) ?? []).filter(({ left }) => left > 0);

/** Which lots an amount taken now comes from: what has no date first, then the oldest in date. Null when only late ones would do. */
export function lotsFor(books: Books, item: ItemId, amount: Thousandths, at: string): Lot[] | null {
  const own = lotsOf(books, item);
  const late = own.filter((lot) => isLate(lot, at));
  let stands = 0;
  for (const stock of books.stock.values()) if (stock.item === item) stands += stock.amount;
  const dated = own.reduce((sum, { left }) => sum + left, 0);
  let rest = amount - Math.max(0, stands - dated);
  const taken: Lot[] = [];
  for (const lot of own) {
    if (rest <= 0) break;
    if (late.includes(lot)) continue;
    taken.push(lot);
    rest -= lot.left;
  }
  return rest > 0 && late.length > 0 ? null : taken;
}
