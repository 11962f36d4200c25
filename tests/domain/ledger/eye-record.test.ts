// Readings by eye beside the scale, kept as exact integers.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { EventOf } from '../../../src/domain/ledger/event.ts';
import { addPair, noPairs } from '../../../src/domain/ledger/eye-record.ts';
import { told } from '../../support/told.ts';

type Pair = EventOf<'readings-compared'>;
const pair = (eye: number, weighed: number, size = 700_000): Pair =>
  told({ kind: 'readings-compared', item: 'gin', size, eye, weighed })[0] as Pair;

it('keeps eye − scale as millionths of a container', () => {
  // 350 against 315 of 700 ml: a twentieth too much. 700 against 770: a tenth too little.
  const record = [pair(350_000, 315_000), pair(700_000, 770_000)].reduce(addPair, noPairs);
  expect(record).toEqual({ pairs: 2, sum: -50_000, squares: 50_000 ** 2 + 100_000 ** 2 });
});

it('begins with nothing and counts a perfect reading as a pair', () => {
  expect(noPairs).toEqual({ pairs: 0, sum: 0, squares: 0 });
  expect(addPair(noPairs, pair(350_000, 350_000))).toEqual({ pairs: 1, sum: 0, squares: 0 });
});

it('takes a bottle of any size, full or empty', () => {
  expect(addPair(noPairs, pair(1, 0, 1)).sum).toBe(1_000_000);
  expect(addPair(noPairs, pair(0, 1_000_000_000, 1_000_000_000)).sum).toBe(-1_000_000);
  // A third of a millionth is nothing.
  expect(addPair(noPairs, pair(1, 0, 3_000_000))).toEqual({ pairs: 1, sum: 0, squares: 0 });
});

it('comes to the same in any order, to the last digit', () => {
  const pairs = fc.array(fc.tuple(fc.nat(700_000), fc.nat(700_000)), { maxLength: 12 });
  fc.assert(
    fc.property(pairs, (list) => {
      const events = list.map(([eye, weighed]) => pair(eye, weighed));
      const forth = events.reduce(addPair, noPairs);
      expect([...events].reverse().reduce(addPair, noPairs)).toEqual(forth);
      expect(Number.isSafeInteger(forth.squares)).toBe(true);
    }),
  );
});
