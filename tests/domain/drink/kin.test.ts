// Kin: cards one measure apart, and what stands nearest to a drink that can't be poured.

import { expect, it } from 'vitest';
import type { Spec } from '../../../src/domain/catalogue/spec.ts';
import { kinOf, nearestWithout } from '../../../src/domain/drink/kin/kin.ts';
import { differenceText } from '../../../src/domain/drink/kin/kin-text.ts';
import type { ItemId } from '../../../src/domain/value/ids.ts';
import { anItem, aSpec, itemIdOf } from '../../support/shelf.ts';
import { stocks, writes } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const items = stocks(
  anItem('gin', { name: 'Dry gin 40%' }),
  anItem('rye', { name: 'Straight rye', abvPercent: 50 }),
  anItem('plum', { name: 'Plum cordial', abvPercent: 0, sugarGramsPerLitre: 300 }),
  anItem('sage', { name: 'Sage syrup', abvPercent: 0, sugarGramsPerLitre: 600 }),
);
const ferry = aSpec('ferry', ['50 ml gin', '20 ml plum'], { family: 'long' });
const withSpecs = (...specs: readonly Spec[]) => booksAfter(items, writes(ferry, ...specs));
const kin = (...others: readonly Spec[]): string[] => {
  const books = withSpecs(...others);
  return kinOf(ferry, books).map(
    ({ spec, difference }) => `${spec.id}: ${differenceText(difference, books)}`,
  );
};

it('finds cards with one measure swapped, resized, added or left out, and says which', () => {
  expect(
    kin(
      aSpec('swapped', ['50 ml rye', '20 ml plum']),
      aSpec('resized', ['50 ml gin', '30 ml plum']),
      aSpec('added', ['50 ml gin', '20 ml plum', '10 ml sage']),
      aSpec('less', ['50 ml gin']),
    ),
  ).toEqual([
    'swapped: 50 ml Dry gin → 50 ml Straight rye',
    'resized: 20 ml Plum cordial → 30 ml Plum cordial',
    'added: and 10 ml Sage syrup',
    'less: without 20 ml Plum cordial',
  ]);
});

it('sees no kin where two measures differ, or none at all', () => {
  expect(
    kin(
      aSpec('far', ['50 ml rye', '20 ml sage']),
      aSpec('far-sizes', ['30 ml gin', '40 ml plum']),
      aSpec('both', ['50 ml rye', '40 ml plum']),
      aSpec('twin', ['50 ml gin', '20 ml plum']),
    ),
  ).toEqual([]);
});

it('takes 20 and 22 ml for the same measure', () => {
  expect(kin(aSpec('hand', ['50 ml gin', '22 ml plum']))).toEqual([]);
  expect(kin(aSpec('hand', ['50 ml rye', '22 ml plum']))).toEqual([
    'hand: 50 ml Dry gin → 50 ml Straight rye',
  ]);
});

it('passes over cards it cannot read, and knows no kin of one it cannot read', () => {
  expect(kin(aSpec('broken', ['50 ml absent', '20 ml plum']))).toEqual([]);
  const broken = aSpec('broken', ['50 ml absent']);
  expect(kinOf(broken, withSpecs(broken))).toEqual([]);
});

const nearest = (expected: Record<string, number>, ...others: readonly Spec[]) =>
  nearestWithout(
    ferry,
    itemIdOf('gin'),
    withSpecs(...others),
    new Map(Object.entries(expected) as [ItemId, number][]),
  );

it('measures how near a drink is by family, shared items, strength, sweetness and acid', () => {
  const [one] = nearest(
    { rye: 500_000, plum: 500_000 },
    aSpec('swapped', ['50 ml rye', '20 ml plum'], { family: 'long' }),
  );
  // Same family 0; one of two items shared 0.5; 20/70 = 28.571 % against 25/70 = 35.714 %: 7.143/20 = 0.357; the rest equal.
  expect(one?.distance).toBeCloseTo(0.857143, 5);
  // 500 ÷ 50
  expect(one?.left).toBe(10);
});

it('puts the nearest first and another family further away', () => {
  const found = nearest(
    { rye: 500_000, plum: 500_000, sage: 500_000 },
    aSpec('other-family', ['50 ml rye', '20 ml plum'], { family: 'short' }),
    aSpec('same-family', ['50 ml rye', '20 ml plum'], { family: 'long' }),
  );
  expect(found.map(({ spec }) => spec.id)).toEqual(['same-family', 'other-family']);
  expect((found[1]?.distance ?? 0) - (found[0]?.distance ?? 0)).toBeCloseTo(1, 9);
});

it('offers nothing that needs the item, nothing that is out, and at most six', () => {
  const rye = Array.from({ length: 9 }, (_, n) => aSpec(`rye-${n}`, [`${30 + 9 * n} ml rye`]));
  const found = nearest(
    { gin: 700_000, rye: 700_000, plum: -5000 },
    aSpec('with-gin', ['50 ml gin', '10 ml rye']),
    aSpec('no-plum', ['50 ml rye', '20 ml plum']),
    ...rye,
  );
  expect(found).toHaveLength(6);
  expect(found.every(({ spec }) => spec.id.startsWith('rye-'))).toBe(true);
});
