// What stands first in a report: money with a floor, certainty beside it.
import { expect, it } from 'vitest';
import { newHouse } from '../../../src/domain/catalogue/house.ts';
import { closingReport } from '../../../src/domain/report/closing.ts';
import { byWeight, matters } from '../../../src/domain/report/order.ts';
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

it('puts the dear before the cheap, what is beyond its ± before what is within it, and the uncounted last', () => {
  expect(
    order(
      row('uncounted', null, null, null),
      row('unsure', 40, 60, 900),
      row('cheap', 200, 60, 300),
      row('dear', 200, 60, 900),
    ),
  ).toEqual(['dear', 'cheap', 'unsure', 'uncounted']);
});

it('goes by money, however sure it is', () => {
  expect(order(row('surest', 2400, 60, 500), row('dearer', 61, 60, 501))).toEqual(['dearer', 'surest']);
});

it('weighs extra as much as missing', () => {
  expect(order(row('missing', 200, 60, 800), row('extra', -200, 60, -900))).toEqual(['extra', 'missing']);
});

it('does not put forward what is worth less than the floor of the house, however sure it is', () => {
  // The floor is 100 minor units: 99 stays behind what is hardly surer than chance and worth 101.
  expect(order(row('small', 33, 1, 99), row('larger', 61, 60, 101))).toEqual(['larger', 'small']);
  expect(matters(row('small', 33, 1, 99), newHouse)).toBe(false);
  expect(matters(row('larger', 61, 60, 101), newHouse)).toBe(true);
});

it('takes an item without a cost for worth the floor: nobody knows', () => {
  expect(order(row('free', 70, 60, null), row('dearer', 61, 60, 101), row('small', 61, 60, 99))).toEqual([
    'dearer',
    'free',
    'small',
  ]);
});

it('puts a reading that cannot be before all', () => {
  expect(order(row('dear', 200, 60, 900), { ...row('wild', -9, 1, -1), improbable: true })).toEqual([
    'wild',
    'dear',
  ]);
});
