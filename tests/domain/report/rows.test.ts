// One row of a report worked out by hand, the reasons beside it, and two nights that cancel.
import { expect, it } from 'vitest';
import { newHouse } from '../../../src/domain/catalogue/house.ts';
import { judge } from '../../../src/domain/count/variance.ts';
import type { Period } from '../../../src/domain/ledger/books.ts';
import { type Flows, noFlows } from '../../../src/domain/ledger/stock/flows.ts';
import { addToTally, noTally } from '../../../src/domain/ledger/tally.ts';
import {
  costOf,
  countedRow,
  earlierOf,
  lastOfEachPlace,
  reportDrinks,
  slipOf,
  sumFlows,
  uncountedRow,
  whoAndWhy,
} from '../../../src/domain/report/rows.ts';
import { unpricedText } from '../../../src/domain/report/words.ts';
import type { Drawer, Pourer } from '../../../src/domain/value/ids.ts';
import { anItem, aPiece, aSpec, itemIdOf, personIdOf, specIdOf } from '../../support/shelf.ts';
import { joins, pours, writes } from '../../support/steps.ts';
import { flows, mark, period, stock } from '../../support/stretch.ts';
import { booksAfter, told } from '../../support/told.ts';

const gin = anItem('gin');
const poured = (ml: number, pours: number): Partial<Flows> => ({ poured: ml * 1000, pours });
const rowOf = (periods: readonly Period[], item = gin) =>
  countedRow(periods, judge(periods, item, newHouse), item);

it('works out what is missing, with ± and at cost', () => {
  // 1400 at first, 600 poured in 16 glasses, 100 received: 900 expected, 780 counted: 120 missing.
  // U = 2√(20² + 20² + 16 × 1.5²) = 2√836 = 57.8 ml; 120 > 2 × 57.8 = 115.7: real. At 3 a ml: 360, ± 173.5.
  const row = rowOf([period(mark(1, 1400), mark(2, 780), { ...poured(600, 16), received: 100_000 })]);
  expect(row).toMatchObject({
    from: '2026-11-01T18:00:00.000Z',
    to: '2026-11-02T18:00:00.000Z',
    opening: 1400,
    received: 100,
    poured: 600,
    expected: 900,
    counted: 780,
    used: 720,
    missing: 120,
    uncertainty: 57.8,
    missingPercent: 20,
    missingCostMinor: 360,
    missingCostUncertaintyMinor: 173.5,
    verdict: 'real',
  });
});

it('says extra below zero, and no percent of nothing poured', () => {
  const row = rowOf([period(mark(1, 700), mark(2, 750), {})]);
  expect(row).toMatchObject({ missing: -50, missingPercent: null, missingCostMinor: -150, used: -50 });
});

it('has no money where the item has no cost', () => {
  const free = anItem('gin', { costMinor: null });
  const row = rowOf([period(mark(1, 700), mark(2, 600), {})], free);
  expect([row.missingCostMinor, row.missingCostUncertaintyMinor]).toEqual([null, null]);
  expect(costOf(700_000, gin)).toBe(2100);
  // Half of a bottle that costs one minor unit: half goes away from zero.
  expect([costOf(500, anItem('x', { size: 1000, costMinor: 1 })), costOf(0, gin)]).toEqual([1, 0]);
});

it('puts places together', () => {
  const row = rowOf([
    period(mark(2, 700), mark(4, 650), poured(40, 1)),
    period(mark(1, 1400), mark(3, 1400), {}, 'cellar'),
  ]);
  expect(row).toMatchObject({
    from: '2026-11-01T18:00:00.000Z',
    to: '2026-11-04T18:00:00.000Z',
    opening: 2100,
    counted: 2050,
    missing: 10,
  });
});

it('says of an uncounted item what is expected and nothing more', () => {
  const row = uncountedRow([
    stock({ amount: 540_000, counted: mark(1, 700), flows: flows(poured(160, 4)) }),
    stock({ place: 'cellar', amount: -10_000 }),
  ]);
  expect(row).toMatchObject({
    from: '2026-11-01T18:00:00.000Z',
    to: null,
    opening: 700,
    poured: 160,
    expected: 530,
    counted: null,
    missing: null,
    uncertainty: null,
    verdict: 'not-counted',
  });
});

it('takes the last stretch of each place, and keeps the earlier ones beside it', () => {
  const [first, second] = [period(mark(1, 700), mark(2, 690), {}), period(mark(2, 690), mark(3, 680), {})];
  const cellar = period(mark(1, 1400), mark(2, 1400), {}, 'cellar');
  const all = [first, cellar, second];
  expect(lastOfEachPlace(all)).toEqual([second, cellar]);
  // Two readings of ±20: U = 2√800 = 56.6.
  expect(earlierOf(all, [second, cellar], gin, newHouse)).toEqual([
    {
      from: '2026-11-01T18:00:00.000Z',
      to: '2026-11-02T18:00:00.000Z',
      missing: 10,
      uncertainty: 56.6,
      missingCostMinor: 30,
    },
  ]);
});

it('sums nothing to nothing', () => {
  expect(sumFlows([])).toEqual(noFlows);
});

