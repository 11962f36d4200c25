// Whose pours: small exact cases (computed by hand in rationals; no outside source), and the fit against plain linear algebra.

import { describe, expect, it } from 'vitest';
import { gainOf, weighted } from '../../src/domain/drift/claim/gains.ts';
import { dot, factorBand, solveWith } from '../../src/domain/drift/fit/band.ts';
import { blockOf, type Layout } from '../../src/domain/drift/fit/block.ts';
import type { Bottle } from '../../src/domain/drift/fit/bottle.ts';
import {
  contrastVariance,
  residualOf,
  type SeasonFit,
  solveSeason,
} from '../../src/domain/drift/fit/season-fit.ts';
import { unmarked } from '../../src/domain/drift/fit/slips.ts';
import { cholesky, invertCholesky, solveCholesky } from '../../src/domain/standard/cholesky.ts';
import type { ItemId, SpecId } from '../../src/domain/value/ids.ts';
import { solveLeastSquares } from '../support/qr.ts';

const card = 'card' as SpecId;

/** Counts that nothing is known against, nights of a variance of their own. */
function bottleOf(
  id: string,
  missing: readonly number[],
  by: readonly (readonly number[])[],
  variance: { reading: number; own: number },
): Bottle {
  const size = missing.length;
  const people = by[0]?.length ?? 0;
  return {
    id: id as ItemId,
    method: 'ml',
    group: 'all',
    size: 700,
    night: Int32Array.from({ length: size }, (_, t) => t),
    missing: Float64Array.from(missing),
    poured: Float64Array.from(by, (row) => row.reduce((a, b) => a + b, 0)),
    by: Array.from({ length: people }, (_, person) => Float64Array.from(by, (row) => row[person] as number)),
    bySpec: new Map([[card, Float64Array.from(by, (row) => (row[0] as number) / 2)]]),
    perDrink: new Map([[card, 20]]),
    from: Int32Array.from({ length: size }, (_, t) => t),
    to: Int32Array.from({ length: size }, (_, t) => t + 1),
    reading: new Float64Array(size + 1).fill(variance.reading),
    counter: new Int32Array(size + 1).fill(-1),
    own: new Float64Array(size).fill(variance.own),
  };
}
const fitOf = (bottles: readonly Bottle[], layout: Layout, level: number, loose: number): SeasonFit =>
  solveSeason(
    bottles.map((bottle) =>
      blockOf({ bottle, scale: { reading: 1, own: 1 }, marks: unmarked(bottle) }, layout),
    ),
    layout,
    { level, each: 0, counter: 1e-6, loose },
  );
const two: Layout = { people: 2, counters: [], causes: [] };
const poured = [
  [400, 0],
  [0, 400],
  [200, 200],
  [300, 100],
];

describe('two people', () => {
  it('case 1: exact data give (0.10, 0.02) by least squares', () => {
    const { coefficients } = solveLeastSquares(poured, [40, 8, 24, 32]);
    expect(coefficients[0]).toBeCloseTo(0.1, 12);
    expect(coefficients[1]).toBeCloseTo(0.02, 12);
  });

  /** Each night a bottle of its own whose level is held at zero, ±20 ml (the reading's least variance of 1 taken off). */
  const apart = (missing: readonly number[], by: readonly (readonly number[])[]): SeasonFit =>
    fitOf(
      missing.map((value, index) =>
        bottleOf(`b${index}`, [value], [by[index] as number[]], { reading: 1, own: 398 }),
      ),
      two,
      1e-9,
      0.05,
    );

  it('case 2: nights of ±20 ml, τ 5 %: 327/5050 and 91/5050, posterior 0.030263 and 0.033375', () => {
    const fit = apart([40, 8, 24, 32], poured);
    expect(fit.effects[0]).toBeCloseTo(327 / 5050, 9);
    expect(fit.effects[1]).toBeCloseTo(91 / 5050, 9);
    expect(Math.sqrt(contrastVariance(fit, [1, 0]))).toBeCloseTo(0.030263, 6);
    expect(Math.sqrt(contrastVariance(fit, [0, 1]))).toBeCloseTo(0.033375, 6);
  });

  it('case 3: a rota that never parts them gives both 0.0381818182, and only their sum is known', () => {
    const fit = apart(
      [24, 36, 12],
      [
        [200, 200],
        [300, 300],
        [100, 100],
      ],
    );
    expect(fit.effects[0]).toBeCloseTo(0.0381818182, 9);
    expect(fit.effects[1]).toBeCloseTo(0.0381818182, 9);
    expect(Math.sqrt(contrastVariance(fit, [1, -1])) / (0.05 * Math.SQRT2)).toBeCloseTo(1, 9);
    expect(Math.sqrt(contrastVariance(fit, [1, 1])) / (0.05 * Math.SQRT2)).toBeLessThan(0.9);
  });
});

