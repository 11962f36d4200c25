// Recording and taking back in any order: the store equals the fold, equals its own export imported again, and never holds two
// open shifts, a pour without its shift, or a card or item that something names and nobody wrote.
// ULLAGE_RUNS=10000 runs more sequences than a test has time for.
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Item } from '../../src/domain/catalogue/item.ts';
import {
  intendItem,
  intendPersonAdded,
  intendSetting,
  intendSpec,
} from '../../src/domain/intent/intend-house.ts';
import { intendPour } from '../../src/domain/intent/intend-pour.ts';
import { intendNote } from '../../src/domain/intent/intend-remark.ts';
import { intendOpenShift, intendSeal } from '../../src/domain/intent/intend-shift.ts';
import { intendCount, intendDelivery, intendLoss } from '../../src/domain/intent/intend-stock.ts';
import type { Intent } from '../../src/domain/intent/intent.ts';
import { type Books, emptyBooks, expectedByItem, usableByItem } from '../../src/domain/ledger/books.ts';
import { booksAt } from '../../src/domain/ledger/stock/in-date.ts';
import { isLate } from '../../src/domain/ledger/stock/lot.ts';
import { takenBack } from '../../src/domain/ledger/take-back.ts';
import type { EventId, ItemId, PersonId } from '../../src/domain/value/ids.ts';
import { newEventId } from '../../src/shell/world.ts';
import { openSqliteStore } from '../../src/store/file/sqlite.ts';
import { takeBackOne } from '../../src/store/last.ts';
import type { Store } from '../../src/store/store.ts';
import { deeds, itemOf, nobody, ofItem, plain, specOf } from '../support/deeds.ts';
import { foldEvents } from '../support/fold.ts';
import { tempFolder } from '../support/night.ts';

const RUNS = Number(process.env.ULLAGE_RUNS ?? 300);
type Step = { readonly deed: number; readonly n: number; readonly back: 'no' | 'last' | 'any' };
const step = fc.record({
  deed: fc.nat(deeds.length - 1),
  n: fc.nat(20),
  back: fc.constantFrom<Step['back']>('no', 'no', 'last', 'any'),
});

const clock = { now: Date.parse('2026-11-20T17:00:00.000Z') };
const setting = (station: string) => ({
  now: () => clock.now,
  newId: newEventId,
  station: () => station,
});
const open = (folder: string): Store => {
  const opened = openSqliteStore(folder, setting('well'));
  if (!opened.ok) throw new Error(opened.problems[0]?.message);
  return opened.value;
};

function work(store: Store, { deed, n, back }: Step): void {
  clock.now += 61_000 + n * 1000;
  if (back === 'no') store.record((deeds[deed] as (n: number) => Intent)(n));
  else if (back === 'last') takeBackOne(store, null);
  else {
    const all = store.log(100);
    const event = all[n % Math.max(1, all.length)]?.event;
    if (event !== undefined) takeBackOne(store, event.id);
  }
}

/** Lots never hold more than stands of their item, nor less than nothing; and what is late is never reckoned with. */
function lotsAgree(books: Books): void {
  const now = new Date(clock.now).toISOString();
  const [stands, usable] = [expectedByItem(books), usableByItem(booksAt(books, now))];
  for (const [item, lots] of books.lots) {
    const left = lots.reduce((sum, lot) => sum + lot.left, 0);
    expect(left).toBeLessThanOrEqual(Math.max(0, stands.get(item) ?? 0));
    for (const lot of lots) expect(lot.left >= 0 && lot.left <= lot.amount).toBe(true);
    const late = lots.filter((lot) => isLate(lot, now)).reduce((sum, lot) => sum + lot.left, 0);
    expect(usable.get(item)).toBe((stands.get(item) ?? 0) - late);
  }
}

