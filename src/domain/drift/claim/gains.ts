// What one more cause would explain beside all that is fitted, without fitting it.
import { solveCholesky } from '../../standard/cholesky.ts';
import { dot, inverseBand, solveWith, type Vector } from '../fit/band.ts';
import { type Cause, columnOf } from '../fit/causes.ts';
import type { Folded, SeasonFit } from '../fit/season-fit.ts';

export type Gain = { readonly estimate: number; readonly deviation: number; readonly logOdds: number };

/** Residuals weighted by the inverse covariance, item by item: what every further cause is tried on. */
export const weighted = (fit: SeasonFit, residuals: readonly Vector[]): Vector[] =>
  fit.blocks.map(({ band }, index) => solveWith(band, residuals[index] as Vector));

/** A cause that explains less than this (squared deviations, nothing else taken into account) is not looked at closely. */
const WORTH_A_LOOK = 1.5;
const NIGHT_WORTH_A_LOOK = 7;

/** Nights on which so much more went missing everywhere that they are worth a closer look. */
export function oddNights(fit: SeasonFit, solvedResiduals: readonly Vector[], nights: number): number[] {
  const top = new Float64Array(nights);
  const below = new Float64Array(nights);
  fit.blocks.forEach(({ input: { bottle }, band }, index) => {
    const { diagonal } = inverseBand(band);
    bottle.night.forEach((night, t) => {
      const poured = bottle.poured[t] as number;
      top[night] = (top[night] as number) + poured * ((solvedResiduals[index] as Vector)[t] as number);
      below[night] = (below[night] as number) + poured ** 2 * (diagonal[t] as number);
    });
  });
  return Array.from(top.keys()).filter(
    (night) => (top[night] as number) ** 2 > NIGHT_WORTH_A_LOOK * (below[night] as number),
  );
}

/**
 * What one more cause would explain, beside all that is fitted: its estimate, its deviation, and the log of how much likelier
 * the figures are with it (drawn from ±`spread`) than without. Null when it has no part in them or explains next to nothing.
 */
export function gainOf(
  fit: SeasonFit,
  solvedResiduals: readonly Vector[],
  cause: Cause,
  spread: number,
  worth: number = WORTH_A_LOOK,
): Gain | null {
  const parts: { folded: Folded; column: Vector; solved: Vector }[] = [];
  let [top, below] = [0, 0];
  fit.folded.forEach((folded, index) => {
    const column = columnOf(cause, folded.block.input.bottle);
    if (column === null) return;
    const solved = folded.block.known.get(column) ?? solveWith(folded.block.band, column);
    folded.block.known.set(column, solved);
    top += dot(column, solvedResiduals[index] as Vector);
    below += dot(column, solved);
    parts.push({ folded, column, solved });
  });
  if (top ** 2 < below * worth) return null;
  const side = new Array<number>(fit.effects.length).fill(0);
  for (const { folded, solved } of parts) below -= takenBy(folded, solved, side);
  side.forEach((value, row) => {
    if (value === 0) return;
    side.forEach((other, column) => {
      below -= value * other * ((fit.covariance[row] as number[])[column] as number);
    });
  });
  if (!(below > 1e-9)) return null;
  const precision = below + 1 / spread ** 2;
  return {
    estimate: top / precision,
    deviation: 1 / Math.sqrt(precision),
    logOdds: 0.5 * (top ** 2 / precision - Math.log(1 + spread ** 2 * below)),
  };
}

/** What of a column an item's own effects take; what it has in common with the others is added to `side`. */
function takenBy({ block, own, lower, tied }: Folded, solved: Vector, side: number[]): number {
  const along = block.columns.map((other) => dot(other, solved));
  const inner = own.map(([at]) => along[at] as number);
  const held = solveCholesky(lower, inner);
  for (const [effect, at] of block.common) side[effect] = (side[effect] as number) + (along[at] as number);
  for (const effect of new Set(block.common.map(([effect]) => effect)))
    side[effect] =
      (side[effect] as number) -
      (tied[effect] as number[]).reduce((sum, value, at) => sum + value * (inner[at] as number), 0);
  return inner.reduce((sum, value, at) => sum + value * (held[at] as number), 0);
}
