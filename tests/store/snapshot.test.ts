// A checkpoint is only a cache: what comes back is what went in, and one of another shape is thrown away.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { type Books, emptyBooks } from '../../src/domain/ledger/books.ts';
import { compareEvents, type EventKey } from '../../src/domain/ledger/event.ts';
import { foldInOrder } from '../../src/domain/ledger/ledger.ts';
import { booksOfSnapshot, shiftOfSnapshot, snapshotOf } from '../../src/store/file/snapshot.ts';
import { nights } from '../support/events.ts';
import { foldEvents } from '../support/fold.ts';
import { kitchen } from '../support/kitchen.ts';
import { anItem } from '../support/shelf.ts';
import { counts, joins, opens, pours, receives, seals, stocks } from '../support/steps.ts';
import { booksAfter } from '../support/told.ts';

const key: EventKey = { at: '2026-11-20T18:00:00.000Z', station: 'a', seq: 9 };
const steps = [
  ...stocks(anItem('gin')),
  joins('Ines'),
  counts('gin', 1400),
  opens('2026-11-20', 'ines'),
  receives('gin', 1, 700, 2500),
  pours('quay', 2, [['gin', 120, 360_000]], { price: 900, by: 'ines' }),
  counts('gin', 1900),
];
const open = booksAfter(steps);
/** Only what describes the house: what a checkpoint stands on. */
const catalogue = booksAfter(stocks(anItem('gin')), joins('Ines'));
const back = (books: Books, on: Books = books, last: EventKey = books.last ?? key): Books | null =>
  booksOfSnapshot(snapshotOf(books), on, last);

it('gives back the books of an open night, of a sealed one and of none', () => {
  expect(back(open)).toEqual(open);
  const sealed = booksAfter(steps, seals('ines'));
  expect(back(sealed)).toEqual(sealed);
  expect(back(emptyBooks)).toEqual({ ...emptyBooks, last: key });
});

it('stands on the catalogue alone, the last cost of an item included', () => {
  // The card said 21.00; the delivery came at 25.00.
  expect(catalogue.items.get('gin' as never)?.costMinor).toBe(2100);
  expect(back(open, catalogue)?.items.get('gin' as never)?.costMinor).toBe(2500);
  expect(back(open, catalogue)?.stock).toEqual(open.stock);
});

it('goes on from there as if nothing had been put away', () => {
  fc.assert(
    fc.property(nights(30), fc.nat(30), (told, cut) => {
      const events = told.sort(compareEvents);
      const whole = foldEvents(emptyBooks, events);
      // The items come first; the cut lies somewhere in the night.
      const at = Math.min(events.length, 3 + cut);
      const before = foldInOrder(emptyBooks, events.slice(0, at));
      const restored = booksOfSnapshot(snapshotOf(before), before, before.last ?? key);
      expect(restored).not.toBeNull();
      expect(foldInOrder(restored ?? emptyBooks, events.slice(at))).toEqual(whole);
    }),
    { numRuns: 60 },
  );
});

it('shows the shift by itself', () => {
  expect(shiftOfSnapshot(snapshotOf(open))).toEqual(open.shift);
  expect(shiftOfSnapshot(snapshotOf(emptyBooks))).toBeNull();
});

it('is nothing when it is of another shape or cut about', () => {
  const text = snapshotOf(open);
  const spoiled = (change: (kept: Record<string, unknown>) => void): string => {
    const kept = JSON.parse(text) as Record<string, unknown>;
    change(kept);
    return JSON.stringify(kept);
  };
  const read = (said: string) => booksOfSnapshot(said, open, key);
  expect(read(spoiled((kept) => Object.assign(kept, { shape: 1 })))).toBeNull();
  expect(read(spoiled((kept) => Object.assign(kept, { stock: [] })))).toBeNull();
  expect(read(spoiled((kept) => Object.assign(kept, { tallies: undefined })))).toBeNull();
  expect(read('{}')).toBeNull();
  expect(read('null')).toBeNull();
  expect(shiftOfSnapshot('{}')).toBeNull();
});

it('keeps what a making said of an item, however often that is bought afterwards', async () => {
  const night = await kitchen();
  await night.ok('item', 'house-syrup', '--write', 'keeps: 2 days');
  await night.ok('make', 'White Syrup');
  for (let times = 0; times < 25; times += 1) {
    await night.ok('lose 1620ml house-syrup --why spill');
    await night.ok('receive 1.62 house-syrup');
  }
  const events = night.store((store) => [...store.allEvents()]);
  const books = foldEvents(emptyBooks, events);
  const house = foldEvents(
    emptyBooks,
    events.filter(({ kind }) => !/^(prep-made|stock-|delivery-)/.test(kind)),
  );
  const made = 'house-syrup' as never;
  expect(books.lots.get(made)?.some(({ isMade }) => isMade)).toBe(false);
  expect(house.items.get(made)).not.toEqual(books.items.get(made));
  expect(back(books, house, books.last ?? key)?.items.get(made)).toEqual(books.items.get(made));
});
