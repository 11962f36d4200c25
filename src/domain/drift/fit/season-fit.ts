// One fit of all causes: people, counters, cards and nights run through all items; each item has its own level, and its own share
// of each person, drawn towards nothing by variances that are learned. Items share nothing but what runs through them, so each is
// folded into the common equations by itself (Schur complement). Ridge = BLUP (Henderson 1975; Robinson, Statist. Sci. 6, 1991).
import { cholesky, invertCholesky, logDeterminant, solveCholesky } from '../../standard/cholesky.ts';
import type { Vector } from './band.ts';
import { type Block, commonCount, type Layout, type OwnKind } from './block.ts';

/** Deviations of what the effects are drawn from: an item's level, an item's share of a person, a counter's bias (of a container). */
export type Spreads = {
  readonly level: number;
  readonly each: number;
  readonly counter: number;
  readonly loose: number;
};

/** What `loose` usually is: people and named causes are hardly drawn anywhere: an estimate must not be flattered towards innocence or away from it. */
export const LOOSE = 0.25;

/** What an item leaves to the common equations, and what is needed to come back to it. */
export type Folded = {
  readonly block: Block;
  readonly own: readonly (readonly [number, OwnKind])[];
  readonly lower: number[][];
  readonly cross: number[][];
  readonly tied: number[][];
};

export type SeasonFit = {
  readonly layout: Layout;
  readonly spreads: Spreads;
  readonly blocks: readonly Block[];
  readonly folded: readonly Folded[];
  /** Common effects: people, counters, causes that run through several items. */
  readonly effects: readonly number[];
  readonly covariance: readonly (readonly number[])[];
  /** Own effects of each item, in the order of its block. */
  readonly own: readonly (readonly number[])[];
  readonly logLikelihood: number;
};

const spreadOf = (spreads: Spreads, kind: OwnKind): number =>
  kind === 'level' ? spreads.level : kind === 'each' ? spreads.each : spreads.loose;

function fold(block: Block, spreads: Spreads, common: number): Folded {
  const own = block.own.filter(([, kind]) => spreadOf(spreads, kind) > 0);
  const inner = own.map(([row, kind], index) =>
    own.map(
      ([column], other) =>
        ((block.gram[row] as number[])[column] as number) +
        (index === other ? 1 / spreadOf(spreads, kind) ** 2 : 0),
    ),
  );
  const cross = Array.from({ length: common }, () => new Array<number>(own.length).fill(0));
  for (const [effect, column] of block.common) {
    const row = cross[effect] as number[];
    own.forEach(([other], index) => {
      row[index] = (row[index] as number) + ((block.gram[column] as number[])[other] as number);
    });
  }
  const lower = cholesky(inner);
  return {
    block,
    own,
    lower,
    cross,
    tied: cross.map((row) => (row.some((value) => value !== 0) ? solveCholesky(lower, row) : row)),
  };
}

/** The common equations while items are folded in: matrix, right side, and what the likelihood needs. */
type Sums = { readonly a: number[][]; readonly b: number[]; quadratic: number; logs: number };

const add = (row: number[], at: number, value: number): void => {
  row[at] = (row[at] as number) + value;
};

/** Adds what an item says of the common effects, its own effects taken out. */
function addItem(sums: Sums, { block, own, lower, cross, tied }: Folded, spreads: Spreads): void {
  const right = own.map(([column]) => block.right[column] as number);
  sums.quadratic += block.square - product(right, solveCholesky(lower, right));
  sums.logs += logDeterminant(lower);
  for (const [, kind] of own) sums.logs += 2 * Math.log(spreadOf(spreads, kind));
  for (const [effect, column] of block.common) {
    add(sums.b, effect, block.right[column] as number);
    for (const [other, beside] of block.common)
      add(sums.a[effect] as number[], other, (block.gram[column] as number[])[beside] as number);
  }
  const touched = [...new Set(block.common.map(([effect]) => effect))];
  for (const effect of touched) {
    const mine = tied[effect] as number[];
    add(sums.b, effect, -product(mine, right));
    for (const other of touched)
      add(sums.a[effect] as number[], other, -product(mine, cross[other] as number[]));
  }
}

