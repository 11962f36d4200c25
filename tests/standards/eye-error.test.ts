// The reading error learned from pairs. Root mean square as a Type A standard uncertainty: NIST TN 1297 (1994), 3. Quantiles
// of chi-square: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4, critical values (values from memory).

import { describe, expect, it } from 'vitest';
import { newHouse } from '../../src/domain/catalogue/house.ts';
import {
  assumedShare,
  chiSquareQuantile,
  eyeError,
  shareInterval,
} from '../../src/domain/count/eye-error.ts';
import { addPair, noPairs } from '../../src/domain/ledger/eye-record.ts';
import type { PersonId } from '../../src/domain/value/ids.ts';

const pair = (eye: number, weighed: number) => ({ eye, weighed, size: 700_000 }) as never;

describe('quantiles of chi-square', () => {
  // Wilson and Hilferty's approximation is good to a third of a percent from ten degrees of freedom on.
  it.each([
    [10, 0.025, 3.247],
    [10, 0.975, 20.483],
    [20, 0.025, 9.591],
    [20, 0.975, 34.17],
    [50, 0.025, 32.357],
    [100, 0.975, 129.561],
  ])('n = %i, p = %f', (n, p, expected) => {
    expect(Math.abs(chiSquareQuantile(p, n) / expected - 1)).toBeLessThan(p < 0.5 && n === 10 ? 0.01 : 0.003);
  });
});

describe('the reading error', () => {
  it('is the assumed rectangular one until there are ten pairs', () => {
    let record = noPairs;
    for (let at = 0; at < 9; at += 1) record = addPair(record, pair(350_000, 400_000));
    const error = eyeError(
      { house: newHouse, eyes: new Map([['ines' as PersonId, record]]) },
      'ines' as PersonId,
    );
    expect(error).toMatchObject({ from: 'assumed', pairs: 9 });
    expect(error.share).toBeCloseTo(0.1 / (2 * Math.sqrt(3)), 12);
    expect(assumedShare(newHouse) * 700).toBeCloseTo(20.2072594, 6);
  });

  it('is the root mean square of the differences, with the sign of its mean beside it', () => {
    let record = noPairs;
    const offs = [14, -7, 21, 7, -14, 28, 0, 7, -21, 35];
    for (const off of offs) record = addPair(record, pair(350_000 + off * 1000, 350_000));
    const error = eyeError(
      { house: newHouse, eyes: new Map([['ines' as PersonId, record]]) },
      'ines' as PersonId,
    );
    const rms = Math.sqrt(offs.reduce((sum, off) => sum + (off / 700) ** 2, 0) / offs.length);
    expect(error.from).toBe('own');
    expect(error.share).toBeCloseTo(rms, 8);
    expect(error.bias).toBeCloseTo(offs.reduce((sum, off) => sum + off, 0) / offs.length / 700, 8);
    const [low, high] = shareInterval(error);
    expect(low / rms).toBeCloseTo(Math.sqrt(10 / 20.483), 2);
    expect(high / rms).toBeCloseTo(Math.sqrt(10 / 3.247), 1);
  });

  it('covers the true error in 95 of 100 drills of twenty normal pairs (simulated, fixed seed)', () => {
    let state = 20261125;
    const chance = (): number => {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      return (state + 0.5) / 2 ** 32;
    };
    const normal = (): number => Math.sqrt(-2 * Math.log(chance())) * Math.cos(2 * Math.PI * chance());
    let covered = 0;
    const drills = 2000;
    for (let drill = 0; drill < drills; drill += 1) {
      let record = noPairs;
      for (let at = 0; at < 20; at += 1)
        record = addPair(record, pair(Math.round(350_000 + 28_000 * normal()), 350_000));
      const [low, high] = shareInterval(
        eyeError({ house: newHouse, eyes: new Map([['ines' as PersonId, record]]) }, 'ines' as PersonId),
      );
      if (low <= 0.04 && 0.04 <= high) covered += 1;
    }
    expect(covered / drills).toBeGreaterThan(0.93);
    expect(covered / drills).toBeLessThan(0.97);
  });
});
