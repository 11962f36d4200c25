// What the Order room lists: one list a supplier in the order of the walk, then what is on its way.
import type { Item } from '../../domain/catalogue/item.ts';
import type { Books } from '../../domain/ledger/books.ts';
import type { EventOf } from '../../domain/ledger/event.ts';
import { type Edits, editedOrders } from '../../domain/order/edited.ts';
import { type OrderLine, ordersFor, type SupplierOrder } from '../../domain/order/order.ts';
import { orderSetting, type Past } from '../../domain/order/past.ts';
import { itemIndex } from '../../domain/search/house-search.ts';
import { searchIndex } from '../../domain/search/search.ts';
import { memoBy } from '../../domain/value/memo.ts';
import type { FilterState } from '../filter.ts';
import type { Scene } from '../room.ts';

export type OrderState = FilterState & {
  readonly edits: Edits;
  /** The line whose cases are being typed: the next digit goes to it, not before it. */
  readonly typing: Item['id'] | null;
};

export type OrderRow =
  | { readonly kind: 'order'; readonly order: SupplierOrder }
  | { readonly kind: 'line'; readonly order: SupplierOrder; readonly line: OrderLine }
  | { readonly kind: 'open'; readonly event: EventOf<'order-placed'> }
  /** What is typed and stocked: to be added. */
  | { readonly kind: 'add'; readonly line: OrderLine };

const allOrders = memoBy(
  (books: Books, past: Past, hour: string) => [books, past, hour],
  (books, past, hour): readonly SupplierOrder[] =>
    ordersFor(books, orderSetting(books, past, `${hour}:00.000Z`), () => true),
);

const everything = ({ books, ahead, now }: Scene): readonly SupplierOrder[] =>
  ahead === null ? [] : allOrders(books, ahead, now.slice(0, 16));

export const ordersNow = (scene: Scene, edits: Edits): SupplierOrder[] =>
  editedOrders(everything(scene), edits);

/** "cream", "cream 3", "cream=3": what is looked for, and how many cases of it where that is said. */
export function wantedBy(query: string): { readonly name: string; readonly cases: number | null } {
  const [, name = query, many] = /^(.*?\D)(?:\s*=\s*|\s+)(\d{1,3})$/.exec(query.trim()) ?? [];
  // A sign of equality with no number after it is no part of a name.
  const odd = many === undefined && query.includes('=');
  return { name: odd ? '=' : name.replace(/[\s=]+$/, ''), cases: many === undefined ? null : Number(many) };
}

export function orderRows(scene: Scene, { edits, query }: OrderState): readonly OrderRow[] {
  if (query.trim() !== '') {
    const { name } = wantedBy(query);
    const found = new Set(
      searchIndex(itemIndex(scene.books), name, () => 0)
        .slice(0, 12)
        .map(({ id }) => id),
    );
    return everything(scene)
      .flatMap(({ lines }) => lines)
      .filter(({ item }) => found.has(item.id))
      .map((line): OrderRow => ({ kind: 'add', line }));
  }
  return [
    ...ordersNow(scene, edits).flatMap((order): OrderRow[] => [
      { kind: 'order', order },
      ...order.lines.map((line): OrderRow => ({ kind: 'line', order, line })),
    ]),
    ...[...scene.books.orders.values()].map((event): OrderRow => ({ kind: 'open', event })),
  ];
}
