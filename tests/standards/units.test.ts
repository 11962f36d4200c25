// Exact units. NIST Handbook 44, Appendix C (US customary); Weights and Measures Act 1985, Schedule 1 (imperial);
// published, seen second-hand.

import { describe, expect, it } from 'vitest';
import { houseOf, newHouse } from '../../src/domain/catalogue/house.ts';
import { amountOf, unitScale } from '../../src/domain/catalogue/units.ts';
import { parseQuantity } from '../../src/domain/value/number.ts';
import {
  divideRatio,
  multiplyRatio,
  type Ratio,
  ratio,
  ratioToNumber,
} from '../../src/domain/value/ratio.ts';

const inMl = (unit: string): Ratio =>
  multiplyRatio(unitScale(unit, newHouse)?.perUnit ?? ratio(0), ratio(1, 1000));
const exact = (text: string): Ratio => {
  const [whole = '0', part = ''] = text.split('.');
  return ratio(BigInt(whole + part), 10n ** BigInt(part.length));
};

describe('one of each in ml, exactly', () => {
  it.each([
    ['us-gallon', '3785.411784'],
    ['us-quart', '946.352946'],
    ['us-pint', '473.176473'],
    ['cup', '236.5882365'],
    ['us-oz', '29.5735295625'],
    ['tbsp', '14.78676478125'],
    ['tsp', '4.92892159375'],
    ['imp-gallon', '4546.09'],
    ['imp-pint', '568.26125'],
    ['gill', '142.0653125'],
    ['imp-oz', '28.4130625'],
    ['cl', '10'],
    ['l', '1000'],
  ])('%s = %s ml', (unit, ml) => expect(inMl(unit)).toEqual(exact(ml)));

  it('one avoirdupois ounce is 28.349523125 g, a pound 453.59237 g', () => {
    expect(inMl('oz-av')).toEqual(exact('28.349523125'));
    expect(inMl('lb')).toEqual(exact('453.59237'));
  });
});

describe('worked conversions (computed from the exact units)', () => {
  it('1.5 US fl oz is 44.36029434375 ml; stored as 44,360 µl, rounded once', () => {
    expect(ratioToNumber(multiplyRatio(ratio(3, 2), inMl('us-oz')))).toBe(44.36029434375);
    expect(amountOf(parseQuantity('1 1/2') as Ratio, 'oz', newHouse)?.amount).toBe(44_360);
  });
  it('2 imperial fl oz are 56.826125 ml', () =>
    expect(multiplyRatio(ratio(2), inMl('imp-oz'))).toEqual(exact('56.826125')));
  it('750 ml are 25.36051702 US fl oz', () =>
    expect(Math.abs(ratioToNumber(divideRatio(ratio(750), inMl('us-oz'))) - 25.36051702)).toBeLessThan(1e-6));
  it('1 US gallon is 0.832674 imperial', () =>
    expect(
      Math.abs(ratioToNumber(divideRatio(inMl('us-gallon'), inMl('imp-gallon'))) - 0.832674),
    ).toBeLessThan(1e-6));
  it('three thirds of a pint are a pint', () =>
    expect(multiplyRatio(ratio(3), multiplyRatio(ratio(1, 3), inMl('imp-pint')))).toEqual(
      exact('568.26125'),
    ));
  it('15.5 US gallons are 124 pints of 16 US fl oz', () =>
    expect(
      divideRatio(multiplyRatio(ratio(31, 2), inMl('us-gallon')), multiplyRatio(ratio(16), inMl('us-oz'))),
    ).toEqual(ratio(124)));

  it('trap: 0.75 oz is 22.18 ml exactly and 22.5 ml only in a house whose ounce is 30 ml', () => {
    expect(amountOf(ratio(3, 4), 'oz', newHouse)?.amount).toBe(22_180);
    expect(amountOf(ratio(3, 4), 'oz', houseOf(new Map([['ounce', '30ml']])))?.amount).toBe(22_500);
  });

  it('trap: tenths stay decimals; 0.1 + 0.2 bottles of 750 ml are 225 ml', () => {
    const tenth = (text: string): number =>
      (amountOf(parseQuantity(text) as Ratio, 'ml', newHouse)?.amount ?? 0) * 750;
    expect(tenth('0.1') + tenth('0.2')).toBe(225_000);
  });
});
