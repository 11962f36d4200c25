// Whose pours, which bottle: generalised least squares with the covariance that shared counts bring, and shrinkage.
// missing = Σ_b (β_b + γ_i) poured_b + ε;  Var ε = u² + u'² + n s², Cov of neighbours = −u² of the count they share;
// β ~ N(0, τ_b²), γ ~ N(0, τ_g²). Ridge = BLUP = Bayes with normal priors (Henderson 1975; Robinson, Statist. Sci. 6, 1991).
import { cholesky, invertCholesky, logDeterminant, solveCholesky } from '../standard/least-squares.ts';

/** One stretch of one bottle; any consistent unit (ml). */
export type Row = {
  readonly missing: number;
  /** Poured by each person, in the order of the people. */
  readonly by: readonly number[];
  readonly fromVariance: number;
  readonly toVariance: number;
  readonly ownVariance: number;
  readonly follows: boolean;
};

export type Priors = { readonly person: number; readonly bottle: number };
export const usualPriors: Priors = { person: 0.05, bottle: 0.05 };
/** Grid of τ for the marginal likelihood, used from 20 shifts on (our decision, after the simulation of tests/bench/drift.ts). */
const grid = [0.01, 0.02, 0.03, 0.05, 0.08, 0.12, 0.2];
const ENOUGH_FOR_PRIORS = 20;

export type Fit = {
  readonly people: readonly number[];
  readonly bottles: readonly number[];
  /** Posterior covariance: people first, then bottles. */
  readonly covariance: readonly (readonly number[])[];
  readonly priors: Priors;
  readonly rows: number;
};

/** Normal matrix and right side of the whitened rows, built bottle by bottle, since bottles share only the people. */
type Sums = {
  readonly a: number[][];
  readonly b: number[];
  readonly yy: number;
  readonly logVariance: number;
  readonly rows: number;
};

/** Variance below which a count is not believed: 1 ml², so that an exact count does not outvote everything. */
const LEAST_VARIANCE = 1;

/**
 * Whitens the rows of one bottle in place of multiplying by C^(-1/2): C is tridiagonal, its Cholesky factor has two
 * diagonals. Gives y* and, for each person, x*; the bottle's own column is the sum of the people's.
 */
export function whiten(rows: readonly Row[]): { y: number[]; x: number[][]; logVariance: number } {
  const y: number[] = [];
  const x: number[][] = [];
  let [logVariance, before, shared] = [0, 1, 0];
  rows.forEach((row, index) => {
    const diagonal = Math.max(LEAST_VARIANCE, row.fromVariance + row.toVariance + row.ownVariance);
    const lower = index > 0 && row.follows ? -shared / before : 0;
    const pivot = Math.sqrt(Math.max(LEAST_VARIANCE * 0.01, diagonal - lower * lower));
    const lastY = y[index - 1] ?? 0;
    const lastX = x[index - 1];
    y.push((row.missing - lower * lastY) / pivot);
    x.push(row.by.map((value, person) => (value - lower * (lastX?.[person] ?? 0)) / pivot));
    logVariance += 2 * Math.log(pivot);
    before = pivot;
    shared = row.toVariance;
  });
  return { y, x, logVariance };
}

function sumsOf(bottles: readonly (readonly Row[])[], people: number): Sums {
  const size = people + bottles.length;
  const a = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  const b = new Array<number>(size).fill(0);
  let [yy, logVariance, count] = [0, 0, 0];
  bottles.forEach((rows, bottle) => {
    const white = whiten(rows);
    logVariance += white.logVariance;
    count += rows.length;
    white.y.forEach((y, index) => {
      const x = white.x[index] as number[];
      const own = x.reduce((sum, value) => sum + value, 0);
      yy += y * y;
      addRow(a, b, x, own, y, people + bottle);
    });
  });
  return { a, b, yy, logVariance, rows: count };
}

function addRow(a: number[][], b: number[], x: readonly number[], own: number, y: number, at: number): void {
  x.forEach((value, person) => {
    if (value === 0) return;
    const mine = a[person] as number[];
    for (let other = 0; other < x.length; other += 1)
      mine[other] = (mine[other] as number) + value * (x[other] as number);
    mine[at] = (mine[at] as number) + value * own;
    (a[at] as number[])[person] = mine[at] as number;
    b[person] = (b[person] as number) + value * y;
  });
  (a[at] as number[])[at] = ((a[at] as number[])[at] as number) + own * own;
  b[at] = (b[at] as number) + own * y;
}