it('any sequence of recording and taking back: store, fold and export agree, and nothing stands without its root', () => {
  const folder = tempFolder();
  let run = 0;
  fc.assert(
    fc.property(fc.array(step, { minLength: 4, maxLength: 24 }), (steps) => {
      run += 1;
      const store = open(join(folder, `a${run}`));
      const again = open(join(folder, `b${run}`));
      try {
        store.record((books) => intendItem(books, itemOf(0)));
        store.record((books) => intendSpec(books, specOf(0)));
        for (const one of steps) work(store, one);
        expect(store.check([])).toEqual([]);
        const events = [...store.allEvents()];
        expect(plain(store.books())).toEqual(plain(foldEvents(emptyBooks, events)));
        expect(again.importEvents(events)).toMatchObject({ ok: true });
        expect(plain(again.books())).toEqual(plain(store.books()));
        for (const stock of store.books().stock.values())
          expect(store.books().items.has(stock.item)).toBe(true);
        lotsAgree(store.books());
      } finally {
        store.close();
        again.close();
      }
    }),
    { numRuns: RUNS },
  );
}, 3_600_000);

it('refuses what would take a root away, each with its reason, and records nothing', () => {
  const store = open(tempFolder());
  const ids: Record<string, string> = {};
  const does = (name: string, intent: Intent): void => {
    clock.now += 60_000;
    const result = store.record(intent);
    if (!result.ok) throw new Error(result.problems[0]?.message);
    ids[name] = result.value[0]?.id ?? '';
  };
  const refusal = (name: string): string => {
    const before = store.log(1000).length;
    const result = takeBackOne(store, ids[name] ?? '');
    expect(store.log(1000)).toHaveLength(before);
    return result.ok ? 'done' : (result.problems[0]?.code ?? '');
  };
  does('item', (books) => intendItem(books, itemOf(0)));
  does('spec', (books) => intendSpec(books, specOf(0)));
  does('person', (books) => intendPersonAdded(books, 'Ada'));
  does('shift', (books, now) => intendOpenShift(books, { by: 'ada' as PersonId, now }));
  does('pour', (books) =>
    intendPour(books, { by: null, spec: specOf(0), count: 1, as: 'sale', changes: [] }),
  );
  expect(['item', 'spec', 'person', 'shift'].map(refusal)).toEqual([
    'item-in-use',
    'spec-in-use',
    'person-in-use',
    'shift-in-use',
  ]);
  // The pour, its shift: and the pour can't come back before its shift does.
  clock.now += 60_000;
  const back = takeBackOne(store, ids.pour ?? '');
  const shift = takeBackOne(store, ids.shift ?? '');
  expect([back.ok, shift.ok]).toEqual([true, true]);
  ids.pourBack = back.ok ? back.value.by[0].id : '';
  ids.shiftBack = shift.ok ? shift.value.by[0].id : '';
  expect(refusal('pourBack')).toBe('no-shift');
  does('second', (books, now) => intendOpenShift(books, { by: null, now }));
  expect(refusal('shiftBack')).toBe('shift-open');
  expect(store.check([])).toEqual([]);
  store.close();
});

it('another unit is refused for what stands; of another size what is sealed keeps what it was filled with', () => {
  const store = open(tempFolder());
  const gin = itemOf(0);
  store.record((books) => intendItem(books, gin));
  clock.now += 60_000;
  store.record((books) => intendCount(books, { by: null, item: gin, reading: '2.7', again: false }));
  clock.now += 60_000;
  const asPieces = store.record((books) =>
    intendItem(books, { ...gin, unit: 'each', size: 1000, count: 'pieces' }),
  );
  expect(asPieces.ok ? '' : asPieces.problems[0]?.code).toBe('other-unit');
  store.record((books) => intendItem(books, { ...gin, size: 1_000_000, sizeText: '1 l' }));
  // 2 × 700 ml sealed and 490 ml open: nobody filled a litre from them.
  const stock = () => store.books().stock.get(`${gin.id}\nbar`);
  expect([stock()?.amount, stock()?.sealed, stock()?.open]).toEqual([
    1_890_000,
    0,
    [490_000, 700_000, 700_000],
  ]);
  expect(store.check([])).toEqual([]);
  // What comes in from now on is of the new size.
  store.record((books) =>
    intendDelivery(books, {
      by: null,
      item: books.items.get(gin.id) ?? gin,
      containers: '2',
      costMinor: null,
    }),
  );
  expect([stock()?.amount, stock()?.sealed]).toEqual([3_890_000, 2]);
  expect(store.check([])).toEqual([]);
  store.close();
});