it('gives reasons: drinks by amount, people by name, what was not sold, what was lost', () => {
  const books = booksAfter(
    joins('Zoe'),
    joins('Ada'),
    writes(aSpec('quay', ['60 ml gin'], { name: 'Quay' })),
  );
  const told = flows({
    bySpec: new Map<Drawer, number>([
      ['', 40_000],
      [specIdOf('quay'), 120_000],
      [specIdOf('gone'), 5000],
    ]),
    by: new Map<Pourer, number>([
      [personIdOf('zoe'), 100_000],
      [personIdOf('ada'), 25_000],
      ['', 40_000],
    ]),
    as: { sale: 120_000, comp: 25_000, staff: 40_000 },
    why: { spill: 10_000, breakage: 700_000 },
  });
  expect(whoAndWhy(books, told)).toEqual({
    drawnBy: [
      { spec: 'quay', name: 'Quay', amount: 120 },
      { spec: '', name: '', amount: 40 },
      { spec: 'gone', name: '', amount: 5 },
    ],
    pouredBy: [
      { name: '', amount: 40 },
      { name: 'Ada', amount: 25 },
      { name: 'Zoe', amount: 100 },
    ],
    pouredAs: [
      { name: 'staff', amount: 40 },
      { name: 'comp', amount: 25 },
    ],
    lostTo: [
      { name: 'breakage', amount: 700 },
      { name: 'spill', amount: 10 },
    ],
  });
});

/** Two stretches: `first` and `second` ml missing, with the count between them. */
const slip = (first: number, second: number) => {
  const before = period(mark(1, 1000), mark(2, 1000 - first), {});
  const last = period(mark(2, 1000 - first), mark(3, 1000 - first - second), {});
  const judged = judge([last], gin, newHouse);
  return slipOf([stock({ period: last, before })], [last], judged, gin, newHouse);
};

it('sees a likely slip where one night gives back what the other took', () => {
  // U of each is 56.6 ml: 100 missing, 95 back, 5 together.
  expect(slip(100, -95)).toEqual({ before: 100, beforeUncertainty: 56.6, together: 5, uncertainty: 56.6 });
  expect(slip(-100, 100)).toMatchObject({ before: -100, together: 0 });
});

it('sees none where both are missing, where one is within its ±, or where they do not cancel', () => {
  expect(slip(100, 95)).toBeNull();
  expect(slip(100, -50)).toBeNull();
  expect(slip(50, -100)).toBeNull();
  expect(slip(200, -100)).toBeNull();
  expect(slip(0, 0)).toBeNull();
});

it('sees none on the first stretch of all', () => {
  const last = period(mark(2, 700), mark(3, 600), {});
  expect(slipOf([stock({ period: last })], [last], judge([last], gin, newHouse), gin, newHouse)).toBeNull();
});

it('lists drinks by number, then by name, and only what they were poured as', () => {
  const books = booksAfter(writes(aSpec('quay', ['60 ml gin'], { name: 'Quay' })));
  const tally = (count: number, as: 'sale' | 'comp') => {
    const [event] = told(pours('any', count, [], { as }));
    if (event?.kind !== 'drink-poured') throw new Error('a pour');
    return addToTally(noTally, event);
  };
  const drinks = reportDrinks(
    books,
    new Map([
      [specIdOf('zinc'), tally(3, 'comp')],
      [specIdOf('quay'), tally(3, 'sale')],
      [specIdOf('none'), noTally],
      [specIdOf('mole'), tally(7, 'sale')],
    ]),
  );
  expect(drinks).toEqual([
    { spec: 'mole', name: 'mole', count: 7, as: { sale: 7 }, soldMinor: 0 },
    { spec: 'quay', name: 'Quay', count: 3, as: { sale: 3 }, soldMinor: 0 },
    { spec: 'zinc', name: 'zinc', count: 3, as: { comp: 3 }, soldMinor: 0 },
  ]);
});

it('keeps three decimals of a piece in the ±', () => {
  const egg = aPiece('egg', { size: 1000 });
  // One piece missing between readings of ±0.289 each: U = 2√(2 × 0.289²) = 0.817.
  const row = rowOf([{ ...period(mark(1, 12, 289), mark(2, 11, 289), {}), item: itemIdOf('egg') }], egg);
  expect([row.missing, row.uncertainty]).toEqual([1, 0.817]);
});

it('says how many drinks were sold that have no price, since their cost is in the pour cost', () => {
  const drink = (sale: number, soldMinor: number, comp = 0) => ({
    spec: specIdOf('quay'),
    name: 'Quay',
    count: sale + comp,
    as: { sale, comp },
    soldMinor,
  });
  const said = (...drinks: ReturnType<typeof drink>[]) => unpricedText({ drinks, items: [] } as never);
  expect(said(drink(2, 0), drink(3, 3000))).toBe('2 drinks sold have no price');
  expect(said(drink(1, 0, 4))).toBe('1 drink sold has no price');
  expect(said(drink(0, 0, 4), drink(3, 3000))).toBe('');
  // What was poured and costs nobody knows what is in no sum either.
  const thing = (isCosted: boolean, draws: number) => ({ isCosted, drawnBy: Array.from({ length: draws }) });
  expect(
    unpricedText({
      drinks: [drink(2, 0)],
      items: [thing(false, 1), thing(false, 0), thing(true, 2)],
    } as never),
  ).toBe('2 drinks sold have no price, 1 thing poured has no cost');
});
