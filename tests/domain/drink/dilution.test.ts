// The water that ice adds to a whole card: which measures the ice works on, and where no formula fits.
// Formulas: Arnold, Liquid Intelligence, W. W. Norton 2014, p. 123 (seen second-hand).

import { expect, it } from 'vitest';
import { newHouse } from '../../../src/domain/catalogue/house.ts';
import { dilute } from '../../../src/domain/drink/dilution.ts';
import { liquidsOf } from '../../../src/domain/drink/liquid.ts';
import { linesOf } from '../../../src/domain/drink/measures.ts';
import { anItem, aSpec, must } from '../../support/shelf.ts';
import { stocks } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const bar = booksAfter(
  stocks(
    anItem('gin'),
    anItem('rye', { abvPercent: 50 }),
    anItem('plum', { name: 'Plum cordial', abvPercent: 0 }),
    anItem('soda', { name: 'Soda water', kind: 'mixer', abvPercent: null }),
    anItem('unknown', { abvPercent: null }),
  ),
);
const of = (measures: readonly string[], method: string) => {
  const spec = aSpec('weir', measures, { method });
  return dilute(spec, liquidsOf(must(linesOf(spec.measures, bar)), newHouse));
};
const card = ['50 ml gin', '25 ml plum'];

it('shakes: more water', () => {
  // Strength 20 ÷ 75 = 0.2666667: −1.567 × 0.0711111 + 1.742 × 0.2666667 + 0.203 = 0.5561022; × 75 = 41.70767 ml.
  const shaken = of(card, 'Shake hard; strain');
  expect(shaken?.method).toBe('shake');
  expect(shaken?.addedMl).toBeCloseTo(41.7077, 3);
  expect(shaken?.finalMl).toBeCloseTo(116.7077, 3);
  // 20 ÷ 116.70767
  expect(shaken?.finalAbvPercent).toBeCloseTo(17.1368, 3);
  // 3 points of 75 ml
  expect(shaken?.addedUncertaintyMl).toBeCloseTo(2.25, 9);
});

it('stirs: less water, and less sure', () => {
  // −1.21 × 0.0711111 + 1.246 × 0.2666667 + 0.145 = 0.3912222; × 75 = 29.34167 ml; 8 points of 75 ml = 6 ml.
  const stirred = of(card, 'Stirred over ice');
  expect(stirred?.addedMl).toBeCloseTo(29.3417, 3);
  expect(stirred?.addedUncertaintyMl).toBeCloseTo(6, 9);
});

it('knows no water where nothing is shaken or stirred', () => {
  for (const method of ['', 'build over ice', 'blend', 'pour from a shaker', 'stirrer on the side'])
    expect(of(card, method), method).toBeNull();
});

it('keeps to the strengths the formulas were fitted on, both ends included', () => {
  // 37.5 ml of 40 % in 100 ml is 15 %; 90 ml of 50 % in 100 ml is 45 %.
  expect(of(['37.5 ml gin', '62.5 ml plum'], 'shake')?.addedMl).toBeGreaterThan(0);
  expect(of(['90 ml rye', '10 ml plum'], 'stir')?.addedMl).toBeGreaterThan(0);
  expect(of(['37 ml gin', '63 ml plum'], 'shake')).toBeNull();
  expect(of(['91 ml rye', '9 ml plum'], 'stir')).toBeNull();
  expect(of(['50 ml unknown'], 'shake')).toBeNull();
  expect(of([], 'shake')).toBeNull();
});

it('lets the ice work only on what was in the tin', () => {
  // A top is 90 ml (common practice, no source): it joins the 116.7077 ml after the shake.
  const topped = of([...card, '1 top soda'], 'shake; strain');
  expect(topped?.addedMl).toBeCloseTo(41.7077, 3);
  expect(topped?.finalMl).toBeCloseTo(206.7077, 3);
  expect(topped?.finalAbvPercent).toBeCloseTo((20 / 206.7077) * 100, 3);
  const said = of([...card, '90 ml soda'], 'shake; strain; top with soda');
  expect(said?.addedMl).toBeCloseTo(41.7077, 3);
  const shakenToo = of([...card, '10 ml soda'], 'shake; strain');
  // 20 ÷ 85: a weaker tin takes other water.
  expect(shakenToo?.addedMl).not.toBeCloseTo(41.7077, 1);
});

it('does not chill what rinses the glass', () => {
  expect(of([...card, '1 rinse rye'], 'stir')?.addedMl).toBeCloseTo(29.3417, 3);
});
