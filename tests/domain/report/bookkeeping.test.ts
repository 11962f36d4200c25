// Book-keeping over a stretch of nights. Cost of beverages = opening + purchases − closing, and the weighted average price:
// Dittmer & Keefe, Principles of Food, Beverage, and Labor Cost Controls, 9th ed. 2009, ch. 8 and 16 (seen second-hand).
import { expect, it } from 'vitest';
import { type Bookkeeping, bookkeeping } from '../../../src/domain/report/bookkeeping.ts';
import { closingReport } from '../../../src/domain/report/closing.ts';
import type { Report } from '../../../src/domain/report/report.ts';
import {
  anItem,
  booksAfter,
  counts,
  opens,
  pours,
  receives,
  type Step,
  stocks,
} from '../../support/shelf.ts';

const gin = anItem('gin', { costMinor: 2000 });
/** The books of everything up to `night`, and the figures over `night`. */
function over(start: readonly Step[] | null, night: readonly Step[]): Bookkeeping {
  const end = booksAfter(start ?? [], night);
  const before = start === null ? null : booksAfter(start);
  return bookkeeping(before, end, closingReport(end) as Report, 'cellar');
}
const atCellar = { place: 'cellar', sealed: 0 };

it('values closing stock at the weighted average of what stood there and what came in', () => {
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
