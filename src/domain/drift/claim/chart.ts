// The chart of one item: tabular CUSUM (NIST/SEMATECH e-Handbook 6.3.2.3) of what each night brings beyond what the nights before
// let expect, every night cut at ±3, since when by likelihood, and over again when it ended.

import { cusumAbove } from '../../standard/charts.ts';
import { dot, solveWith, type Vector } from '../fit/band.ts';
import { asTheyAre, type Bottle, bandOf, ownVariance, type Scale } from '../fit/bottle.ts';
import { eachInnovation } from '../fit/innovations.ts';
import { cutScore } from '../fit/robust.ts';
import type { Marks } from '../fit/slips.ts';

/** Half of what is looked for, in deviations: the textbook's value for a shift of one. */
export const SLACK = 0.5;
/** One night moves the sum by no more than this. */
export const CUT = 3;
/** Wanted between false alarms of a whole house, nights. */
const QUIET_NIGHTS = 90;

/**
 * The limit for so many charts side by side, from the run length of a one-sided CUSUM: ARL ≈ (e^{2kb} − 1 − 2kb) / 2k²,
 * b = h + 1.166 (Siegmund, Sequential Analysis, 1985: from memory; checked against the table of published run lengths).
 */
export function limitFor(charts: number): number {
  const wanted = QUIET_NIGHTS * Math.max(1, charts);
  let b = 3;
  for (let turn = 0; turn < 40; turn += 1)
    b = Math.log(1 + 2 * SLACK * b + 2 * SLACK ** 2 * wanted) / (2 * SLACK);
  return b - 1.166;
}

export type Episode = { readonly onset: number; readonly end: number | null };

export type Sum = { readonly z: Vector; readonly cusum: Vector; readonly episodes: readonly Episode[] };

/**
 * Scores of the nights: what is missing beyond what was to be expected, given how the reading before turned out, over its
 * deviation. A count that is passed over gives no score; a night that stands out gives one, cut, and the next begins anew.
 */
export function scoresOf(bottle: Bottle, residual: Vector, scale: Scale, marks: Marks): Vector {
  const z = new Float64Array(residual.length);
  const plain = asTheyAre(bottle);
  eachInnovation(bottle, residual, scale, marks.widths, (t, innovation, readings) => {
    z[t] = innovation / Math.sqrt(readings + ownVariance(bottle, scale, plain, t));
  });
  return z;
}

/** Twice the log likelihood that a drift's end must bring before it is believed to have ended. */
const ENDED = 10;

export function chartOf(bottle: Bottle, residual: Vector, scale: Scale, marks: Marks, limit: number): Sum {
  const z = scoresOf(bottle, residual, scale, marks);
  const cusum = new Float64Array(z.length);
  const episodes: Episode[] = [];
  let start = 0;
  while (start < z.length) {
    const alarm = runUp(z, cusum, start, limit);
    if (alarm === null) break;
    const { onset, end } = spanOf(bottle, residual, scale, marks, start, alarm);
    episodes.push({ onset, end });
    if (end === null) break;
    start = end;
  }
  return { z, cusum, episodes };
}

/** Fills in the sum from a start; the first stretch at which it stands above the limit. */
function runUp(z: Vector, cusum: Vector, start: number, limit: number): number | null {
  const sums = cusumAbove(
    Array.from(z.subarray(start), (score) => cutScore(score, CUT)),
    0,
    SLACK,
  );
  cusum.set(sums, start);
  const alarm = sums.findIndex((sum) => sum > limit);
  return alarm < 0 ? null : start + alarm;
}

/** Since when, and whether it ended: the span from which the likelihood gains most. */
function spanOf(
  bottle: Bottle,
  residual: Vector,
  scale: Scale,
  marks: Marks,
  start: number,
  alarm: number,
): Episode {
  const band = bandOf(bottle, scale, marks.widths);
  const solved = solveWith(band, residual);
  const span = (from: number, to: number): number => {
    const column = bottle.poured.map((value, t) => (t >= from && t < to ? value : 0));
    const along = dot(column, solved);
    return along <= 0 ? 0 : along ** 2 / dot(column, solveWith(band, column));
  };
  const size = residual.length;
  let [onset, best] = [alarm, 0];
  for (let from = start; from < size; from += 1) {
    const gain = span(from, size);
    if (gain > best) [onset, best] = [from, gain];
  }
  let end: number | null = null;
  let ended = best + ENDED;
  for (let to = alarm + 1; to < size; to += 1) {
    for (let from = Math.max(start, alarm - 10); from <= alarm; from += 1) {
      const gain = span(from, to);
      if (gain > ended) [onset, end, ended] = [from, to, gain];
    }
  }
  return { onset, end };
}