function product(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let index = 0; index < a.length; index += 1) sum += (a[index] as number) * (b[index] as number);
  return sum;
}

/** Solves all effects at given spreads. */
export function solveSeason(blocks: readonly Block[], layout: Layout, spreads: Spreads): SeasonFit {
  const count = commonCount(layout);
  const sums: Sums = {
    a: Array.from({ length: count }, () => new Array<number>(count).fill(0)),
    b: new Array<number>(count).fill(0),
    quadratic: 0,
    logs: 0,
  };
  const folded = blocks.map((block) => fold(block, spreads, count));
  for (const item of folded) addItem(sums, item, spreads);
  for (let effect = 0; effect < count; effect += 1) {
    const isCounter = effect >= layout.people && effect < layout.people + layout.counters.length;
    const spread = isCounter ? Math.max(1e-6, spreads.counter) : spreads.loose;
    add(sums.a[effect] as number[], effect, 1 / spread ** 2);
    sums.logs += 2 * Math.log(spread);
  }
  const lower = cholesky(sums.a);
  const effects = solveCholesky(lower, sums.b);
  const quadratic = sums.quadratic - product(effects, sums.b);
  return {
    layout,
    spreads,
    blocks,
    folded,
    effects,
    covariance: invertCholesky(lower),
    own: folded.map((item) => ownEffects(item, effects)),
    logLikelihood: -0.5 * (quadratic + sums.logs + logDeterminant(lower)),
  };
}

/** Back from the common effects to an item's own. */
function ownEffects({ block, own, lower, cross }: Folded, effects: readonly number[]): number[] {
  const right = own.map(([column], index) =>
    effects.reduce(
      (rest, value, effect) => rest - value * ((cross[effect] as number[])[index] as number),
      block.right[column] as number,
    ),
  );
  return solveCholesky(lower, right);
}

/** What is missing beyond all that the fit explains; with `keep`, own effects for which it is true are left in. */
export function residualOf(
  fit: SeasonFit,
  index: number,
  keep: (kind: OwnKind) => boolean = () => false,
): Vector {
  const { block, own } = fit.folded[index] as Folded;
  const out = block.input.bottle.missing.slice();
  const take = (column: Vector, effect: number): void => {
    for (let t = 0; t < out.length; t += 1) out[t] = (out[t] as number) - effect * (column[t] as number);
  };
  for (const [effect, column] of block.common)
    take(block.columns[column] as Vector, fit.effects[effect] as number);
  own.forEach(([column, kind], at) => {
    if (!keep(kind)) take(block.columns[column] as Vector, (fit.own[index] as number[])[at] as number);
  });
  return out;
}

export function contrastVariance(fit: SeasonFit, weights: readonly number[]): number {
  let sum = 0;
  weights.forEach((weight, row) => {
    if (weight === 0) return;
    weights.forEach((other, column) => {
      if (other !== 0) sum += weight * other * ((fit.covariance[row] as number[])[column] as number);
    });
  });
  return Math.max(0, sum);
}

/** How a contrast of common effects hangs on what each stretch of an item brings: the column C⁻¹ X̃ w of its influence. */
export function influenceOf(fit: SeasonFit, index: number, weights: readonly number[]): Vector {
  const { block, own, tied } = fit.folded[index] as Folded;
  const moved = fit.covariance.map((row) =>
    row.reduce((sum, value, at) => sum + value * (weights[at] ?? 0), 0),
  );
  const load = new Array<number>(block.columns.length).fill(0);
  for (const [effect, column] of block.common)
    load[column] = (load[column] as number) + (moved[effect] as number);
  own.forEach(([column], inner) => {
    load[column] =
      (load[column] as number) -
      tied.reduce((sum, row, effect) => sum + (moved[effect] as number) * (row[inner] as number), 0);
  });
  const out = new Float64Array(block.input.bottle.missing.length);
  load.forEach((value, column) => {
    if (value === 0) return;
    const solved = block.solved[column] as Vector;
    for (let t = 0; t < out.length; t += 1) out[t] = (out[t] as number) + value * (solved[t] as number);
  });
  return out;
}
