// Whose pours: small exact cases (computed by hand in rationals; no outside source).
import { describe, expect, it } from 'vitest';
import {
  between,
  contrastOf,
  fitAttribution,
  NOT_TOLD_APART,
  type Row,
  whiten,
} from '../../src/domain/drift/attribution.ts';
import { solveLeastSquares } from '../../src/domain/standard/least-squares.ts';

const row = (missing: number, by: number[], ownVariance = 400): Row => ({
  missing,
  by,
  fromVariance: 0,
  toVariance: 0,
  ownVariance,
  follows: false,
});
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

  it('case 2: nights of ±20 ml, τ 5 %: 327/5050 and 91/5050, posterior 0.030263 and 0.033375', () => {
    // Each night a bottle of its own whose effect is held at zero, so that only the people are fitted.
    const fit = fitAttribution(
      [40, 8, 24, 32].map((missing, index) => [row(missing, poured[index] as number[])]),
      2,
      4,
      { person: 0.05, bottle: 1e-9 },
    );
    expect(fit.people[0]).toBeCloseTo(327 / 5050, 9);
    expect(fit.people[1]).toBeCloseTo(91 / 5050, 9);
    expect(Math.sqrt((fit.covariance[0] as number[])[0] as number)).toBeCloseTo(0.030263, 6);
    expect(Math.sqrt((fit.covariance[1] as number[])[1] as number)).toBeCloseTo(0.033375, 6);
  });

  it('case 3: a rota that never parts them gives both 0.0381818182 and says they are not told apart', () => {
    const same = [
      [200, 200],
      [300, 300],
      [100, 100],
    ];
    const fit = fitAttribution(
      [24, 36, 12].map((missing, index) => [row(missing, same[index] as number[])]),
      2,
      3,
      { person: 0.05, bottle: 1e-9 },
    );
    expect(fit.people[0]).toBeCloseTo(0.0381818182, 9);
    expect(fit.people[1]).toBeCloseTo(0.0381818182, 9);
    expect(between(fit, 0, 1).share).toBeGreaterThan(NOT_TOLD_APART);
    expect(contrastOf(fit, [1, 1]).share).toBeLessThan(NOT_TOLD_APART);
  });

  it('case 4: an under-pour is found as one (least squares −0.03; forbidding it would bias the other to 0.0927586)', () => {
    const { coefficients } = solveLeastSquares(
      poured,
      poured.map(([a = 0, b = 0]) => 0.1 * a - 0.03 * b),
    );
    expect(coefficients[1]).toBeCloseTo(-0.03, 12);
  });
});

describe('shared counts', () => {
  /** Weighted mean of nights with constant pours, from the whitened rows. */
  const mean = (missing: readonly number[]): { estimate: number; deviation: number } => {
    const { x, y } = whiten(
      missing.map((value, index) => ({
        missing: value,
        by: [1],
        fromVariance: 100,
        toVariance: 100,
        ownVariance: 0,
        follows: index > 0,
      })),
    );
    const size = x.reduce((sum, [value = 0]) => sum + value * value, 0);
    return {
      estimate: x.reduce((sum, [value = 0], index) => sum + value * (y[index] as number), 0) / size,
      deviation: 1 / Math.sqrt(size),
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
