// What stands first in a report: sure and costly before unsure and cheap.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { newHouse } from '../../../src/domain/catalogue/house.ts';
import { closingReport } from '../../../src/domain/report/closing.ts';
import { byWeight, weightOf } from '../../../src/domain/report/order.ts';
import type { ReportItem } from '../../../src/domain/report/report.ts';
import { anItem } from '../../support/shelf.ts';
import { counts, opens, stocks } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const one = closingReport(booksAfter(stocks(anItem('gin')), counts('gin', 700), opens(), counts('gin', 700)))
  ?.items[0];
if (one === undefined) throw new Error('a report of one item');
const row = (
  name: string,
  missing: number | null,
  uncertainty: number | null,
  missingCostMinor: number | null,
): ReportItem => ({ ...one, name, missing, uncertainty, missingCostMinor });
const order = (...rows: readonly ReportItem[]): string[] =>
  [...rows].sort(byWeight(newHouse)).map(({ name }) => name);

it('puts the sure before the unsure, the dear before the cheap, and the uncounted last', () => {
  expect(
    order(
      row('uncounted', null, null, null),
      row('unsure', 40, 60, 900),
      row('cheap', 200, 60, 300),
      row('dear', 200, 60, 900),
    ),
  ).toEqual(['dear', 'cheap', 'unsure', 'uncounted']);
});

it('weighs extra as much as missing', () => {
  expect(weightOf(row('extra', -200, 60, -900), newHouse)).toBe(
    weightOf(row('missing', 200, 60, 900), newHouse),
  );
});

it('does not put forward what is worth less than the floor of the house, however sure it is', () => {
  // The floor is 100 minor units: 99 stays behind what is hardly surer than chance and worth 101.
  expect(order(row('small', 33, 1, 99), row('larger', 61, 60, 101))).toEqual(['larger', 'small']);
});

it('lets certainty count up to four times its ±', () => {
  expect(weightOf(row('four', 240, 60, 500), newHouse)).toBe(2000);
  expect(weightOf(row('forty', 2400, 60, 500), newHouse)).toBe(2000);
  expect(weightOf(row('two', 120, 60, 500), newHouse)).toBe(1000);
});

it('takes a figure without ± for certain, and nothing missing for nothing', () => {
  expect(weightOf(row('pieces', 2, 0, 500), newHouse)).toBe(2000);
  expect(weightOf(row('none', 0, 0, 0), newHouse)).toBe(0);
});

it('weighs an item without a cost by its certainty', () => {
  expect(order(row('free', 70, 60, null), row('surer', 150, 60, null))).toEqual(['surer', 'free']);
});

it('gives one order for the same rows, however they came', () => {
  const some = fc.uniqueArray(
    fc.tuple(fc.string({ minLength: 1, maxLength: 6 }), fc.integer({ min: -300, max: 300 })),
    { selector: ([name]) => name, maxLength: 8 },
  );
  fc.assert(
    fc.property(some, (list) => {
      const rows = list.map(([name, missing]) => row(name, missing, 60, missing * 3));
      expect(order(...rows)).toEqual(order(...[...rows].reverse()));
    }),
  );
});
