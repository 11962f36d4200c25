// Book-keeping over a stretch of nights. Cost of beverages = opening + purchases − closing, and the weighted average price:
// Dittmer & Keefe, Principles of Food, Beverage, and Labor Cost Controls, 9th ed. 2009, ch. 8 and 16 (seen second-hand).
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { closingReport } from '../../../src/domain/report/closing.ts';
import { type Bookkeeping, bookkeeping } from '../../../src/domain/report/course/bookkeeping.ts';
import type { Report } from '../../../src/domain/report/report.ts';
import { anItem } from '../../support/shelf.ts';
import { counts, opens, pours, receives, type Step, stocks } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const gin = anItem('gin', { costMinor: 2000 });
/** The books of everything up to `night`, and the figures over `night`. */
function over(start: readonly Step[] | null, night: readonly Step[]): Bookkeeping {
  const end = booksAfter(start ?? [], night);
  const before = start === null ? null : booksAfter(start);
  return bookkeeping(before, end, closingReport(end) as Report, 'cellar');
}
const atCellar = { place: 'cellar', sealed: 0 };

it('values closing stock at the moving average of what stood there and what came in', () => {
  // Two bottles at 20.00 and two more at 30.00: 100.00 for four, 25.00 each. One is left: 25.00.
  const figures = over(
    [...stocks(gin), counts('gin', 1400)],
    [opens(), receives('gin', 2, 1400, 3000), counts('gin', 700)],
  );
  expect(figures).toMatchObject({
    barOpeningMinor: 4000,
    purchasesMinor: 6000,
    barClosingMinor: 2500,
    storeroomOpeningMinor: 0,
    storeroomClosingMinor: 0,
    closingAverageMinor: 2500,
    closingLatestMinor: 3000,
  });
  // 40 + 60 − 25 = 75.00; turnover 75 ÷ (40 + 25)/2 = 2.3077.
  expect(figures.cost.cost).toBe(7500);
  expect(figures.turnover).toBeCloseTo(2.3077, 4);
});

it('keeps the storeroom and the bar apart', () => {
  const figures = over(
    [...stocks(gin), counts('gin', 700), counts('gin', 2800, atCellar)],
    [
      opens(),
      { kind: 'stock-moved', item: 'gin', from: 'cellar', to: 'bar', containers: 1, amount: 700_000 },
      counts('gin', 350),
    ],
  );
  // Storeroom 80.00 to 60.00, bar 20.00 to 10.00: issued 20, differential 10, cost 30.
  expect(figures).toMatchObject({
    storeroomOpeningMinor: 8000,
    storeroomClosingMinor: 6000,
    barOpeningMinor: 2000,
    barClosingMinor: 1000,
    cost: { issued: 2000, differential: 1000, cost: 3000 },
  });
});

it('takes what was counted for the first time as having stood there at the beginning', () => {
  // 700 counted after 350 were poured and 700 came in: 350 stood there before, 10.00.
  const figures = over(null, [
    ...stocks(gin),
    opens(),
    receives('gin', 1, 700),
    pours('quay', 7, [['gin', 350]]),
    counts('gin', 700),
  ]);
  expect(figures).toMatchObject({ barOpeningMinor: 1000, purchasesMinor: 2000, barClosingMinor: 2000 });
  expect(figures.cost.cost).toBe(1000);
});

it('sets the cost against sales, and takes off what staff and guests of the house had', () => {
  const millis = (ml: number): number => Math.round((ml * 2000 * 1000) / 700);
  const pour = (as: 'sale' | 'staff' | 'comp', count: number): Step =>
    pours('quay', count, [['gin', 70 * count, millis(70 * count)]], { as, price: 1000 });
  const figures = over(
    [...stocks(gin), counts('gin', 1400)],
    [opens(), pour('sale', 5), pour('staff', 1), pour('comp', 2), counts('gin', 840)],
  );
  // 560 of 1400 ml gone: 16.00 of 40.00. Staff 70 ml = 2.00, comps 140 ml = 4.00. Sales 5 × 10.00.
  expect(figures).toMatchObject({ staffMinor: 200, compMinor: 400, salesMinor: 5000 });
  expect(figures.cost).toMatchObject({
    cost: 1600,
    costPercent: 32,
    adjustedCost: 1000,
    adjustedPercent: 20,
  });
});

