// Control charts. NIST/SEMATECH e-Handbook of Statistical Methods (doi 10.18434/M32189), 6.3.2.2, 6.3.2.3, 6.3.2.4: tables
// published, seen second-hand, every value recomputed in exact rationals. Benjamini & Hochberg, JRSS B 57:289-300, 1995.
import { describe, expect, it } from 'vitest';
import { adjustFalseDiscovery, cusumAbove, ewma, ewmaHalfWidth } from '../../src/domain/standard/charts.ts';
import { normalQuantile, normalTail } from '../../src/domain/standard/normal.ts';
import { near } from '../support/near.ts';

const rel = (value: number, expected: number, tolerance: number): void =>
  expect(Math.abs(value / expected - 1)).toBeLessThanOrEqual(tolerance);

describe('6.3.2.3 CUSUM: target 325, k 0.3175, h 4.1959', () => {
  const x = [
    324.925, 324.675, 324.725, 324.35, 325.35, 325.225, 324.125, 324.525, 325.225, 324.6, 324.625, 325.15,
    328.325, 327.25, 327.825, 328.5, 326.675, 327.775, 326.875, 328.35,
  ];
  const high = [
    0, 0, 0, 0, 0.0325, 0, 0, 0, 0, 0, 0, 0, 3.0075, 4.94, 7.4475, 10.63, 11.9875, 14.445, 16.0025, 19.035,
  ];
  it('the sum above, exact to 1e-9', () => {
    const above = cusumAbove(x, 325, 0.3175);
    high.forEach((value, index) => {
      near(above[index], value, 1e-9);
    });
  });
  it('signals first at observation 14, and from there on', () => {
    expect(cusumAbove(x, 325, 0.3175).findIndex((sum) => sum > 4.1959)).toBe(13);
  });
});

describe('6.3.2.4 EWMA: start 50, s 2.0539, λ 0.3, L 3', () => {
  const y = [
    52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6,
    52.1,
  ];
  const printed = [
    50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38,
    49.92, 50.73, 51.23, 51.94, 51.99,
  ];
  it('the line', () => {
    const line = ewma(y, 50, 0.3);
    printed.forEach((value, index) => {
      near(line[index], value, 0.0051);
    });
  });
  it('the limits, as printed and unrounded', () => {
    near(50 + ewmaHalfWidth(3, 2.0539, 0.3), 52.5884, 1.5e-4);
    near(50 - ewmaHalfWidth(3, 2.0539, 0.3), 47.4115, 1.5e-4);
    near(50 + ewmaHalfWidth(3, 2.0539, 0.3), 52.588432, 1e-6);
  });
  it('at the first step they are 48.1515 and 51.8485', () =>
    near(50 + ewmaHalfWidth(3, 2.0539, 0.3, 1), 51.8485, 1e-4));
});

describe('false discovery rate, 1995, the 15 hypotheses', () => {
  const p = [
    0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528,
    0.759, 1,
  ];
  const adjusted = [
    0.0015, 0.003, 0.0095, 0.035625, 0.0603, 0.063857, 0.063857, 0.0645, 0.0765, 0.486, 0.581182, 0.714875,
    0.753231, 0.813214, 1,
  ];
  it('the first four at 5 %', () => expect(adjustFalseDiscovery(p).filter((q) => q <= 0.05)).toHaveLength(4));
  it('the adjusted values (computed), in any order they come', () => {
    adjustFalseDiscovery(p).forEach((q, index) => {
      near(q, adjusted[index] as number, 1e-6);
    });
    adjustFalseDiscovery([...p].reverse()).forEach((q, index) => {
      near(q, adjusted[14 - index] as number, 1e-6);
    });
  });
  it('our nightly case: five flagged at 10 %, four at 5 %', () => {
    const z = [4, 3.1, 2.6, 2.2, 1.9, 1.1, 0.4, -0.2, -0.9, -1.5];
    const q = adjustFalseDiscovery(z.map(normalTail));
    expect([q.filter((value) => value <= 0.1).length, q.filter((value) => value <= 0.05).length]).toEqual([
      5, 4,
    ]);
  });
});

describe('the normal distribution', () => {
  it.each([
    [1.96, 0.0249978951482204],
    [2, 0.0227501319481792],
    [4, 3.16712418331199e-5],
    [6, 9.86587645037698e-10],
  ])('Q(%f)', (x, q) => rel(normalTail(x), q, 1e-11));
  it.each([
    [0.9, 1.2815515655446],
    [0.95, 1.64485362695147],
    [0.97, 1.88079360815125],
    [0.975, 1.95996398454005],
    [0.999, 3.09023230616781],
  ])('z(%f)', (p, z) => rel(normalQuantile(p), z, 1e-11));
  it('refuses what is no probability', () => {
    for (const p of [0, 1, -1, Number.NaN]) expect(() => normalQuantile(p)).toThrow(RangeError);
  });
});
