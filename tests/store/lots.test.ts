// Making, using, throwing away, ordering, receiving, counting and taking back in any order: stock neither appears nor vanishes, lots and
// totals agree, and nothing past its date is ever reckoned with. ULLAGE_RUNS=10000 runs more sequences than a test has time for.
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type Item, TAP_WATER } from '../../src/domain/catalogue/item.ts';
import type { PrepCard } from '../../src/domain/catalogue/spec.ts';
import { intendItem, intendSpec } from '../../src/domain/intent/intend-house.ts';
import { intendStraight } from '../../src/domain/intent/intend-pour.ts';
import { intendOpenShift, intendSeal } from '../../src/domain/intent/intend-shift.ts';
import { intendCount, intendDelivery, intendLoss } from '../../src/domain/intent/intend-stock.ts';
import type { Intent } from '../../src/domain/intent/intent.ts';
import { intendOrder, intendReceived } from '../../src/domain/intent/order/intend-order.ts';
import { intendDiscard, intendMaking } from '../../src/domain/intent/prep/intend-prep.ts';
import { type Books, emptyBooks, expectedByItem, usableByItem } from '../../src/domain/ledger/books.ts';
import { booksAt, lotsFor } from '../../src/domain/ledger/stock/in-date.ts';
import { isLate } from '../../src/domain/ledger/stock/lot.ts';
import { newEventId } from '../../src/shell/world.ts';
import { openSqliteStore } from '../../src/store/file/sqlite.ts';
import { takeBackOne } from '../../src/store/last.ts';
import { items as plainItems } from '../support/events.ts';
import { foldEvents } from '../support/fold.ts';
import { tempFolder } from '../support/night.ts';
import { aSpec } from '../support/shelf.ts';

const nobody = { by: null };
const itemNamed = (id: string, more: Partial<Item> = {}): Item => ({
  ...(plainItems[0] as Item),
  id: id as Item['id'],
  name: `The ${id}`,
  also: [],
  size: 500_000,
  ...more,
});
/** Bought and never spoils; made of it and kept for hours; made of that; bought and kept for two days, once open for an hour. */
const stocked = [
  itemNamed('base'),
  itemNamed('sirop'),
  itemNamed('batch'),
  itemNamed('milk', { keeps: { many: 2, unit: 'hours' }, opened: { many: 1, unit: 'hours' } }),
];
const cardOf = (id: string, from: readonly string[], keeps: number): PrepCard => {
  const makes = { item: id as Item['id'], amount: 300_000, text: '300 ml' };
  const measures = [...from.map((item) => `100 ml ${item}`), `100 ml ${TAP_WATER.id}`];
  return { ...aSpec(`make-${id}`, measures, { keeps: { many: keeps, unit: 'hours' } }), makes };
};
const cards = [cardOf('sirop', ['base'], 3), cardOf('batch', ['sirop', 'milk'], 2)];
const item = (n: number): Item => stocked[n % stocked.length] as Item;

const deeds: readonly ((n: number) => Intent)[] = [
  (n) => (books, now) =>
    intendMaking(
      books,
      {
        ...nobody,
        card: cards[n % 2] as PrepCard,
        times: 1 + (n % 3),
        amount: n % 4 === 0 ? 123_456 + n : null,
      },
      now,
    ),
  (n) => (books) =>
    intendStraight(books, { ...nobody, item: item(n), amount: 45_000, count: 1 + (n % 2), as: 'sale' }),
  (n) => (books) => {
    const lots = [...books.lots.values()].flat().filter(({ left }) => left > 0);
    return intendDiscard(books, lots[n % Math.max(1, lots.length)]?.id ?? newEventId(), nobody);
  },
  (n) => (books) =>
    intendDelivery(books, { ...nobody, item: item(n), containers: '1.5', costMinor: 1000 + n }),
  (n) => (books) =>
    intendCount(books, { ...nobody, item: item(n), reading: `${n % 3}.${n % 10}`, again: false }),
  (n) => (books) =>
    intendLoss(books, { ...nobody, item: item(n), amount: 30_000, why: n % 2 === 0 ? 'spoiled' : 'spill' }),
  (n) => (books) =>
    intendOrder(
      books,
      {
        supplier: null,
        deliveryAt: '2026-11-25',
        lines: [{ item: item(n).id, containers: 2, costMinor: 900 }],
      },
      nobody,
    ),
  (n) => (books) =>
    intendReceived(
      books,
      [...books.orders.keys()][n % Math.max(1, books.orders.size)] ?? newEventId(),
      [],
      nobody,
    ),
  () => (books, now) => intendSeal(books, { ...nobody, now }),
  () => (books, now) => intendOpenShift(books, { ...nobody, now }),
];
const step = fc.record({
  deed: fc.oneof({ weight: 3, arbitrary: fc.nat(2) }, { weight: 2, arbitrary: fc.nat(deeds.length - 1) }),
  n: fc.nat(20),
  minutes: fc.integer({ min: 2, max: 90 }),
  back: fc.constantFrom('no', 'no', 'no', 'last', 'any'),
});