function penalised(sums: Sums, people: number, priors: Priors): number[][] {
  return sums.a.map((row, index) =>
    row.map((value, column) =>
      index === column ? value + 1 / (index < people ? priors.person : priors.bottle) ** 2 : value,
    ),
  );
}

/** Log marginal likelihood of the priors, up to a constant. */
function evidence(sums: Sums, people: number, priors: Priors): number {
  const lower = cholesky(penalised(sums, people, priors));
  const theta = solveCholesky(lower, sums.b);
  const explained = theta.reduce((sum, value, index) => sum + value * (sums.b[index] as number), 0);
  const bottles = sums.b.length - people;
  const logPrior = 2 * people * Math.log(priors.person) + 2 * bottles * Math.log(priors.bottle);
  return -0.5 * (sums.yy - explained + logDeterminant(lower) + logPrior + sums.logVariance);
}

function bestPriors(sums: Sums, people: number): Priors {
  let best = { priors: usualPriors, value: Number.NEGATIVE_INFINITY };
  for (const person of grid) {
    for (const bottle of grid) {
      const value = evidence(sums, people, { person, bottle });
      if (value > best.value) best = { priors: { person, bottle }, value };
    }
  }
  return best.priors;
}

/**
 * Fits people and bottles. `priors` fixes the shrinkage; else 5 % each, and from 20 shifts on the pair with the most
 * evidence. A rota that tells nothing apart gives wide intervals, never an exception.
 */
export function fitAttribution(
  bottles: readonly (readonly Row[])[],
  people: number,
  shifts: number,
  priors?: Priors,
): Fit {
  const sums = sumsOf(bottles, people);
  const chosen =
    priors ??
    (shifts >= ENOUGH_FOR_PRIORS && people > 0 && bottles.length > 0
      ? bestPriors(sums, people)
      : usualPriors);
  const lower = cholesky(penalised(sums, people, chosen));
  const theta = solveCholesky(lower, sums.b);
  return {
    people: theta.slice(0, people),
    bottles: theta.slice(people),
    covariance: invertCholesky(lower),
    priors: chosen,
    rows: sums.rows,
  };
}

export type Contrast = {
  readonly estimate: number;
  readonly deviation: number;
  /** Posterior over prior deviation: near 1 when the data say nothing. */
  readonly share: number;
};

/** A weighted sum of the fitted effects, with its posterior deviation. */
export function contrastOf(fit: Fit, weights: readonly number[]): Contrast {
  const theta = [...fit.people, ...fit.bottles];
  let [estimate, variance, prior] = [0, 0, 0];
  weights.forEach((weight, row) => {
    if (weight === 0) return;
    estimate += weight * (theta[row] as number);
    prior += weight ** 2 * (row < fit.people.length ? fit.priors.person : fit.priors.bottle) ** 2;
    weights.forEach((other, column) => {
      if (other !== 0) variance += weight * other * ((fit.covariance[row] as number[])[column] as number);
    });
  });
  const deviation = Math.sqrt(Math.max(0, variance));
  return { estimate, deviation, share: prior === 0 ? 1 : deviation / Math.sqrt(prior) };
}

/** One person against the mean of the others. */
export function againstOthers(fit: Fit, person: number): Contrast {
  const others = fit.people.length - 1;
  return contrastOf(
    fit,
    fit.people.map((_, index) => (index === person ? 1 : others === 0 ? 0 : -1 / others)),
  );
}

/** Two people against each other. */
export const between = (fit: Fit, a: number, b: number): Contrast =>
  contrastOf(
    fit,
    fit.people.map((_, index) => (index === a ? 1 : index === b ? -1 : 0)),
  );

/** A bottle with the people who poured it, by how much each did. */
export function bottleTotal(fit: Fit, bottle: number, shares: readonly number[]): Contrast {
  const weights = [...shares, ...fit.bottles.map((_, index) => (index === bottle ? 1 : 0))];
  return contrastOf(fit, weights);
}

/** Above this share of its prior a difference between two people is not told apart by the rota. */
export const NOT_TOLD_APART = 0.9;
