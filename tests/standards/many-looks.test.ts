// The false discovery rate of Benjamini & Hochberg, J. R. Statist. Soc. B 57:289–300, 1995, the example of fifteen hypotheses
// (published, seen second-hand; public transcriptions agree). The adjusted values are computed from it by hand.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { adjustedForMany } from '../../src/domain/standard/many-looks.ts';
import { normalTail } from '../../src/domain/standard/normal.ts';

const p = [
  0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528,
  0.759, 1,
];
const adjusted = [
  0.0015, 0.003, 0.0095, 0.035625, 0.0603, 0.063857, 0.063857, 0.0645, 0.0765, 0.486, 0.581182, 0.714875,
  0.753231, 0.813214, 1,
];

it('adjusts the fifteen, and rejects the first four at 0.05', () => {
  adjustedForMany(p).forEach((value, index) => {
    expect(value).toBeCloseTo(adjusted[index] ?? -1, 6);
  });
  expect(adjustedForMany(p).filter((value) => value <= 0.05)).toHaveLength(4);
});

it('gives back the order it was asked in', () => {
  fc.assert(
    fc.property(fc.shuffledSubarray([...p.keys()], { minLength: 15, maxLength: 15 }), (order) => {
      const shuffled = adjustedForMany(order.map((index) => p[index] ?? 1));
      order.forEach((from, at) => {
        expect(shuffled[at]).toBeCloseTo(adjusted[from] ?? -1, 6);
      });
    }),
  );
});

it('flags five of ten nightly figures at 0.10, four at 0.05 (one-sided, computed)', () => {
  const z = [4, 3.1, 2.6, 2.2, 1.9, 1.1, 0.4, -0.2, -0.9, -1.5];
  const q = adjustedForMany(z.map((value) => normalTail(value)));
  [0.000317, 0.004838, 0.015537, 0.034759, 0.057433, 0.226].forEach((value, index) => {
    expect(q[index]).toBeCloseTo(value, 3);
  });
  expect(q.filter((value) => value <= 0.1)).toHaveLength(5);
  expect(q.filter((value) => value <= 0.05)).toHaveLength(4);
});

it('of none there is none, and one stays what it is', () => {
  expect([adjustedForMany([]), adjustedForMany([0.03])]).toEqual([[], [0.03]]);
});
