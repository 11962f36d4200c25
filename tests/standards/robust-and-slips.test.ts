// Robust weights, odd counts and the likelihood behind the trends, against published figures.

import { describe, expect, it } from 'vitest';
import { limitFor } from '../../src/domain/drift/claim/chart.ts';
import { boundary, studentOf } from '../../src/domain/drift/claim/people.ts';
import { dot, factorBand, inverseBand, solveWith, whitenWith } from '../../src/domain/drift/fit/band.ts';
import { asTheyAre, type Bottle, bandOf } from '../../src/domain/drift/fit/bottle.ts';
import { HUBER, huberWeight } from '../../src/domain/drift/fit/robust.ts';
import { findMarks } from '../../src/domain/drift/fit/slips.ts';
import type { ItemId } from '../../src/domain/value/ids.ts';
import { solveLeastSquares } from '../support/qr.ts';

// Brownlee's stack loss data (Statistical Theory and Methodology, 1965), as R's `stackloss`: from memory, the plain fit proves it.
const stackLoss = [
  [80, 27, 89, 42],
  [80, 27, 88, 37],
  [75, 25, 90, 37],
  [62, 24, 87, 28],
  [62, 22, 87, 18],
  [62, 23, 87, 18],
  [62, 24, 93, 19],
  [62, 24, 93, 20],
  [58, 23, 87, 15],
  [58, 18, 80, 14],
  [58, 18, 89, 14],
  [58, 17, 88, 13],
  [58, 18, 82, 11],
  [58, 19, 93, 12],
  [50, 18, 89, 8],
  [50, 18, 86, 7],
  [50, 19, 72, 8],
  [50, 19, 79, 8],
  [50, 20, 80, 9],
  [56, 20, 82, 15],
  [70, 20, 91, 15],
] as const;
const x = stackLoss.map(([air, water, acid]) => [1, air, water, acid]);
const y = stackLoss.map((row) => row[3]);

/** The spread of residuals by their median, as MASS has it: median |r| / 0.6745. */
const medianDeviation = (values: readonly number[]): number => {
  const sizes = values.map(Math.abs).sort((a, b) => a - b);
  const middle = sizes.length / 2;
  const median =
    sizes.length % 2 === 1
      ? sizes[Math.floor(middle)]
      : ((sizes[middle - 1] as number) + (sizes[middle] as number)) / 2;
  return (median as number) / 0.6745;
};

describe('Huber weights', () => {
  it('least squares on the stack loss data: −39.920, 0.716, 1.295, −0.152 (Draper & Smith; R lm)', () => {
    const { coefficients } = solveLeastSquares(x, y);
    for (const [index, value] of [-39.9197, 0.7156, 1.2953, -0.1521].entries())
      expect(coefficients[index]).toBeCloseTo(value, 4);
  });

  it('Huber, 1.345, scale by the median: −41.0265, 0.8294, 0.9261, −0.1278 (MASS rlm, Venables & Ripley 2002, 6.5: from memory)', () => {
    let weights = y.map(() => 1);
    let coefficients: number[] = [];
    for (let turn = 0; turn < 200; turn += 1) {
      const root = weights.map(Math.sqrt);
      coefficients = solveLeastSquares(
        x.map((row, index) => row.map((value) => value * (root[index] as number))),
        y.map((value, index) => value * (root[index] as number)),
      ).coefficients;
      const residuals = y.map(
        (value, row) =>
          value -
          (x[row] as number[]).reduce(
            (sum, each, column) => sum + each * (coefficients[column] as number),
            0,
          ),
      );
      const scale = medianDeviation(residuals);
      weights = residuals.map((value) => huberWeight(value / scale, HUBER));
    }
    for (const [index, value] of [-41.0265, 0.8294, 0.9261, -0.1278].entries())
      expect(coefficients[index]).toBeCloseTo(value, 3);
  });
});

