// What stands sealed and open: pours, deliveries and moves to the microlitre.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  addTo,
  containersTotal,
  drawFrom,
  openNext,
  takeOut,
} from '../../../src/domain/ledger/stock/containers.ts';

const size = 700_000;
const held = fc.record({
  sealed: fc.nat(5),
  open: fc.array(fc.integer({ min: 1, max: size }), { maxLength: 3 }),
});
const amount = fc.integer({ min: 1, max: 6_000_000 });

it('draws, adds and moves to the microlitre', () => {
  fc.assert(
    fc.property(held, amount, amount, (start, out, more) => {
      const total = containersTotal(start, size);
      const drawn = drawFrom(start, out, size);
      expect(containersTotal(drawn, size)).toBe(total - out);
      expect(containersTotal(addTo(drawn, more, size), size)).toBe(total - out + more);
      expect(containersTotal(takeOut(start, out, size), size)).toBe(total - out);
      expect(drawn.sealed).toBeGreaterThanOrEqual(0);
    }),
  );
});

it('opens the next bottle when a pour empties one', () => {
  expect(drawFrom({ sealed: 2, open: [20_000] }, 60_000, size)).toEqual({
    sealed: 1,
    open: [660_000],
    opened: 1,
  });
});

it('goes below zero when nothing is left, and a delivery makes up for it first', () => {
  const below = drawFrom({ sealed: 0, open: [10_000] }, 60_000, size);
  expect(below.open).toEqual([-50_000]);
  expect(addTo(below, size, size)).toEqual({ sealed: 0, open: [650_000] });
});

it('opens one by hand, and not when none is sealed', () => {
  expect(openNext({ sealed: 1, open: [100] }, size)).toEqual({ sealed: 0, open: [100, size] });
  expect(openNext({ sealed: 0, open: [100] }, size)).toBeNull();
});
