// A card for a party: amounts, bottles to fetch, the water that stands for the ice, and what does not scale.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { drinkFigures } from '../../../src/domain/drink/drink.ts';
import { type Scaling, scaleDrink } from '../../../src/domain/drink/scale.ts';
import { anItem, aPiece, aSpec, codesOf, must } from '../../support/shelf.ts';
import { stocks } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const bar = booksAfter(
  stocks(
    anItem('gin'),
    anItem('plum', { kind: 'cordial', abvPercent: 0, size: 500_000, sizeText: '500 ml' }),
    anItem('lemon', { name: 'Lemon juice', kind: 'juice', abvPercent: null }),
    anItem('bitters', { name: 'Bitters' }),
    anItem('soda', { name: 'Soda', kind: 'mixer', abvPercent: null }),
    aPiece('egg', { name: 'Egg white' }),
    aPiece('mint', { name: 'Mint', kind: 'herb' }),
  ),
);
const figures = (measures: readonly string[], method = '') =>
  must(drinkFigures(aSpec('ferry', measures, { method }), bar));
const stirred = figures(['50 ml gin', '25 ml plum'], 'stir');

const batch = (scaling: Scaling, withWater = false, drink = stirred) =>
  must(scaleDrink(drink, scaling, withWater));
const times = (many: number): Scaling => ({ kind: 'times', times: many });

it('multiplies every line and says how many bottles to fetch', () => {
  // 14 × 50 = 700 ml is one bottle exactly; 15 × 50 = 750 needs a second.
  expect(batch(times(14)).lines.map(({ amount, containers }) => [amount, containers])).toEqual([
    [700_000, 1],
    [350_000, 1],
  ]);
  expect(batch(times(15)).lines.map(({ containers }) => containers)).toEqual([2, 1]);
  expect(batch(times(15)).totalMl).toBeCloseTo(1125, 9);
});

it('adds the water the ice would have given, with its ±', () => {
  // 20 ml of alcohol in 75: strength 4/15. Stirred (Arnold, Liquid Intelligence, 2014, p. 123; seen second-hand):
  // −1.21 × 0.0711111 + 1.246 × 0.2666667 + 0.145 = 0.3912222, so 29.34167 ml each; ± 8 points of 75 ml = 6 ml each.
  const made = batch(times(10), true);
  expect(made.waterMl).toBeCloseTo(293.4167, 3);
  expect(made.waterUncertaintyMl).toBeCloseTo(60, 9);
  expect(made.totalMl).toBeCloseTo(750 + 293.4167, 3);
  expect(batch(times(10)).waterMl).toBe(0);
  expect(batch(times(10)).waterUncertaintyMl).toBe(0);
});

it('fills a bottle of a given volume, water included', () => {
  // 1000 ÷ 75 = 13.3333 drinks: 666.667 ml and 333.333 ml.
  expect(batch({ kind: 'volume', targetMl: 1000 }).lines.map(({ amount }) => amount)).toEqual([
    666_667, 333_333,
  ]);
  const wet = batch({ kind: 'volume', targetMl: 1000 }, true);
  expect(wet.totalMl).toBeCloseTo(1000, 6);
  // 1000 ÷ 104.34167
  expect(wet.times).toBeCloseTo(9.5839, 4);
});

it('pours as much as the bottle holds, whatever the bottle', () => {
  fc.assert(
    fc.property(fc.integer({ min: 50, max: 20_000 }), (targetMl) => {
      const { lines } = batch({ kind: 'volume', targetMl });
      const total = lines.reduce((sum, { amount }) => sum + amount, 0);
      // Six decimals of a drink of 75 ml, and half a microlitre a line.
      expect(Math.abs(total - targetMl * 1000)).toBeLessThanOrEqual(2);
    }),
  );
});

it('scales pieces too, where nothing has a volume', () => {
  expect(batch(times(3), false, figures(['2 each mint'])).lines[0]).toMatchObject({
    amount: 6000,
    containers: 6,
  });
});

it('refuses nothing, less than nothing, and more than a thousand litres', () => {
  const refused = (scaling: Scaling, drink = stirred) => codesOf(scaleDrink(drink, scaling, false));
  for (const many of [0, -2, Number.NaN, Number.POSITIVE_INFINITY, 20_000])
    expect(refused(times(many)), String(many)).toEqual(['bad-batch']);
  expect(refused({ kind: 'volume', targetMl: 0 })).toEqual(['bad-batch']);
  expect(refused({ kind: 'volume', targetMl: 1_000_001 })).toEqual(['bad-batch']);
  expect(refused({ kind: 'volume', targetMl: 500 }, figures(['1 each mint']))).toEqual(['bad-batch']);
});

it('refuses water for a drink that no formula fits', () => {
  expect(codesOf(scaleDrink(figures(['50 ml gin', '25 ml plum'], 'build'), times(5), true))).toEqual([
    'no-dilution',
  ]);
});

it('warns of what does not scale, once each, and not for a single drink', () => {
  const drink = figures([
    '50 ml gin',
    '10 ml lemon',
    '1 dash bitters',
    '1 dash bitters',
    '1 each egg',
    '2 leaf mint',
    '1 top soda',
  ]);
  const { warnings } = batch(times(8), false, drink);
  expect(warnings.map((warning) => warning.split(':')[0])).toEqual([
    'Lemon juice',
    'Bitters',
    'Egg white',
    'Mint',
    'Soda',
  ]);
  expect(warnings[1]).toBe('Bitters: a dash does not scale; start with half of the sum and taste');
  expect(batch(times(1), false, drink).warnings).toEqual([]);
  expect(batch(times(8)).warnings).toEqual([]);
});
