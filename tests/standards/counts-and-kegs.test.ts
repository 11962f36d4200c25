// Counting by eye, counts of pouring, kegs, invert sugar, dilution of whole drinks: worked checks computed from the exact
// units and from published rules; what is common practice says so.
import { describe, expect, it } from 'vitest';
import { newHouse } from '../../src/domain/catalogue/house.ts';
import type { Item } from '../../src/domain/catalogue/item.ts';
import { unitScale } from '../../src/domain/catalogue/units.ts';
import { parseReading } from '../../src/domain/count/reading.ts';
import { dilutionRatio } from '../../src/domain/drink/dilution.ts';
import {
  divideRatio,
  multiplyRatio,
  type Ratio,
  ratio,
  ratioToNumber,
} from '../../src/domain/value/ratio.ts';
import { items } from '../support/events.ts';
import { near } from '../support/near.ts';

const ml = (unit: string): Ratio =>
  multiplyRatio(unitScale(unit, newHouse)?.perUnit ?? ratio(0), ratio(1, 1000));
const bottle = (size: number): Item => ({ ...(items[0] as Item), size: size * 1000 });
const read = (text: string, size: number) => {
  const reading = parseReading(text, bottle(size), newHouse);
  if (!reading.ok) throw new Error(reading.problems[0]?.message);
  return reading.value;
};

describe('counting by eye (computed; no study of tenths by eye was found)', () => {
  it('0.7 of 750 ml is 525 ml', () => expect(read('0.7', 750).amount).toBe(525_000));
  it('rounding alone: 21.7 ml of 750, 20.2 of 700; opening minus closing 30.6 ml', () => {
    near(read('0.7', 750).deviation / 1000, 21.7, 0.06);
    near(read('0.7', 700).deviation / 1000, 20.2, 0.01);
    near((read('0.7', 750).deviation / 1000) * Math.SQRT2, 30.6, 0.05);
  });
  it('a litre from 0.7 to 0.2 gave 500 ml', () =>
    expect(read('0.7', 1000).amount - read('0.2', 1000).amount).toBe(500_000));
  it('weighing to 1 g: ±0.53 ml at 40 % from the resolution alone', () => near(0.5 / 0.948, 0.53, 0.003));
});

describe('pouring by counts (one count = ½ US fl oz: common practice, no source)', () => {
  it('three counts are 44.36 ml', () =>
    near(ratioToNumber(multiplyRatio(ratio(3, 2), ml('us-oz'))), 44.36, 0.01));
  it('twenty shots of 44.36 ml, each really 46.4 (BMJ 2005;331:1512): 40.8 ml missing', () =>
    near(20 * (46.4 - 44.3603), 40.8, 0.1));
  it('750 ml in 1.5 oz pours: 16 whole ones, 40.2 ml left', () => {
    const pour = ratioToNumber(multiplyRatio(ratio(3, 2), ml('us-oz')));
    expect(Math.floor(750 / pour)).toBe(16);
    near(750 - 16 * pour, 40.2, 0.1);
  });
});

describe('kegs (exact; gallon counts of UK casks from memory)', () => {
  it.each([
    ['US beer barrel, 31 US gal', ratio(31), 'us-gallon', 117.347765304],
    ['half barrel, 15.5', ratio(31, 2), 'us-gallon', 58.673882652],
    ['quarter, 7.75', ratio(31, 4), 'us-gallon', 29.336941326],
    ['sixth, 31/6', ratio(31, 6), 'us-gallon', 19.557960884],
    ['5 gal', ratio(5), 'us-gallon', 18.92705892],
    ['UK pin, 4.5', ratio(9, 2), 'imp-gallon', 20.457405],
    ['UK firkin, 9', ratio(9), 'imp-gallon', 40.91481],
    ['UK keg, 11', ratio(11), 'imp-gallon', 50.00699],
  ] as const)('%s', (_, count, unit, litres) =>
    near(ratioToNumber(multiplyRatio(count, ml(unit))) / 1000, litres, 1e-8),
  );
  it('a US half barrel gives 103.25 imperial pints', () =>
    near(
      ratioToNumber(divideRatio(multiplyRatio(ratio(31, 2), ml('us-gallon')), ml('imp-pint'))),
      103.25,
      0.01,
    ));
});

describe('invert sugar, as EU minima are given (Reg. (EC) 110/2008 Annex II, 32; molar masses computed)', () => {
  it('100 g/l invert are 95.0 g/l sucrose, 400 are 380', () => {
    near((100 * 342.3) / 360.31, 95, 0.01);
    near((400 * 342.3) / 360.31, 380, 0.02);
  });
});

describe('whole drinks (Arnold 2014, p. 123; computed)', () => {
  it('stirred from 30.0 %: 21.28 % served', () => near(30 / (1 + dilutionRatio('stir', 0.3)), 21.28, 0.02));
  it('daiquiri 60/22.5/22.5, 22.857 %: 159.5 ml at 15.04 %', () => {
    const d = dilutionRatio('shake', 24 / 105);
    near(d, 0.5193, 0.0005);
    near(105 * (1 + d), 159.5, 0.1);
    near(2400 / (105 * (1 + d)), 15.04, 0.02);
  });
});
