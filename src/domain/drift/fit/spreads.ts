// How far levels of items, shares of people in an item, and biases of counters lie apart, learned from the books.
import { solveCholesky } from '../../standard/cholesky.ts';
import type { Block, Layout } from './block.ts';
import { medianOf } from './robust.ts';
import { LOOSE, type SeasonFit, type Spreads, solveSeason } from './season-fit.ts';

const grids = {
  level: [0.005, 0.01, 0.015, 0.02, 0.03, 0.04, 0.08],
  each: [0, 0.01, 0.02, 0.04, 0.08],
  counter: [1e-6, 0.005, 0.01, 0.02, 0.04],
} as const;
/** A wider spread must be this much likelier (log) than the narrowest before it is believed. */
const BELIEVED = 2;

/** The spreads: of levels by what half of the items show, the others by likelihood on small grids. */
export function learnSpreads(blocks: readonly Block[], layout: Layout, start: Spreads): SeasonFit {
  let best = solveSeason(blocks, layout, {
    ...start,
    level: levelSpread(solveSeason(blocks, layout, { ...start, level: LOOSE })),
  });
  for (const name of ['counter', 'each'] as const) {
    const tried = grids[name].map((value) =>
      value === best.spreads[name] ? best : solveSeason(blocks, layout, { ...best.spreads, [name]: value }),
    );
    const top = tried.reduce((a, b) => (b.logLikelihood > a.logLikelihood ? b : a));
    const narrow = tried[0] as SeasonFit;
    best = top.logLikelihood < narrow.logLikelihood + BELIEVED ? narrow : top;
  }
  return best;
}

/** Median of chi-square with one degree of freedom. */
const MEDIAN_SQUARE = 0.4549;

/**
 * How far levels of items lie apart beyond what chance does, by the median: a card that is wrong, or a spout, moves two or three
 * of them, and must not make room for itself by widening what is usual for all.
 */
function levelSpread(loose: SeasonFit): number {
  const found = loose.folded.flatMap(({ own, lower }, index) => {
    const at = own.findIndex(([, kind]) => kind === 'level');
    const unit = own.map((_, other) => (other === at ? 1 : 0));
    const variance = solveCholesky(lower, unit)[at] as number;
    return variance < LOOSE ** 2 / 4
      ? [{ level: (loose.own[index] as number[])[at] as number, variance }]
      : [];
  });
  const middle = medianOf(found.map(({ level }) => level));
  const fits = (spread: number): boolean =>
    medianOf(found.map(({ level, variance }) => (level - middle) ** 2 / (variance + spread ** 2))) <=
    MEDIAN_SQUARE;
  return grids.level.find(fits) ?? grids.level[grids.level.length - 1] ?? LOOSE;
}