function lotsAgree(books: Books, now: string): void {
  const [stands, usable] = [expectedByItem(books), usableByItem(booksAt(books, now))];
  for (const [id, lots] of books.lots) {
    const left = lots.reduce((sum, lot) => sum + lot.left, 0);
    const total = stands.get(id) ?? 0;
    expect(left).toBeLessThanOrEqual(Math.max(0, total));
    for (const lot of lots) expect(lot.left >= 0 && lot.left <= lot.amount).toBe(true);
    const late = lots.filter((lot) => isLate(lot, now)).reduce((sum, lot) => sum + lot.left, 0);
    // What stands open too long is late, too; never more is late than stands there.
    expect(usable.get(id)).toBeLessThanOrEqual(total - late);
    expect(usable.get(id)).toBeGreaterThanOrEqual(Math.min(0, total));
    // What is taken now comes from nothing that is late.
    for (const lot of lotsFor(books, id, Math.max(0, total - late), now) ?? [])
      expect(isLate(lot, now)).toBe(false);
    expect(late > 0 && lotsFor(books, id, total, now) !== null).toBe(false);
  }
}

/** All that was recorded and counts, added up by hand: what was there at the last count of a place, and what came and went since. */
const flat = (books: Books): unknown =>
  JSON.parse(
    JSON.stringify({ ...books, last: null, lastOfNight: null }, (_, value: unknown) =>
      value instanceof Map ? [...value].sort(([a], [b]) => (String(a) < String(b) ? -1 : 1)) : value,
    ),
  );

it('lots and totals agree whatever is done and taken back, and the books are sound', () => {
  const folder = tempFolder();
  let run = 0;
  fc.assert(
    fc.property(fc.array(step, { minLength: 6, maxLength: 30 }), (steps) => {
      run += 1;
      let clock = Date.parse('2026-11-20T12:00:00.000Z');
      const setting = { now: () => clock, newId: newEventId, station: () => 'well' };
      const opened = openSqliteStore(join(folder, `l${run}`), setting);
      if (!opened.ok) throw new Error(opened.problems[0]?.message);
      const store = opened.value;
      try {
        for (const one of stocked) store.record((books) => intendItem(books, one));
        for (const card of cards) store.record((books) => intendSpec(books, card));
        store.record((books, now) => intendOpenShift(books, { ...nobody, now }));
        store.record((books) =>
          intendDelivery(books, { ...nobody, item: item(0), containers: '6', costMinor: 900 }),
        );
        for (const { deed, n, minutes, back } of steps) {
          clock += minutes * 60_000;
          if (back === 'last') takeBackOne(store, null);
          else if (back === 'any') {
            const event = store.log(100)[n]?.event;
            if (event !== undefined) takeBackOne(store, event.id);
          } else store.record((deeds[deed] as (n: number) => Intent)(n));
          lotsAgree(store.books(), new Date(clock).toISOString());
        }
        expect(store.check([])).toEqual([]);
        expect(flat(store.books())).toEqual(flat(foldEvents(emptyBooks, [...store.allEvents()])));
      } finally {
        store.close();
      }
    }),
    { numRuns: Number(process.env.ULLAGE_RUNS ?? 150) },
  );
}, 3_600_000);
