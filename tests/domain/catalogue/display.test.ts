// Amounts as the house shows them: ml, cl, ounces by the jigger, and a figure with its ±.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  displayAmount,
  jiggerText,
  missingText,
  roundToUncertainty,
} from '../../../src/domain/catalogue/display.ts';
import { type House, houseOf } from '../../../src/domain/catalogue/house.ts';

const house = (...set: readonly (readonly [string, string])[]): House => houseOf(new Map(set));
const inMl = house();
const inCl = house(['units', 'cl']);
const inOz = house(['units', 'oz']);
const roundOunce = house(['units', 'oz'], ['ounce', '30ml']);

// Thousands stand apart by a narrow space, so that no comma is taken for a decimal one.
it('shows millilitres whole from a hundred on, and one decimal below where there is one', () => {
  expect(displayAmount(1_960_000, 'ml', inMl)).toBe('1\u202f960 ml');
  expect(displayAmount(1_234_567_000, 'ml', inMl)).toBe('1\u202f234\u202f567 ml');
  expect(displayAmount(150_400, 'ml', inMl)).toBe('150 ml');
  expect(displayAmount(22_500, 'ml', inMl)).toBe('22.5 ml');
  expect(displayAmount(60_000, 'ml', inMl)).toBe('60 ml');
  expect(displayAmount(0, 'ml', inMl)).toBe('0 ml');
});

it('shows what is below zero with its sign', () => {
  expect(displayAmount(-22_500, 'ml', inMl)).toBe('-22.5 ml');
  expect(displayAmount(-1_960_400, 'ml', inMl)).toBe('-1\u202f960 ml');
});

it('shows pieces without a unit and grams with theirs, whatever volumes are shown in', () => {
  expect(displayAmount(14_000, 'each', inCl)).toBe('14');
  expect(displayAmount(12_500, 'each', inOz)).toBe('12.5');
  expect(displayAmount(2500, 'g', inOz)).toBe('2.5 g');
});

it("shows volumes in the house's unit", () => {
  expect(displayAmount(22_500, 'ml', inCl)).toBe('2.3 cl');
  expect(displayAmount(700_000, 'ml', inCl)).toBe('70.0 cl');
  // 700 ÷ 29.5735 = 23.67
  expect(displayAmount(700_000, 'ml', inOz)).toBe('23.7 oz');
  expect(displayAmount(45_000, 'ml', roundOunce)).toBe('1.5 oz');
});

it('names the nearest jigger, and marks one that is only near', () => {
  const said = (ml: number) => jiggerText(ml * 1000, roundOunce);
  expect([7.5, 10, 15, 20, 22.5, 30, 45, 60].map(said)).toEqual([
    '¼ oz',
    '⅓ oz',
    '½ oz',
    '⅔ oz',
    '¾ oz',
    '1 oz',
    '1½ oz',
    '2 oz',
  ]);
  // 21 ml is 0.7 oz, 0.033 from two thirds and 0.05 from three quarters; 29.9 ml is next to a whole one.
  expect([21, 29.9, 59].map(said)).toEqual(['≈⅔ oz', '≈1 oz', '≈2 oz']);
  expect([0, 0.5].map(said)).toEqual(['0 oz', '≈0 oz']);
});

it('never names a jigger further away than a sixteenth of an ounce', () => {
  // The signs stand at most 1/8 apart, so the nearest is at most 1/16 away: 1.875 ml of 30.
  const values: Record<string, number> = { '⅛': 1 / 8, '¼': 1 / 4, '⅓': 1 / 3, '⅜': 3 / 8, '½': 1 / 2 };
  Object.assign(values, { '⅝': 5 / 8, '⅔': 2 / 3, '¾': 3 / 4, '⅞': 7 / 8 });
  fc.assert(
    fc.property(fc.nat(300_000), (amount) => {
      const [, whole = '', sign = ''] = /^≈?(\d*)([^\d ]?) oz$/.exec(jiggerText(amount, roundOunce)) ?? [];
      const named = (Number(whole) + (values[sign] ?? 0)) * 30_000;
      expect(Math.abs(named - amount)).toBeLessThanOrEqual(1875.5);
    }),
  );
});

it('gives the ± two figures and the value the same place', () => {
  // JCGM 100:2008 (GUM) 7.2.6, from memory: two significant figures of the uncertainty are enough.
  const rounded = (ml: number, u: number) => Object.values(roundToUncertainty(ml * 1000, u * 1000));
  expect(rounded(30.4, 57.6)).toEqual(['30', '58']);
  expect(rounded(31.6, 123)).toEqual(['30', '120']);
  expect(rounded(1.234, 0.817)).toEqual(['1.23', '0.82']);
  expect(rounded(12.34, 5.62)).toEqual(['12.3', '5.6']);
  expect(rounded(-30.4, 57.6)).toEqual(['30', '58']);
  expect(rounded(2, 0)).toEqual(['2', '0']);
});

it('never says missing without its ±, and says extra below zero', () => {
  expect(missingText(30_400, 57_600, 'ml', inMl)).toBe('30 ml missing ±58');
  expect(missingText(-30_400, 57_600, 'ml', inMl)).toBe('30 ml extra ±58');
  expect(missingText(400, 57_600, 'ml', inMl)).toBe('0 ml ±58');
  expect(missingText(0, 0, 'ml', inMl)).toBe('0 ml ±0');
  expect(missingText(2000, 820, 'each', inMl)).toBe('2.00 missing ±0.82');
  expect(missingText(2000, 820, 'g', inCl)).toBe('2.00 g missing ±0.82');
});

it("says both in the house's unit", () => {
  expect(missingText(304_000, 576_000, 'ml', inCl)).toBe('30 cl missing ±58');
  expect(missingText(-300_000, 60_000, 'ml', roundOunce)).toBe('10.0 oz extra ±2.0');
});

it('sets the digits of a figure and of its ± apart as those of an amount', () => {
  expect(missingText(8_540_000, 1_234_000, 'ml', inMl)).toBe('8\u202f500 ml missing ±1\u202f200');
  expect(missingText(-8_540_400, 58_000, 'ml', inMl)).toBe('8\u202f540 ml extra ±58');
  expect(missingText(1_234_500, 1200, 'g', inMl)).toBe('1\u202f234.5 g missing ±1.2');
});