it('has no percent without sales and no turnover without stock', () => {
  const figures = over(null, [opens()]);
  expect([figures.cost.cost, figures.cost.costPercent, figures.turnover]).toEqual([0, null, null]);
  expect(figures.stock).toEqual([]);
});

it('splits the value of the stock so that both columns add up to their totals', () => {
  // Three items at a third of a minor unit each: 1.00 together, to be split without a rest.
  const cheap = ['a', 'b', 'c'].map((id) => anItem(id, { costMinor: 1, size: 3000 }));
  const figures = over([...stocks(...cheap), ...cheap.map(({ id }) => counts(id, 1))], [opens()]);
  expect(figures.closingLatestMinor).toBe(1);
  expect(figures.stock.map(({ latestMinor }) => latestMinor)).toEqual([1, 0, 0]);
  expect(figures.stock.map(({ averageMinor }) => averageMinor)).toEqual([1, 0, 0]);
});

it('names items without a cost and items below zero, and values neither', () => {
  const figures = over(
    [...stocks(gin, anItem('gift', { costMinor: null })), counts('gift', 700)],
    [opens(), pours('quay', 1, [['gin', 50]])],
  );
  expect(figures).toMatchObject({ unpriced: ['gift'], belowZero: ['gin'], stock: [] });
});

it('values first stock at the price it was written with, whatever a later delivery costs', () => {
  // Two at 14.00, two more at 28.00: 28.00 stood there, 84.00 for four, 21.00 each.
  const figures = over(null, [
    ...stocks(anItem('it-1', { costMinor: 1400 })),
    counts('it-1', 1400),
    opens(),
    receives('it-1', 2, 1400, 2800),
  ]);
  expect(figures).toMatchObject({ barOpeningMinor: 2800, purchasesMinor: 5600, barClosingMinor: 8400 });
  expect(figures.cost.cost).toBe(0);
});

it('moves the average with what comes in only', () => {
  // 2 × 20.00, one poured away; 1 × 30.00 comes: 50.00 for two, 25.00 each. Half of it goes: 25.00 left, cost 45.00.
  const figures = over(
    [...stocks(gin), counts('gin', 1400)],
    [opens(), pours('quay', 14, [['gin', 700]]), receives('gin', 1, 700, 3000), counts('gin', 700)],
  );
  expect(figures).toMatchObject({ barOpeningMinor: 4000, barClosingMinor: 2500, costMillis: 4_500_000 });
});

it('calls it no gain when a price is written anew, or written at last', () => {
  const dearer = stocks(anItem('gin', { costMinor: 9900 }));
  const free = anItem('gin', { costMinor: null });
  expect(over([...stocks(gin), counts('gin', 700)], [...dearer, opens()]).cost.cost).toBe(0);
  expect(over([...stocks(free), counts('gin', 700)], [...stocks(gin), opens()])).toMatchObject({
    barOpeningMinor: 2000,
    barClosingMinor: 2000,
  });
});

it('adds up: what nights cost is what the stretch cost, to the thousandth of a minor unit', () => {
  const ml = fc.integer({ min: 1, max: 2000 });
  const step = fc.oneof(
    fc
      .tuple(ml, fc.integer({ min: 1, max: 9999 }))
      .map(([amount, cost]) => receives('gin', amount / 700, amount, cost)),
    ml.map((amount) => pours('quay', 1, [['gin', amount]])),
    ml.map((amount) => counts('gin', amount)),
    ml.map((amount) => counts('gin', amount, atCellar)),
    fc.integer({ min: 1, max: 9999 }).map((costMinor): Step[] => stocks(anItem('gin', { costMinor }))),
  );
  const night = fc.array(step, { maxLength: 6 }).map((steps): Step[] => [opens(), ...steps.flat()]);
  fc.assert(
    fc.property(fc.array(night, { minLength: 2, maxLength: 5 }), fc.boolean(), (nights, isPriced) => {
      const told = (until: number): Step[] => [
        ...stocks(isPriced ? gin : anItem('gin', { costMinor: null })),
        ...nights.slice(0, until).flat(),
      ];
      const single = nights.map((steps, index) => over(told(index), steps).costMillis);
      const whole = over(told(0), nights.flat()).costMillis;
      expect(single.reduce((sum, millis) => sum + millis, 0)).toBe(whole);
    }),
  );
});
