// How wide the world is, learned from the books: by how much readings of a kind, and what flows by itself, scatter beyond the
// least they can (resolution of the reading, scatter of honest pours). By likelihood over all items of a method, then for each
// item from its own residuals, drawn towards its kind (empirical Bayes, as Efron & Morris 1977 shrink averages).
import type { Vector } from './band.ts';
import { asTheyAre, type Bottle, ownVariance, type Scale } from './bottle.ts';
import { eachInnovation } from './innovations.ts';
import type { Marks } from './slips.ts';

export type Part = { readonly bottle: Bottle; readonly residual: Vector; readonly marks: Marks };

/** Log of the largest factor a spread may have: 40 times the least variance. */
const WIDEST = Math.log(40);
/** What is thought of the scatter of pours before anything is known: about twice the house's, give or take a factor of two. */
const USUAL_OWN = { log: Math.log(2), deviation: 0.7 };
/** How closely the own scatter of items by eye, which hardly shows, follows that of the items read exactly. */
const FOLLOWS = 0.8;
/** An item's own residuals against its kind: as if the kind brought this many nights. */
const KIND_NIGHTS = 20;
/** Effects fitted to an item take about this many of its nights. */
const FITTED = 1.5;
/** Squares are cut at these: what lies farther out is passed over, or a drink or two not logged. */
const FARTHEST = 9;
const FARTHEST_NIGHT = 100;

/** Sum over the stretches of log variance and of squared innovations: −2 log likelihood of one item. */
export function deviance(
  { bottle, residual, marks }: Part,
  scale: Scale,
  each?: (square: number) => void,
): number {
  const lost = residual.length / Math.max(1, residual.length - FITTED);
  let sum = 0;
  eachInnovation(bottle, residual, scale, marks.passed, (_, innovation, readings, own) => {
    const square = Math.min(FARTHEST, (innovation * innovation * lost) / (readings + own));
    each?.(square);
    sum += Math.log(readings + own) + square;
  });
  return sum;
}

/** Least of a function of two logs by steps that are halved; both stay between 0 and the widest. */
function lowest(
  value: (a: number, b: number) => number,
  start: readonly [number, number],
  first: number,
): [number, number] {
  let [a, b] = start;
  let best = value(a, b);
  for (let step = first; step > 0.07; step /= 2) {
    for (let moved = true; moved; ) {
      moved = false;
      for (const [da, db] of [
        [step, 0],
        [-step, 0],
        [0, step],
        [0, -step],
      ] as const) {
        const next: [number, number] = [bound(a + da), bound(b + db)];
        const found = value(...next);
        if (found >= best - 1e-9) continue;
        [a, b] = next;
        best = found;
        moved = true;
      }
    }
  }
  return [a, b];
}

const bound = (log: number): number => Math.max(0, Math.min(WIDEST, log));

/** The scale of each item, in the order given, and of each method; `known` is where to look first. Kinds that are read exactly speak first of what flows by itself. */
export function learnScales(
  parts: readonly Part[],
  known: ReadonlyMap<string, Scale>,
): { scales: Scale[]; kinds: Map<string, Scale> } {
  const byMethod = new Map<string, Part[]>();
  for (const part of parts)
    byMethod.set(part.bottle.method, [...(byMethod.get(part.bottle.method) ?? []), part]);
  const kinds = new Map<string, Scale>();
  const own: { log: number; deviation: number } = { ...USUAL_OWN };
  for (const method of ['grams', 'ml', 'pieces', 'tenths']) {
    const group = byMethod.get(method);
    if (group === undefined) continue;
    const before = known.get(method);
    const [a, b] = lowest(
      (reading, flow) =>
        group.reduce(
          (sum, part) => sum + deviance(part, { reading: Math.exp(reading), own: Math.exp(flow) }),
          0,
        ) +
        ((flow - own.log) / own.deviation) ** 2,
      before === undefined ? [0.3, own.log] : [Math.log(before.reading), Math.log(before.own)],
      before === undefined ? 0.8 : 0.2,
    );
    kinds.set(method, { reading: Math.exp(a), own: Math.exp(b) });
    if (method === 'grams' || method === 'ml')
      [own.log, own.deviation] = [
        Math.log(Math.exp(b) * withNights(group, kinds.get(method) as Scale)),
        FOLLOWS,
      ];
  }
  return { scales: parts.map((part) => ownScale(part, kinds.get(part.bottle.method) as Scale)), kinds };
}

/**
 * By how much the nights that were passed over widen the scatter: on a scale a drink not logged stands out and is passed over,
 * by eye it does not and must be reckoned with.
 */
function withNights(group: readonly Part[], scale: Scale): number {
  let [sum, count] = [0, 0];
  for (const { bottle, residual, marks } of group) {
    const plain = asTheyAre(bottle);
    eachInnovation(bottle, residual, scale, marks.passed, (t, innovation, readings) => {
      sum += Math.min(FARTHEST_NIGHT, innovation ** 2 / (readings + ownVariance(bottle, scale, plain, t)));
      count += 1;
    });
  }
  return Math.max(1, sum / Math.max(1, count));
}

function ownScale(part: Part, kind: Scale): Scale {
  let [sum, count] = [0, 0];
  deviance(part, kind, (square) => {
    sum += square;
    count += 1;
  });
  const factor = (KIND_NIGHTS + sum) / (KIND_NIGHTS + count);
  return { reading: Math.max(1, kind.reading * factor), own: Math.max(1, kind.own * factor) };
}