it('an item written first today cannot have moved yesterday', () => {
  const store = open(tempFolder());
  clock.now += 3_600_000;
  store.record((books) => intendItem(books, itemOf(0)));
  const before = new Date(clock.now - 60_000).toISOString();
  const late = store.record(
    (books) =>
      intendDelivery(books, {
        by: null,
        item: books.items.get('gin' as ItemId) as Item,
        containers: '3',
        costMinor: null,
      }),
    before,
  );
  expect(late.ok ? '' : late.problems[0]?.code).toBe('before-item');
  store.close();
});

it('what is sealed stays; but a seal that lies ahead of the clock can be made again', () => {
  const store = open(tempFolder());
  const hour = 3_600_000;
  const record = (intent: Intent): string => {
    clock.now += 60_000;
    const result = store.record(intent);
    if (!result.ok) throw new Error(result.problems[0]?.message);
    return result.value[0]?.id ?? '';
  };
  record((books) => intendItem(books, itemOf(0)));
  record((books, now) => intendOpenShift(books, { by: null, now }));
  const loss = record(
    ofItem(0, (books, item) => intendLoss(books, { ...nobody, item, amount: 10_000, why: 'spill' })),
  );
  // Twelve hours of silence by the clock are asked about, and only a sure hand seals.
  clock.now += 12 * hour;
  const odd = store.record((books, now) => intendSeal(books, { ...nobody, now }));
  expect(odd.ok ? '' : odd.problems[0]?.code).toBe('odd-clock');
  const seal = record((books, now) => intendSeal(books, { ...nobody, now, sure: true }));
  const codeOf = (id: string): string => {
    const result = takeBackOne(store, id);
    return result.ok ? 'done' : (result.problems[0]?.code ?? '');
  };
  clock.now += 60_000;
  expect([codeOf(seal), codeOf(loss)]).toEqual(['sealed', 'sealed']);
  // The clock is put right: the seal lay four hours ahead. What is tapped meanwhile comes after it.
  clock.now -= 4 * hour;
  const note = store.record((books) =>
    intendNote(books.shift?.id ?? null, { text: 'clock was wrong', item: null, by: null }),
  );
  expect(note.ok).toBe(true);
  expect(codeOf(seal)).toBe('done');
  expect(store.books().sealedUntil).toBeNull();
  record((books, now) => intendSeal(books, { ...nobody, now, sure: true }));
  expect(store.check([])).toEqual([]);
  store.close();
});

it('a currency that is in use stays, whichever way it would change', () => {
  const store = open(tempFolder());
  const set = store.record((books) => intendSetting(books, 'currency', 'GBP'));
  clock.now += 60_000;
  store.record((books) => intendItem(books, itemOf(0)));
  const back = takeBackOne(store, set.ok ? (set.value[0]?.id ?? '') : '');
  expect(back.ok ? '' : back.problems[0]?.code).toBe('currency-in-use');
  expect(store.books().house.currency).toBe('GBP');
  store.close();
});

it('twenty thousand take-backs of one another are read in a line', () => {
  const id = (n: number): EventId => `01a21786-0970-76b2-b439-${String(n).padStart(12, '0')}` as EventId;
  const chain = Array.from({ length: 20_000 }, (_, n) => ({ id: id(n + 1), target: id(n) }));
  const dead = takenBack(chain);
  // The last counts, so the one before does not, and so on: an even number of them leaves the first event as it was.
  expect([dead.has(id(0)), dead.has(id(1)), dead.size]).toEqual([false, true, 10_000]);
});
