// Everything a hand can do, by a number that chooses: for tests that do anything in any order.
import { type Item, TAP_WATER } from '../../src/domain/catalogue/item.ts';
import { isPrepCard, type Spec } from '../../src/domain/catalogue/spec.ts';
import {
  intendItem,
  intendPersonAdded,
  intendPersonLeft,
  intendSetting,
  intendSpec,
} from '../../src/domain/intent/intend-house.ts';
import { intendOut } from '../../src/domain/intent/intend-out.ts';
import { intendPour, intendStraight } from '../../src/domain/intent/intend-pour.ts';
import { intendNote } from '../../src/domain/intent/intend-remark.ts';
import { intendHandover, intendOpenShift, intendSeal } from '../../src/domain/intent/intend-shift.ts';
import { intendCount, intendDelivery, intendLoss, intendMove } from '../../src/domain/intent/intend-stock.ts';
import type { Intent } from '../../src/domain/intent/intent.ts';
import { intendOrder, intendReceived } from '../../src/domain/intent/order/intend-order.ts';
import { intendDiscard, intendMaking } from '../../src/domain/intent/prep/intend-prep.ts';
import type { Books } from '../../src/domain/ledger/books.ts';
import type { SpecId } from '../../src/domain/value/ids.ts';
import { refuse } from '../../src/domain/value/problem.ts';
import { items as plainItems } from './events.ts';

export const nobody = { by: null };

export const itemOf = (n: number): Item => ({
  ...(plainItems[n % 3] as Item),
  size: [700_000, 1_000_000][n % 2] as number,
});
export const specOf = (n: number): Spec => ({
  id: `drink-${n % 3}` as SpecId,
  name: `Drink ${n % 3}`,
  also: [],
  family: 'sour',
  glass: '',
  ice: '',
  garnish: '',
  method: 'shake',
  tags: [],
  priceMinor: 1200 + n,
  measures: [{ quantity: String(20 + (n % 2) * 10), unit: 'ml', item: itemOf(n).id }],
});

const prepOf = (n: number, from: Item, to: Item): Spec => ({
  ...specOf(n),
  id: `making-${n % 3}` as SpecId,
  name: `Making ${n % 3}`,
  priceMinor: null,
  makes: { item: to.id, amount: 200_000, text: '200 ml' },
  ...(n % 2 === 0 ? { keeps: { many: 1 + (n % 3), unit: 'hours' as const } } : {}),
  measures: [
    { quantity: '100', unit: 'ml', item: from.id },
    { quantity: '100', unit: 'ml', item: TAP_WATER.id },
  ],
});

export const thing = <T>(map: ReadonlyMap<unknown, T>, n: number): T | undefined =>
  [...map.values()][n % map.size];
const nothing = refuse('nothing', 'There is nothing of the kind.');
export const ofItem =
  (n: number, intend: (books: Books, item: Item, now: string) => ReturnType<Intent>): Intent =>
  (books, now) => {
    const item = thing(books.items, n);
    return item === undefined ? nothing : intend(books, item, now);
  };

/** Everything a hand can do, by a number that chooses among things of the kind. */
export const deeds: readonly ((n: number) => Intent)[] = [
  (n) => (books) => intendItem(books, itemOf(n)),
  (n) => (books) =>
    books.items.has(itemOf(n).id) ? intendSpec(books, specOf(n)) : intendItem(books, itemOf(n)),
  (n) => (books) => intendPersonAdded(books, `Ada ${'abc'[n % 3]}`),
  (n) => (books) => {
    const person = thing(books.people, n);
    return person === undefined ? nothing : intendPersonLeft(books, person.name);
  },
  (n) => (books) => intendSetting(books, 'currency', ['EUR', 'GBP'][n % 2] as string),
  (n) => (books) => intendSetting(books, 'pour-deviation', String(1 + (n % 3))),
  (n) => (books, now) => intendOpenShift(books, { by: thing(books.people, n)?.id ?? null, now }),
  (n) => (books) => intendHandover(books, thing(books.people, n)?.id ?? null),
  () => (books, now) => intendSeal(books, { ...nobody, now }),
  (n) => (books) => {
    const spec = thing(books.specs, n);
    return spec === undefined
      ? nothing
      : intendPour(books, { ...nobody, spec, count: 1 + (n % 3), as: 'sale', changes: [] });
  },
  (n) =>
    ofItem(n, (books, item) =>
      intendStraight(books, { ...nobody, item, amount: 40_000, count: 1, as: 'sale' }),
    ),
  (n) => ofItem(n, (books, item) => intendLoss(books, { ...nobody, item, amount: 10_000, why: 'spill' })),
  (n) =>
    ofItem(n, (books, item) =>
      intendDelivery(books, {
        ...nobody,
        item,
        containers: '2',
        costMinor: 1500 + n,
        place: ['bar', 'store'][n % 2] as string,
      }),
    ),
  (n) =>
    ofItem(n, (books, item) =>
      intendMove(books, { ...nobody, item, containers: '1', from: 'store', to: 'bar' }),
    ),
  (n) =>
    ofItem(n, (books, item) =>
      intendCount(books, { ...nobody, item, reading: `${n % 4}.${n % 10}`, again: n % 5 === 0 }),
    ),
  // A card that makes an item of another, and of water; its makings, and what is thrown away of them.
  (n) => (books) => {
    const [from, to] = [itemOf(n), itemOf(n + 1)];
    const can = books.items.has(from.id) && books.items.get(to.id)?.unit === 'ml';
    return can ? intendSpec(books, prepOf(n, from, to)) : nothing;
  },
  (n) => (books, now) => {
    const card = thing(new Map([...books.specs].filter(([, spec]) => isPrepCard(spec))), n);
    const amount = n % 3 === 0 ? 100_000 + n : null;
    return card === undefined
      ? nothing
      : intendMaking(books, { ...nobody, card, times: 1 + (n % 2), amount }, now);
  },
  (n) => (books) => {
    const lots = [...books.lots.values()].flat().filter(({ left }) => left > 0);
    const lot = lots[n % Math.max(1, lots.length)];
    return lot === undefined ? nothing : intendDiscard(books, lot.id, nobody);
  },
  (n) =>
    ofItem(n, (books, item) =>
      intendOrder(
        books,
        {
          supplier: null,
          deliveryAt: '2026-11-25',
          lines: [{ item: item.id, containers: 1 + n, costMinor: null }],
        },
        nobody,
      ),
    ),
  (n) => (books) => {
    const order = thing(books.orders, n);
    return order === undefined ? nothing : intendReceived(books, order.id, [], nobody);
  },
  (n) =>
    ofItem(n, (books, item, now) =>
      intendOut(books, { ...nobody, what: item.id, why: 'none left', until: null }, now),
    ),
  (n) => (books, now) => {
    const spec = thing(books.specs, n);
    return spec === undefined
      ? nothing
      : intendOut(books, { ...nobody, what: spec.name, why: 'none left', until: null }, now);
  },
  (n) => (books) => intendNote(books.shift?.id ?? null, { text: `note ${n}`, item: null, by: null }),
];

/** All of the books as plain data; the event folded last may be one that was taken back. */
export const plain = (books: Books): unknown =>
  JSON.parse(
    JSON.stringify({ ...books, last: null, lastOfNight: null }, (_, value: unknown) =>
      value instanceof Map ? [...value].sort(([a], [b]) => (String(a) < String(b) ? -1 : 1)) : value,
    ),
  );
