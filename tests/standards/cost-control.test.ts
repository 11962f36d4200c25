// The cost of beverages. Dittmer & Keefe, Principles of Food, Beverage, and Labor Cost Controls, 9th ed. 2009, ch. 16,
// exercise with bars A and B (inputs published, seen second-hand; answers computed, bar B comes out at exactly 24 %).
import { describe, expect, it } from 'vitest';
import { beverageCost, potentialSales, turnover } from '../../src/domain/standard/cost.ts';
import { apportion, roundHalfUp } from '../../src/domain/value/money.ts';
import { ratio, roundRatio } from '../../src/domain/value/ratio.ts';

const barA = {
  storeroomOpening: 500_000,
  purchases: 800_000,
  storeroomClosing: 700_000,
  barOpening: 100_000,
  barClosing: 100_000,
  adds: [20_000, 15_000, 47_500],
  subtracts: [11_000, 12_000, 16_000],
  sales: 2_000_000,
};
const barB = {
  storeroomOpening: 832_500,
  purchases: 1_066_600,
  storeroomClosing: 932_700,
  barOpening: 232_500,
  barClosing: 205_000,
  adds: [92_500, 50_000],
  subtracts: [33_500, 32_000],
  sales: 4_141_250,
};

describe('the two-bar exercise', () => {
  it('bar A', () => {
    expect(beverageCost(barA)).toMatchObject({
      issued: 600_000,
      differential: 0,
      cost: 600_000,
      costPercent: 30,
      adjustedCost: 643_500,
    });
    expect(beverageCost(barA).adjustedPercent).toBeCloseTo(32.175, 4);
  });
  it('bar B', () => {
    expect(beverageCost(barB)).toMatchObject({
      issued: 966_400,
      differential: 27_500,
      cost: 993_900,
      costPercent: 24,
      adjustedCost: 1_070_900,
    });
    expect(beverageCost(barB).adjustedPercent).toBeCloseTo(25.8593, 4);
  });
  it('the second exercise: 14,798 of 95,786 is 15.449 %, printed 15.44 by truncation', () => {
    const cost = beverageCost({
      ...barA,
      storeroomOpening: 765_400,
      purchases: 1_587_600,
      storeroomClosing: 873_200,
      adds: [],
      subtracts: [],
      sales: 9_578_600,
    });
    expect(cost.cost).toBe(1_479_800);
    expect(cost.costPercent).toBeCloseTo(15.449, 3);
    expect(cost.costPercent?.toFixed(2)).toBe('15.45');
  });
  it('turnover of our own bar example: 3,150 ml used over an average of 2,135 ml', () =>
    expect(turnover(3150, 1960, 2310)).toBeCloseTo(1.4754, 4));
});

describe('rounding (Java RoundingMode table, published) and apportioning', () => {
  const inputs = [55, 25, 16, 11, 10, -10, -11, -16, -25, -55];
  it('half up, away from zero', () =>
    expect(inputs.map((tenths) => roundHalfUp(ratio(tenths, 10)))).toEqual([
      6, 3, 2, 1, 1, -1, -1, -2, -3, -6,
    ]));
  it('half even', () =>
    expect(inputs.map((tenths) => roundRatio(ratio(tenths, 10)))).toEqual([
      6, 2, 2, 1, 1, -1, -1, -2, -2, -6,
    ]));
  it('largest remainder: the 1790 US census, 60 seats (published, seen second-hand)', () => {
    const people = [
      630560, 475327, 432879, 353523, 331589, 278514, 236841, 206236, 179570, 141822, 85533, 70835, 68705,
      68446, 55540,
    ];
    expect(apportion(60, people)).toEqual([11, 8, 7, 6, 6, 5, 4, 3, 3, 2, 1, 1, 1, 1, 1]);
  });
  it('our own cases (computed)', () => {
    expect(apportion(10_003, [1, 1, 1])).toEqual([3335, 3334, 3334]);
    expect(apportion(1000, [3, 3, 1])).toEqual([429, 428, 143]);
    expect(apportion(5, [3, 7])).toEqual([2, 3]);
    expect(apportion(1890, [40, 40, 20, 5])).toEqual([720, 720, 360, 90]);
  });
});

describe('potential sales value per bottle (chapter 16, sales-value method)', () => {
  it('1 litre, 1 oz, 33.8 oz to the litre as the book has it: 33.8 drinks of 3.00 are 101.40', () => {
    expect(potentialSales(33_800, 1000, 300)).toEqual({ drinks: 33.8, salesMinor: 10_140 });
  });
  it('by the exact ounce a litre holds 33.8140 of them', () => {
    expect(potentialSales(1_000_000_000, 29_573_530, 300).drinks).toBeCloseTo(33.814, 4);
  });
  it('our own bottle (computed): 17.5 drinks of 40 ml at 6.50; with 2.5 % spillage 17.0625 and 110.91', () => {
    expect(potentialSales(700_000, 40_000, 650)).toEqual({ drinks: 17.5, salesMinor: 11_375 });
    expect(potentialSales(700_000, 40_000, 650, ratio(25n, 1000n))).toEqual({
      drinks: 17.0625,
      salesMinor: 11_091,
    });
  });
});
