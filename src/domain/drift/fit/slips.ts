// Counts and nights that stand apart from all that surrounds them. A slipped count is missing on one night and back on the next;
// something that left (or came) on one night stays so. Each is tried as the one explanation: the auxiliary residuals of
// de Jong & Penzer, J. Am. Statist. Assoc. 93:796–806, 1998 (from memory): C⁻¹r for a night, differences of it for a reading.

import { cancel, type Missed } from '../../count/variance.ts';
import { dot, inverseBand, solveWith, type Vector } from './band.ts';
import {
  asTheyAre,
  type Bottle,
  bandOf,
  ownVariance,
  readingVariance,
  type Scale,
  type Widths,
} from './bottle.ts';
import { huberWeight } from './robust.ts';

export type MisreadCount = {
  /** The reading that is off, and by how much it was read too high (units). */
  readonly reading: number;
  readonly amount: number;
  readonly deviation: number;
  /** Whole containers, when it is just about that. */
  readonly containers: number;
  /** The stretch it ended. */
  readonly stretch: number;
  /** The stretches on both sides of it cancel, as the closing report says it too; else it is passed over, but not called a slip. */
  readonly cancels: boolean;
};

export type Odd = { readonly stretch: number; readonly amount: number; readonly deviation: number };

/** `passed` widens only what is passed over; `widths` also what counts less. */
export type Marks = {
  readonly widths: Widths;
  readonly passed: Widths;
  readonly slips: readonly MisreadCount[];
  readonly nights: readonly Odd[];
};

/** From here on a count or a night is passed over: normal errors reach it once in thirty thousand. */
const PASSED_OVER = 4.2;
/** From here on it counts less. */
const COUNTS_LESS = 2.2;
const WIDE = 1e6;
/** Never more than this share of the counts is passed over: then it is no exception but how things are. */
const AT_MOST = 0.2;

export function unmarked(bottle: Bottle): Marks {
  const plain = asTheyAre(bottle);
  return { widths: plain, passed: plain, slips: [], nights: [] };
}

type Residuals = {
  readonly night: Vector;
  readonly reading: Vector;
  readonly amount: Vector;
  readonly precision: Vector;
  readonly nightAmount: Vector;
};

/** Of each night and of each reading between two stretches: how far it stands apart, in its own deviation. */
function auxiliary(bottle: Bottle, residual: Vector, scale: Scale, widths: Widths): Residuals {
  const band = bandOf(bottle, scale, widths);
  const u = solveWith(band, residual);
  const inverse = inverseBand(band);
  const night = new Float64Array(residual.length);
  const nightAmount = new Float64Array(residual.length);
  const reading = new Float64Array(bottle.reading.length);
  const amount = new Float64Array(bottle.reading.length);
  const precision = new Float64Array(bottle.reading.length);
  for (let t = 0; t < residual.length; t += 1) {
    const own = inverse.diagonal[t] as number;
    night[t] = (u[t] as number) / Math.sqrt(own);
    nightAmount[t] = (u[t] as number) / own;
    if (t === 0 || bottle.from[t] !== bottle.to[t - 1]) continue;
    const index = bottle.from[t] as number;
    const both = own + (inverse.diagonal[t - 1] as number) - 2 * (inverse.beside[t - 1] as number);
    const difference = (u[t] as number) - (u[t - 1] as number);
    precision[index] = both;
    reading[index] = difference / Math.sqrt(both);
    amount[index] = difference / both;
  }
  return { night, reading, amount, precision, nightAmount };
}

/** Passes over what stands far out, one at a time, the farthest first; what is left but far counts less. */
export function findMarks(bottle: Bottle, residual: Vector, scale: Scale, cut = PASSED_OVER): Marks {
  const widths = asTheyAre(bottle);
  const slips: MisreadCount[] = [];
  const nights: Odd[] = [];
  const most = Math.max(2, Math.floor(AT_MOST * residual.length));
  let left = residual;
  let steps = 0;
  let now = auxiliary(bottle, left, scale, widths);
  while (slips.length + nights.length < most) {
    const night = farthest(now.night, widths.own);
    const reading = farthest(now.reading, widths.reading);
    if (Math.max(night.far, reading.far) < cut) break;
    const step = steps < MOST_STEPS ? farthestStep(bottle, left, scale, widths) : null;
    if (step !== null && step.far > Math.max(night.far, reading.far)) {
      left = step.without;
      steps += 1;
    } else if (reading.far >= night.far) {
      slips.push(slipOf(bottle, now, reading.at, left, scale));
      widths.reading[reading.at] = WIDE;
    } else {
      nights.push({
        stretch: night.at,
        amount: now.nightAmount[night.at] as number,
        deviation: Math.abs((now.nightAmount[night.at] as number) / night.far),
      });
      widths.own[night.at] = WIDE;
    }
    now = auxiliary(bottle, left, scale, widths);
  }
  return { widths: widen(bottle, now, widths), passed: widths, slips, nights };
}

