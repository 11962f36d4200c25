// Reorder points, review targets, newsvendor, smoothing, weekday indices, intermittent demand: against textbook figures. Each names its
// source; those seen second-hand say so. What is only computed here says that too.
import { describe, expect, it } from 'vitest';
import {
  casesFor,
  criticalRatio,
  croston,
  economicOrder,
  newsvendor,
  reorderPoint,
  residualDeviation,
  reviewTarget,
  smoothed,
  weekdayIndices,
} from '../../src/domain/standard/stock-up.ts';

describe('reorder point', () => {
  it('carpet store, 95 %: Taylor, Introduction to Management Science, ch. 16 (inputs published, seen second-hand; result computed)', () => {
    const store = { mean: 30, deviation: 5, leadDays: 10 };
    expect(reorderPoint({ ...store, z: 1.65 })).toBeCloseTo(326.1, 1);
    expect(reorderPoint({ ...store, z: 1.64485 })).toBeCloseTo(326.007, 3);
  });
  it('sand, 3 % risk: Stevenson, Operations Management, example 8 (published, seen second-hand)', () => {
    // Demand of the whole lead time is given: a lead time of one.
    expect(reorderPoint({ mean: 50, deviation: 5, leadDays: 1, z: 1.88 })).toBeCloseTo(59.4, 2);
  });
  it('special-sauce jars, 10 % risk: Stevenson (inputs published, seen second-hand; result computed)', () => {
    expect(reorderPoint({ mean: 50, deviation: 3, leadDays: 2, z: 1.28 })).toBeCloseTo(105.43, 2);
  });
  it('a lead time that varies: Stevenson (published, seen second-hand)', () => {
    const given = { mean: 100, deviation: 20, leadDays: 7, leadDeviation: 2, z: 1.65 };
    expect(reorderPoint(given)).toBeCloseTo(1041.35, 1);
    expect((reorderPoint(given) - 700) / 1.65).toBeCloseTo(206.88, 2);
  });
});

describe('periodic review and cases', () => {
  it('a bottle that sells 1.2 a day, reviewed weekly (computed; formula from memory of Taylor and Stevenson)', () => {
    const target = reviewTarget(1.2 * 9, 0.9, 9, 1.645);
    expect(target).toBeCloseTo(15.2415, 4);
    const { need, cases } = casesFor(target, 3.4, 0, 6);
    expect([need.toFixed(2), cases]).toEqual(['11.84', 2]);
    expect(reorderPoint({ mean: 1.2, deviation: 0.9, leadDays: 2, z: 1.645 })).toBeCloseTo(4.494, 3);
  });
  it('rounds up to whole cases, and never orders what is not short (our rule)', () => {
    expect(casesFor(12, 0, 0, 6)).toEqual({ need: 12, cases: 2 });
    expect(casesFor(12, 3, 9, 6)).toEqual({ need: 0, cases: 0 });
    expect(casesFor(12, 20, 0, 6)).toEqual({ need: 0, cases: 0 });
    expect(casesFor(12.01, 0, 0, 6).cases).toBe(3);
    // Three tenths of ten are three, whatever a computer says of 0.1 + 0.2.
    expect(casesFor(0.1 + 0.2, 0, 0, 0.3).cases).toBe(1);
  });
});

it('economic order quantity: Taylor (computed from its inputs), and 2,828.43 (published, seen second-hand)', () => {
  expect(economicOrder(10_000, 150, 0.75)).toBeCloseTo(2000, 6);
  expect(economicOrder(40_000, 200, 2)).toBeCloseTo(2828.43, 2);
});

it('a skewed quantile: Cornish & Fisher, first term, against the chi-square table (NIST/SEMATECH e-Handbook, 1.3.6.7.4)', () => {
  // Ten degrees of freedom: mean 10, variance 20, skewness √(8/10); upper 5 % and 10 % points 18.307 and 15.987 (seen second-hand).
  const skewness = Math.sqrt(8 / 10);
  expect(Math.abs(newsvendor(10, Math.sqrt(20), 0.95, skewness) - 18.307)).toBeLessThan(0.2);
  expect(Math.abs(newsvendor(10, Math.sqrt(20), 0.9, skewness) - 15.987)).toBeLessThan(0.2);
  // Without it both are low by far more.
  expect(newsvendor(10, Math.sqrt(20), 0.95)).toBeLessThan(17.4);
});

