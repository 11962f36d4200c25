// How far off people read a bottle by eye: learned from bottles that were read and then weighed.
// The root mean square of the differences is the standard uncertainty of a reading (Type A, NIST TN 1297 1994, 3; the
// drill itself: common practice, no source). Until there are enough pairs the house's assumed width stands.

import type { House } from '../catalogue/house.ts';
import { type EyeRecord, noPairs } from '../ledger/eye-record.ts';
import { normalQuantile } from '../standard/normal.ts';
import type { PersonId, Pourer } from '../value/ids.ts';

/** Fewer pairs than this say too little: at ten the root mean square is known to about a third. */
export const ENOUGH_PAIRS = 10;
export type EyeError = {
  /** Standard uncertainty of one reading by eye, as a share of the container. */
  readonly share: number;
  /** Mean of eye − scale, as a share; null while it is not known. */
  readonly bias: number | null;
  readonly pairs: number;
  readonly from: 'own' | 'house' | 'assumed';
};

/** What a rectangular reading of the assumed width is uncertain by: width / (2√3) (QUAM appendix E.1). */
export const assumedShare = (house: House): number => house.tenthsWidth / (2 * Math.sqrt(3));

const learned = ({ pairs, sum, squares }: EyeRecord, from: 'own' | 'house'): EyeError => ({
  share: Math.sqrt(squares / pairs) / 1_000_000,
  bias: sum / pairs / 1_000_000,
  pairs,
  from,
});

type EyeBooks = { readonly house: House; readonly eyes: ReadonlyMap<Pourer, EyeRecord> };

/** The reading error to count with: the person's own when known, else the house's, else the assumed one. */
export function eyeError({ house, eyes }: EyeBooks, by: PersonId | null): EyeError {
  const own = eyes.get(by ?? '') ?? noPairs;
  if (by !== null && own.pairs >= ENOUGH_PAIRS) return learned(own, 'own');
  const all = [...eyes.values()].reduce(
    (sum, one) => ({
      pairs: sum.pairs + one.pairs,
      sum: sum.sum + one.sum,
      squares: sum.squares + one.squares,
    }),
    noPairs,
  );
  if (all.pairs >= ENOUGH_PAIRS) return learned(all, 'house');
  return { share: assumedShare(house), bias: null, pairs: own.pairs, from: 'assumed' };
}

/** Quantile of chi-square with n degrees of freedom (Wilson & Hilferty, PNAS 17:684, 1931: from memory). */
export function chiSquareQuantile(p: number, n: number): number {
  const part = 2 / (9 * n);
  return n * (1 - part + normalQuantile(p) * Math.sqrt(part)) ** 3;
}

/** Where the true share lies, 95 in 100, for normal differences: rms √(n / χ²). */
export function shareInterval({ share, pairs }: EyeError): readonly [low: number, high: number] {
  return [
    share * Math.sqrt(pairs / chiSquareQuantile(0.975, pairs)),
    share * Math.sqrt(pairs / chiSquareQuantile(0.025, pairs)),
  ];
}
