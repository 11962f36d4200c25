// What each count brings beyond what the counts before let expect: the one walk over an item's stretches that its spread, its
// chart and its likelihood share (a Kalman filter whose only state is the error of the last reading).
import type { Vector } from './band.ts';
import { type Bottle, ownVariance, readingVariance, type Scale, type Widths } from './bottle.ts';

/**
 * Calls `visit` for each stretch with the innovation and the variances it has: of both readings as far as they are not known
 * yet, and of the stretch by itself, as wide as it is passed on.
 */
export function eachInnovation(
  bottle: Bottle,
  residual: Vector,
  scale: Scale,
  widths: Widths,
  visit: (t: number, innovation: number, readings: number, own: number) => void,
): void {
  let [error, variance] = [0, 0];
  for (let t = 0; t < residual.length; t += 1) {
    const follows = t > 0 && bottle.from[t] === bottle.to[t - 1];
    const before = follows ? variance : readingVariance(bottle, scale, widths, bottle.from[t] as number);
    const after = readingVariance(bottle, scale, widths, bottle.to[t] as number);
    const own = ownVariance(bottle, scale, widths, t);
    const innovation = (residual[t] as number) - (follows ? error : 0);
    visit(t, innovation, before + after, own);
    // What is now known of the error of the reading that the next stretch begins with.
    const all = before + after + own;
    error = (-after * innovation) / all;
    variance = after - (after * after) / all;
  }
}
