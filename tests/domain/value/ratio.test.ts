// Exact fractions: arithmetic without a float, and one rounding at the end.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  addRatio,
  divideRatio,
  multiplyRatio,
  type Ratio,
  ratio,
  ratioToNumber,
  roundRatio,
} from '../../../src/domain/value/ratio.ts';

const said = ({ num, den }: Ratio): string => `${num}/${den}`;

it('keeps a fraction in its lowest terms, the sign above', () => {
  expect([ratio(6, 8), ratio(-6, 8), ratio(6, -8), ratio(-6, -8), ratio(0, -5), ratio(7)].map(said)).toEqual([
    '3/4',
    '-3/4',
    '-3/4',
    '3/4',
    '0/1',
    '7/1',
  ]);
});

it('refuses nothing below the line', () => {
  expect(() => ratio(1, 0)).toThrow(RangeError);
  expect(() => divideRatio(ratio(1), ratio(0))).toThrow(RangeError);
});

it('adds, multiplies and divides exactly', () => {
  // One tenth and two tenths are three tenths, which no float says.
  expect(said(addRatio(ratio(1, 10), ratio(2, 10)))).toBe('3/10');
  expect(said(addRatio(ratio(1, 3), ratio(-1, 3)))).toBe('0/1');
  expect(said(multiplyRatio(ratio(3, 4), ratio(2, 9)))).toBe('1/6');
  expect(said(divideRatio(ratio(3, 4), ratio(-3, 8)))).toBe('-2/1');
});

it('rounds to the nearest, ties to even, on both sides of zero', () => {
  // IEEE 754-2019, 4.3.1, roundTiesToEven.
  const halves = [-5, -3, -1, 1, 3, 5].map((n) => roundRatio(ratio(n, 2)));
  expect(halves.map((value) => value + 0)).toEqual([-2, -2, 0, 0, 2, 2]);
  expect([ratio(7, 3), ratio(8, 3), ratio(-7, 3), ratio(-8, 3), ratio(4)].map(roundRatio)).toEqual([
    2, 3, -2, -3, 4,
  ]);
});

it('throws rather than lose a digit', () => {
  expect(roundRatio(ratio(2n ** 53n - 1n))).toBe(9_007_199_254_740_991);
  expect(() => roundRatio(ratio(2n ** 53n))).toThrow(RangeError);
});

const fraction = fc
  .tuple(fc.bigInt({ min: -(10n ** 12n), max: 10n ** 12n }), fc.bigInt({ min: 1n, max: 10n ** 6n }))
  .map(([num, den]) => ratio(num, den));

it('keeps the laws of fractions', () => {
  fc.assert(
    fc.property(fraction, fraction, fraction, (a, b, c) => {
      expect(addRatio(a, b)).toEqual(addRatio(b, a));
      expect(addRatio(addRatio(a, b), c)).toEqual(addRatio(a, addRatio(b, c)));
      expect(multiplyRatio(a, addRatio(b, c))).toEqual(addRatio(multiplyRatio(a, b), multiplyRatio(a, c)));
      if (b.num !== 0n) expect(multiplyRatio(divideRatio(a, b), b)).toEqual(a);
    }),
  );
});

it('rounds to within a half', () => {
  fc.assert(
    fc.property(fraction, (a) => {
      const off = addRatio(a, ratio(-roundRatio(a)));
      const twice = 2n * (off.num < 0n ? -off.num : off.num);
      expect(twice <= off.den).toBe(true);
    }),
  );
});

it('is a plain number where one is wanted', () => {
  expect([ratioToNumber(ratio(3, 8)), ratioToNumber(ratio(-5)), ratioToNumber(ratio(0))]).toEqual([
    0.375, -5, 0,
  ]);
});
