// What a card says of a measure in the unit the house shows.
import { expect, it } from 'vitest';
import type { MeasureUnit } from '../../../src/domain/catalogue/house.ts';
import { measureName, measureText } from '../../../src/domain/drink/measure-text.ts';
import { lineOf } from '../../../src/domain/drink/measures.ts';
import { anItem, aPiece, measure, must } from '../../support/shelf.ts';
import { sets, stocks } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const items = stocks(
  anItem('gin', { name: 'Dry gin' }),
  aPiece('egg'),
  aPiece('lime', {
    name: 'Lime',
    kind: 'fruit',
    yields: [
      { amount: 30_000, unit: 'ml', of: 'juice' },
      { amount: 8000, unit: 'each', of: 'wedge' },
    ],
  }),
  anItem('salt', { unit: 'g', size: 1_000_000, sizeText: '1 kg', count: 'grams' }),
);
const bar = booksAfter(items);
const roundOunce = booksAfter(items, sets('ounce', '30ml'));

const shown = (text: string, unit: MeasureUnit, times = 1, books = bar): string =>
  measureText(must(lineOf(measure(text), books)), books, unit, times);

it('says a measure as it was written when the unit is the same', () => {
  expect(shown('22.5 ml gin', 'ml')).toBe('22.5 ml');
  expect(shown('3/4 oz gin', 'oz')).toBe('3/4 oz');
});

it('turns one unit into another', () => {
  expect(shown('22.5 ml gin', 'cl')).toBe('2.25 cl');
  // 0.75 × 29.5735… = 22.180 ml
  expect(shown('3/4 oz gin', 'ml')).toBe('22.2 ml');
  // With an ounce of 30 ml, 45 ml is one and a half exactly.
  expect(shown('45 ml gin', 'oz', 1, roundOunce)).toBe('1½ oz');
  // With the US ounce, 22.5 ml is 0.761 oz: near three quarters, and it says so.
  expect(shown('22.5 ml gin', 'oz')).toBe('≈¾ oz');
});

it('multiplies for a round', () => {
  expect(shown('22.5 ml gin', 'ml', 4)).toBe('90 ml');
  expect(shown('22.5 ml gin', 'cl', 4)).toBe('9 cl');
  expect(shown('45 ml gin', 'oz', 3, roundOunce)).toBe('4½ oz');
});

it('leaves dashes, pieces and grams in their own words', () => {
  expect(shown('2 dash gin', 'oz')).toBe('2 dashes');
  expect(shown('1 dash gin', 'oz')).toBe('1 dash');
  expect(shown('½ dash gin', 'oz')).toBe('½ dash');
  expect(shown('2 dash gin', 'ml', 3)).toBe('6 dashes');
  expect(shown('1 each egg', 'cl')).toBe('1');
  expect(shown('1 each egg', 'cl', 2)).toBe('2');
  expect(shown('2 g salt', 'ml')).toBe('2 g');
});

it('speaks of the juice where a lime gives it, and of the lime where it is cut', () => {
  expect(shown('22.5 ml lime', 'cl')).toBe('2.25 cl');
  expect(shown('1 wedge lime', 'cl')).toBe('1 wedge');
  const name = (text: string): string => measureName(must(lineOf(measure(text), bar)), bar);
  expect(name('22.5 ml lime')).toBe('Lime juice');
  expect(name('1 wedge lime')).toBe('Lime');
  expect(name('50 ml gin')).toBe('Dry gin');
});