// Annual flow of the Nile at Aswan, 1871 to 1970 (Cobb, Biometrika 65, 1978), as R's `Nile`: from memory.
const nile = [
  1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958,
  1140, 1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774, 840, 874, 694, 940, 833, 701, 916, 692, 1020,
  1050, 969, 831, 726, 456, 824, 702, 1120, 1100, 832, 764, 821, 768, 845, 864, 862, 698, 845, 744, 796, 1040,
  759, 781, 865, 845, 944, 984, 897, 822, 1010, 771, 676, 649, 846, 812, 742, 801, 1040, 860, 874, 848, 890,
  744, 749, 838, 1050, 918, 986, 797, 923, 975, 815, 1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740,
];
/** A level that is read with an error each year is a bottle that is counted: what is missing is by how much it fell. */
const asBottle = (readings: readonly number[], reading: number, own: number): Bottle => {
  const size = readings.length - 1;
  const fill = (value: number): Float64Array => new Float64Array(size).fill(value);
  return {
    id: 'nile' as ItemId,
    method: 'ml',
    group: 'all',
    size: 1000,
    night: Int32Array.from({ length: size }, (_, t) => t),
    missing: Float64Array.from(
      { length: size },
      (_, t) => (readings[t] as number) - (readings[t + 1] as number),
    ),
    poured: fill(1),
    by: [],
    bySpec: new Map(),
    perDrink: new Map(),
    from: Int32Array.from({ length: size }, (_, t) => t),
    to: Int32Array.from({ length: size }, (_, t) => t + 1),
    reading: new Float64Array(size + 1).fill(reading),
    counter: new Int32Array(size + 1).fill(-1),
    own: fill(own),
  };
};
const one = { reading: 1, own: 1 };

describe('the Nile as a local level (Durbin & Koopman, Time Series Analysis by State Space Methods, 2012, 2.10 and 2.12: from memory)', () => {
  const bottle = asBottle(nile, 15_099, 1469.1);

  it('has the published log likelihood at the published variances, 15,099 and 1,469.1: −632.54', () => {
    const band = bandOf(bottle, one, asTheyAre(bottle));
    const white = whitenWith(band, bottle.missing);
    const logs = Array.from(band.pivot).reduce((sum, value) => sum + 2 * Math.log(value), 0);
    expect(-0.5 * (99 * Math.log(2 * Math.PI) + logs + dot(white, white))).toBeCloseTo(-632.54, 1);
  });

  it('has its strangest reading in 1913 and its strangest fall between 1898 and 1899', () => {
    const { slips, nights } = findMarks(bottle, bottle.missing, one, 2.5);
    expect(slips.map(({ reading }) => 1871 + reading)).toContain(1913);
    expect(1871 + (slips[0]?.reading ?? 0)).toBe(1913);
    expect(nights.map(({ stretch }) => 1871 + stretch)).toContain(1898);
  });
});

describe('tridiagonal covariances', () => {
  const diagonal = Float64Array.of(4, 5, 6, 3);
  const beside = Float64Array.of(0, -1, -2, 0.5);
  const dense = [
    [4, -1, 0, 0],
    [-1, 5, -2, 0],
    [0, -2, 6, 0.5],
    [0, 0, 0.5, 3],
  ];

  it('solve what they are given', () => {
    const band = factorBand(diagonal, beside);
    const solved = solveWith(band, Float64Array.of(1, 2, 3, 4));
    for (const [index, row] of dense.entries())
      expect(row.reduce((sum, value, column) => sum + value * (solved[column] as number), 0)).toBeCloseTo(
        index + 1,
        10,
      );
  });

  it('know the middle of their inverse', () => {
    const band = factorBand(diagonal, beside);
    const inverse = inverseBand(band);
    dense.forEach((_, index) => {
      const unit = new Float64Array(4);
      unit[index] = 1;
      const column = solveWith(band, unit);
      expect(inverse.diagonal[index]).toBeCloseTo(column[index] as number, 12);
      if (index < 3) expect(inverse.beside[index]).toBeCloseTo(column[index + 1] as number, 12);
    });
  });
});

describe('limits', () => {
  it('of a sum: one-sided, k = 0.5, run length 1,200 -> 5.251, 2,400 -> 5.939, 4,800 -> 6.629 (statistics 2.4; Siegmund is near)', () => {
    expect(limitFor(1200 / 90)).toBeCloseTo(5.251, 1);
    expect(limitFor(2400 / 90)).toBeCloseTo(5.939, 1);
    expect(limitFor(4800 / 90)).toBeCloseTo(6.629, 1);
  });

  it('of Student: t(.975, 10) = 2.228, t(.995, 20) = 2.845 (any table)', () => {
    expect(studentOf(1.959964, 10)).toBeCloseTo(2.228, 2);
    expect(studentOf(2.575829, 20)).toBeCloseTo(2.845, 2);
  });

  it('of a person: rises with how many are looked at, falls with how long', () => {
    expect(boundary(8, 3, 30)).toBeGreaterThan(boundary(3, 3, 30));
    expect(boundary(5, 3, 60)).toBeLessThan(boundary(5, 3, 12));
    expect(boundary(5, 3, 60)).toBeGreaterThan(3.09);
  });
});