describe('newsvendor', () => {
  it('bottled water (published, seen second-hand)', () => {
    const chance = criticalRatio(1.9, 0.05);
    expect(chance).toBeCloseTo(0.9744, 4);
    expect(Math.round(newsvendor(10_000, 1000, chance))).toBe(11_949);
  });
  it('ski jackets: the ratio is not turned over (published, seen second-hand)', () => {
    expect(newsvendor(200, 60, criticalRatio(480, 60))).toBeCloseTo(273.24, 1);
  });
  it('Cachon & Terwiesch, N(3192, 1181) at 0.8 (from memory)', () => {
    expect(newsvendor(3192, 1181, 0.8)).toBeCloseTo(4185.95, 1);
  });
});

describe('exponential smoothing', () => {
  const oil = [
    445.3641, 453.195, 454.4096, 422.3789, 456.0371, 440.3866, 425.1944, 486.2052, 500.4291, 521.2759,
    508.9476, 488.8889, 509.8706, 456.7229, 473.8166, 525.9509, 549.8338, 542.3405,
  ];
  it('Saudi oil 1996–2013: Hyndman & Athanasopoulos, FPP2 2018, 7.1 (published, seen second-hand)', () => {
    const fitted = [
      446.5868, 445.5672, 451.928, 453.9974, 427.6311, 451.3186, 442.2025, 428.0196, 476.54, 496.4609,
      517.1539, 510.3108, 492.4472, 506.9764, 465.0705, 472.3638, 517.0495, 544.388,
    ];
    const made = smoothed(oil, 0.8338901, 446.5867935);
    made.fitted.forEach((value, at) => {
      expect(Math.abs(value - (fitted[at] ?? 0))).toBeLessThan(1e-3);
    });
    expect(Math.abs(made.level - 542.68)).toBeLessThan(0.01);
    expect(residualDeviation(oil, made.fitted)).toBeCloseTo(28.12, 2);
  });
  it('twelve values at 0.1: NIST/SEMATECH e-Handbook 6.4.3.1 (published, seen second-hand)', () => {
    const values = [71, 70, 69, 68, 64, 65, 72, 78, 75, 75, 75, 70];
    const { fitted, level } = smoothed(values.slice(1), 0.1, 71);
    const printed = [71, 70.9, 70.71, 70.44, 69.8, 69.32, 69.58, 70.43, 70.88, 71.29, 71.67];
    fitted.forEach((value, at) => {
      expect(Math.abs(value - (printed[at] ?? 0))).toBeLessThan(0.011);
    });
    const squares = fitted.reduce((sum, value, at) => sum + ((values[at + 1] ?? 0) - value) ** 2, 0);
    expect(squares).toBeCloseTo(208.82, 1);
    expect(level).toBeCloseTo(71.5, 2);
    // The page prints 16.29 for 0.5; its own recursion gives this (computed).
    const half = smoothed(values.slice(1), 0.5, 71).fitted;
    expect(half.reduce((sum, value, at) => sum + ((values[at + 1] ?? 0) - value) ** 2, 0) / 11).toBeCloseTo(
      16.4965,
      3,
    );
  });
});

it('weekday indices over three weeks (computed)', () => {
  const weeks = [
    [40, 44, 52, 60, 110, 130, 64],
    [36, 40, 48, 64, 106, 126, 60],
    [44, 48, 56, 62, 114, 134, 62],
  ];
  const values = weeks.flatMap((week) => week.map((value, weekday) => ({ weekday, value })));
  const indices = weekdayIndices(values);
  expect(indices.map((index) => index.toFixed(4))).toEqual([
    '0.5600',
    '0.6160',
    '0.7280',
    '0.8680',
    '1.5400',
    '1.8200',
    '0.8680',
  ]);
  expect(indices.reduce((a, b) => a + b, 0)).toBeCloseTo(7, 9);
  expect(weekdayIndices([])).toEqual([1, 1, 1, 1, 1, 1, 1]);
});

it('intermittent demand: Croston on productC, FPP2 12.2 (published, seen second-hand; forecast computed)', () => {
  const values = [
    0, 2, 0, 1, 0, 11, 0, 0, 0, 0, 2, 0, 6, 3, 0, 0, 0, 0, 0, 7, 0, 0, 0, 0, 0, 0, 0, 3, 1, 0, 0, 1, 0, 1, 0,
    0,
  ];
  const made = croston(values, 0.1);
  expect([made?.size.toFixed(3), made?.interval.toFixed(3), made?.mean.toFixed(3)]).toEqual([
    '2.750',
    '2.793',
    '0.985',
  ]);
  expect(((made?.mean ?? 0) * (1 - 0.1 / 2)).toFixed(3)).toBe('0.935');
  expect(croston([0, 0, 0], 0.1)).toBeNull();
});
