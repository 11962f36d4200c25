// How full, in text: never empty for something, never full for less than full.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { bar, containers } from '../../../src/screens/parts/bar.ts';

it('fills with what there is', () => {
  expect([0, 0.25, 0.5, 1].map((share) => bar(share, 4))).toEqual(['▁▁▁▁', '▇▁▁▁', '▇▇▁▁', '▇▇▇▇']);
});

it('shows a last drop, and a first sip', () => {
  expect(bar(0.001, 10)).toBe('▇▁▁▁▁▁▁▁▁▁');
  expect(bar(0.999, 10)).toBe('▇▇▇▇▇▇▇▇▇▁');
});

it('is empty below zero and full above one', () => {
  expect(bar(-3, 4)).toBe('▁▁▁▁');
  expect(bar(7, 4)).toBe('▇▇▇▇');
});

it('has as many cells as asked and never says less for more', () => {
  const share = fc.double({ min: -1, max: 2, noNaN: true });
  const filled = (text: string): number => [...text].filter((cell) => cell === '▇').length;
  fc.assert(
    fc.property(share, share, fc.integer({ min: 2, max: 40 }), (one, other, cells) => {
      expect([...bar(one, cells)]).toHaveLength(cells);
      const [less, more] = one < other ? [one, other] : [other, one];
      expect(filled(bar(less, cells))).toBeLessThanOrEqual(filled(bar(more, cells)));
      expect(filled(bar(one, cells)) > 0).toBe(one > 0);
      expect(filled(bar(one, cells)) === cells).toBe(one >= 1);
    }),
  );
});

it('shows sealed bottles one by one while they fit, then their number', () => {
  expect([0, 1, 3, 4, 120].map((sealed) => containers(sealed, 3))).toEqual(['', '█', '███', '█ 4', '█ 120']);
  expect(containers(-2, 3)).toBe('');
});