describe('shared counts', () => {
  /** Weighted mean of nights with constant pours, readings of ±10, nothing else. */
  const mean = (missing: readonly number[]): { estimate: number; deviation: number } => {
    const size = missing.length;
    const band = factorBand(new Float64Array(size).fill(200), new Float64Array(size).fill(-100));
    const ones = new Float64Array(size).fill(1);
    const solved = solveWith(band, ones);
    return {
      estimate: dot(solved, Float64Array.from(missing)) / dot(solved, ones),
      deviation: 1 / Math.sqrt(dot(solved, ones)),
    };
  };

  it('case 5: three nights weigh .3 .4 .3: (10, 40, 10) -> 22, where the plain mean is 20', () => {
    expect(mean([10, 40, 10]).estimate).toBeCloseTo(22, 9);
    expect(mean([1, 0, 0]).estimate).toBeCloseTo(0.3, 9);
    expect(mean([0, 1, 0]).estimate).toBeCloseTo(0.4, 9);
  });
  it('its deviation is u/√5 for three nights and u/49.80 for thirty', () => {
    expect(mean([0, 0, 0]).deviation).toBeCloseTo(10 / Math.sqrt(5), 9);
    expect(10 / mean(new Array(30).fill(0)).deviation).toBeCloseTo(49.8, 1);
  });
});

describe('the fit of a season', () => {
  const bottles = [
    bottleOf('a', [30, 5, 28, 40], poured, { reading: 50, own: 100 }),
    bottleOf(
      'b',
      [22, 1, 10, 18],
      [
        [100, 100],
        [50, 200],
        [300, 0],
        [80, 90],
      ],
      { reading: 20, own: 60 },
    ),
  ];

  /** All effects at once with dense matrices: people, then the two levels; with a column more when one is given. */
  function dense(extra: boolean): { theta: number[]; covariance: number[][] } {
    const size = extra ? 5 : 4;
    const a = Array.from({ length: size }, () => new Array<number>(size).fill(0));
    const b = new Array<number>(size).fill(0);
    bottles.forEach((bottle, at) => {
      const n = bottle.missing.length;
      const r = bottle.reading[0] as number;
      const c = Array.from({ length: n }, (_, i) =>
        Array.from({ length: n }, (__, j) =>
          i === j ? 2 * r + (bottle.own[0] as number) : Math.abs(i - j) === 1 ? -r : 0,
        ),
      );
      const inverse = invertCholesky(cholesky(c));
      const columns = [
        bottle.by[0],
        bottle.by[1],
        at === 0 ? bottle.poured : null,
        at === 1 ? bottle.poured : null,
        bottle.bySpec.get(card),
      ].slice(0, size);
      columns.forEach((one, i) => {
        if (one === null || one === undefined) return;
        const solved = inverse.map((row) =>
          row.reduce((sum, value, t) => sum + value * (one[t] as number), 0),
        );
        b[i] =
          (b[i] as number) + solved.reduce((sum, value, t) => sum + value * (bottle.missing[t] as number), 0);
        columns.forEach((other, j) => {
          if (other !== null && other !== undefined)
            (a[i] as number[])[j] =
              ((a[i] as number[])[j] as number) +
              solved.reduce((sum, value, t) => sum + value * (other[t] as number), 0);
        });
      });
    });
    const priors = [0.25, 0.25, 0.03, 0.03, 0.15];
    for (let i = 0; i < size; i += 1)
      (a[i] as number[])[i] = ((a[i] as number[])[i] as number) + 1 / (priors[i] as number) ** 2;
    const lower = cholesky(a);
    return { theta: solveCholesky(lower, b), covariance: invertCholesky(lower) };
  }
  const fit = fitOf(bottles, two, 0.03, 0.25);

  it('item by item is the fit of everything at once', () => {
    const { theta, covariance } = dense(false);
    expect(fit.effects[0]).toBeCloseTo(theta[0] as number, 10);
    expect(fit.effects[1]).toBeCloseTo(theta[1] as number, 10);
    expect(fit.own[0]?.[0]).toBeCloseTo(theta[2] as number, 10);
    expect(contrastVariance(fit, [1, -1])).toBeCloseTo(
      (covariance[0]?.[0] as number) + (covariance[1]?.[1] as number) - 2 * (covariance[0]?.[1] as number),
      12,
    );
  });

  it('what one more card would explain is what it gets when it is fitted', () => {
    const { theta, covariance } = dense(true);
    const gain = gainOf(
      fit,
      weighted(
        fit,
        bottles.map((_, index) => residualOf(fit, index)),
      ),
      { kind: 'card', spec: card },
      0.15,
      0,
    );
    expect(gain?.estimate).toBeCloseTo(theta[4] as number, 9);
    expect(gain?.deviation).toBeCloseTo(Math.sqrt(covariance[4]?.[4] as number), 9);
  });
});
