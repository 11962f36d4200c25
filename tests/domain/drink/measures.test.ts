// From what a card says to what leaves the shelf: units of the house, fruit and its juice, what does not fit, drinks left.

import fc from 'fast-check';
import { expect, it } from 'vitest';
import { drinksLeft, lineOf, linesOf } from '../../../src/domain/drink/measures.ts';
import type { ItemId } from '../../../src/domain/value/ids.ts';
import { anItem, aPiece, aSpec, codesOf, measure, messagesOf, must } from '../../support/shelf.ts';
import { sets, stocks } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const lime = aPiece('lime', {
  name: 'Lime',
  kind: 'fruit',
  yields: [
    { amount: 30_000, unit: 'ml', of: 'juice' },
    { amount: 8000, unit: 'each', of: 'wedge' },
  ],
});
const bar = booksAfter(
  stocks(anItem('gin', { name: 'Dry gin' }), anItem('plum'), aPiece('egg', { name: 'Egg white' }), lime),
);
const amount = (text: string): number => must(lineOf(measure(text), bar)).amount;

it('reads volumes to the microlitre', () => {
  expect(amount('60 ml gin')).toBe(60_000);
  expect(amount('2.25 cl gin')).toBe(22_500);
  // 1 US fl oz = 29.5735295625 ml (NIST Handbook 44, Appendix C, 2024; seen second-hand); × 1.5 = 44.36029…
  expect(amount('1 1/2 oz gin')).toBe(44_360);
});

it("follows the house's own ounce and dash", () => {
  const house = booksAfter(stocks(anItem('gin')), sets('ounce', '30ml'), sets('dash', '0.6'));
  const inHouse = (text: string): number => must(lineOf(measure(text), house)).amount;
  expect(inHouse('1 1/2 oz gin')).toBe(45_000);
  expect(inHouse('2 dash gin')).toBe(1200);
});

it('takes the part of a lime that gives so much juice, and never less', () => {
  // 22.5 of 30 ml is three quarters; 10 of 30 ml is 0.3333…, rounded up.
  expect(amount('22.5 ml lime')).toBe(750);
  expect(amount('10 ml lime')).toBe(334);
  expect(amount('60 ml lime')).toBe(2000);
  expect(amount('3 wedge lime')).toBe(375);
  expect(amount('1 each lime')).toBe(1000);
});

it('takes a slice by the size of the house when the fruit does not say', () => {
  // A slice is a tenth of a piece: common practice, no source.
  expect(amount('2 slice lime')).toBe(200);
});

it('says what is wrong with a measure, and what to write', () => {
  const said = (text: string): [string[], string[]] => {
    const read = lineOf(measure(text), bar);
    return [codesOf(read), messagesOf(read)];
  };
  expect(said('20 ml absent')).toEqual([
    ['unknown-item'],
    ['The item "absent" is not stocked. Add it with an items file first.'],
  ]);
  expect(said('20 ml egg')).toEqual([
    ['other-unit'],
    ['Egg white is kept in pieces, so "20 ml" does not fit. Write it in pieces.'],
  ]);
  expect(said('1 each gin')[0]).toEqual(['other-unit']);
  expect(said('2 thimble gin')[0]).toEqual(['bad-amount']);
  expect(said('some ml gin')[0]).toEqual(['bad-amount']);
});

it('keeps an amount between a microlitre and a thousand litres', () => {
  expect(amount('0.001 ml gin')).toBe(1);
  expect(amount('1000 l gin')).toBe(1_000_000_000);
  for (const text of ['0 ml gin', '0.0004 ml gin', '1000.001 l gin'])
    expect(codesOf(lineOf(measure(text), bar))).toEqual(['bad-amount']);
});

it('lists every measure that cannot be read, not just the first', () => {
  const read = linesOf(['20 ml absent', '50 ml gin', '20 ml egg'].map(measure), bar);
  expect(codesOf(read)).toEqual(['unknown-item', 'other-unit']);
});

const left = (measures: readonly string[], expected: Record<string, number>): number | null =>
  drinksLeft(aSpec('quay', measures), bar, new Map(Object.entries(expected) as [ItemId, number][]));

it('gives as many drinks as the scarcest item has', () => {
  // 700 ÷ 55 = 12.7; 100 ÷ 20 = 5; 4 eggs for one each.
  const card = ['55 ml gin', '20 ml plum', '1 each egg'];
  expect(left(card, { gin: 700_000, plum: 100_000, egg: 9000 })).toBe(5);
  expect(left(card, { gin: 700_000, plum: 400_000, egg: 4000 })).toBe(4);
  expect(left(card, { gin: 700_000, plum: 400_000, egg: 40_000 })).toBe(12);
});

it('adds up an item that stands twice on a card', () => {
  expect(left(['40 ml gin', '10 ml gin'], { gin: 100_000 })).toBe(2);
});

it('gives none of what is gone, below zero or never seen, and no number for a card it cannot read', () => {
  expect(left(['55 ml gin'], { gin: -10_000 })).toBe(0);
  expect(left(['55 ml gin'], { gin: 54_999 })).toBe(0);
  expect(left(['55 ml gin'], {})).toBe(0);
  expect(left(['55 ml absent'], { gin: 700_000 })).toBeNull();
});

it('never promises a drink the stock cannot pour, nor holds one back', () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 200 }), fc.nat(5_000_000), (ml, stock) => {
      const drinks = left([`${ml} ml gin`], { gin: stock }) ?? -1;
      expect(drinks * ml * 1000).toBeLessThanOrEqual(stock);
      expect((drinks + 1) * ml * 1000).toBeGreaterThan(stock);
    }),
  );
});