/** A drift is no row of odd nights: at most this many steps are taken out before nights are told apart. */
const MOST_STEPS = 2;

/** The change in what is taken from each pour that explains most, and what is left without it. */
function farthestStep(
  bottle: Bottle,
  residual: Vector,
  scale: Scale,
  widths: Widths,
): { far: number; without: Vector } | null {
  const band = bandOf(bottle, scale, widths);
  const solved = solveWith(band, residual);
  let best: { far: number; share: number; from: number } | null = null;
  let along = 0;
  for (let from = residual.length - 1; from >= 0; from -= 1) {
    along += (bottle.poured[from] as number) * (solved[from] as number);
    if (residual.length - from < SHORTEST_STEP) continue;
    const column = bottle.poured.map((value, t) => (t >= from ? value : 0));
    const square = dot(column, solveWith(band, column));
    const far = square > 0 ? Math.abs(along) / Math.sqrt(square) : 0;
    if (best === null || far > best.far) best = { far, share: along / square, from };
  }
  if (best === null) return null;
  const { far, share, from } = best;
  return {
    far,
    without: residual.map((value, t) => (t >= from ? value - share * (bottle.poured[t] as number) : value)),
  };
}

const SHORTEST_STEP = 3;

function farthest(values: Vector, widths: Vector): { at: number; far: number } {
  let [at, far] = [-1, 0];
  for (let index = 0; index < values.length; index += 1) {
    const size = Math.abs(values[index] as number);
    if (size > far && widths[index] === 1) [at, far] = [index, size];
  }
  return { at, far };
}

function slipOf(
  bottle: Bottle,
  { amount, precision }: Residuals,
  reading: number,
  residual: Vector,
  scale: Scale,
): MisreadCount {
  const off = amount[reading] as number;
  const deviation = 1 / Math.sqrt(precision[reading] as number);
  const whole = Math.round(off / bottle.size);
  const isWhole =
    whole !== 0 && Math.abs(off - whole * bottle.size) <= Math.max(3 * deviation, 0.15 * bottle.size);
  const stretch = bottle.to.indexOf(reading);
  const cancels = cancel(
    missed(bottle, residual, scale, stretch, stretch),
    missed(bottle, residual, scale, stretch + 1, stretch + 1),
    missed(bottle, residual, scale, stretch, stretch + 1),
  );
  return { reading, amount: off, deviation, containers: isWhole ? whole : 0, stretch, cancels };
}

/** What is missing from one stretch to another, beyond all that is explained, with its U: the readings in between fall out. */
function missed(bottle: Bottle, residual: Vector, scale: Scale, first: number, last: number): Missed {
  const plain = asTheyAre(bottle);
  const ends =
    readingVariance(bottle, scale, plain, bottle.from[first] as number) +
    readingVariance(bottle, scale, plain, bottle.to[last] as number);
  let [missing, variance] = [0, ends];
  for (let t = first; t <= last; t += 1) {
    missing += residual[t] as number;
    variance += ownVariance(bottle, scale, plain, t);
  }
  return { missing, uncertainty: 2 * Math.sqrt(variance) };
}

/** Huber weights as widths: a reading or a night, whichever of the two stands farther out. */
function widen(bottle: Bottle, { night, reading }: Residuals, widths: Widths): Widths {
  const out = { reading: widths.reading.slice(), own: widths.own.slice() };
  for (let t = 0; t < night.length; t += 1) {
    const own = Math.abs(night[t] as number);
    const first = Math.abs(reading[bottle.from[t] as number] as number);
    const last = Math.abs(reading[bottle.to[t] as number] as number);
    if (widths.own[t] === 1 && own > first && own > last) out.own[t] = 1 / huberWeight(own, COUNTS_LESS);
    const index = bottle.to[t] as number;
    if (widths.reading[index] === 1 && last >= own) out.reading[index] = 1 / huberWeight(last, COUNTS_LESS);
  }
  return out;
}
