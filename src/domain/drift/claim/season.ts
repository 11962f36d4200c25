// A season judged: every item with its chart and verdict, every card and every person, from one fit of what flows.

import type { ShiftBooks } from '../../ledger/books.ts';
import { ewma } from '../../standard/charts.ts';
import type { PersonId } from '../../value/ids.ts';
import { ENOUGH_COUNTS } from '../drift.ts';
import { type Bottle, ownVariance, readingVariance } from '../fit/bottle.ts';
import { bottleOf, groupsOf, peopleOf, type Series, wasUsed } from '../fit/bottles.ts';
import { contrastVariance } from '../fit/season-fit.ts';
import { type Analysis, analyse } from './analysis.ts';
import { type CardVerdict, cardVerdicts } from './cards.ts';
import { SLACK } from './chart.ts';
import { type ItemState, type ItemVerdict, itemVerdicts } from './items.ts';

export type DriftChart = {
  /** Slack and limit of the sum, in deviations. */
  readonly k: number;
  readonly h: number;
  readonly reading: 'eye' | 'measured';
  /** Standard uncertainty of what is missing on each night, thousandths of the unit: as wide as the books show it to be. */
  readonly deviations: readonly number[];
  /** Missing over its own standard uncertainty, and the smoothed line of it. */
  readonly z: readonly number[];
  readonly line: readonly number[];
  /** What each night brings beyond what the nights before let expect, and the one-sided sum of it, cut at ±3. */
  readonly scores: readonly number[];
  readonly cusum: readonly number[];
  readonly state: ItemState | 'not-enough-counts';
  /** First stretch of the drift; null when there is none. */
  readonly onset: number | null;
};

export type JudgedItem = {
  readonly series: Series;
  readonly bottle: Bottle;
  readonly chart: DriftChart;
  readonly verdict: ItemVerdict;
};

export type JudgedSeason = {
  readonly people: readonly PersonId[];
  /** Shifts each of them poured in. */
  readonly worked: readonly number[];
  readonly items: readonly JudgedItem[];
  readonly cards: readonly CardVerdict[];
  readonly analysis: Analysis;
  /** Pairs that the rota (or too few nights) leaves further apart in doubt than is useful. */
  readonly blurred: (a: number, b: number) => boolean;
};

/** Nobody is spoken of with fewer shifts (our decision). */
export const ENOUGH_SHIFTS = 10;
/** An estimate that could be 15 % either way says nothing of anybody. */
export const TOO_WIDE = 0.075;

export function judgeSeason(all: readonly Series[], shifts: readonly ShiftBooks[]): JudgedSeason {
  const flows = all.some(wasUsed);
  const people = flows ? peopleOf(all) : [];
  const groups = flows ? groupsOf(all) : new Map<string, string>();
  const bottles = all.map((series) => bottleOf(series, people, shifts, groups.get(series.item.id) ?? 'all'));
  const worked = people.map(
    (name) =>
      new Set(
        all.flatMap(({ stretches }) =>
          stretches.filter(({ by }) => (by.get(name) ?? 0) > 0).map(({ shift }) => shift),
        ),
      ).size,
  );
  const analysis = analyse(
    bottles,
    people.length,
    shifts.length,
    worked.map((count) => count >= ENOUGH_SHIFTS),
  );
  const cards = flows ? cardVerdicts(bottles, analysis) : [];
  const verdicts = itemVerdicts(bottles, analysis, cards);
  return {
    people,
    worked,
    analysis,
    cards,
    items: all.map((series, index) => {
      const bottle = bottles[index] as Bottle;
      const verdict = verdicts[index] as ItemVerdict;
      return { series, bottle, verdict, chart: chartOfItem(series, bottle, index, analysis, verdict) };
    }),
    blurred: (a, b) => {
      const weights = people.map((_, index) => (index === a ? 1 : index === b ? -1 : 0));
      return Math.sqrt(contrastVariance(analysis.fit, weights)) > 2 * TOO_WIDE;
    },
  };
}

function chartOfItem(
  { stretches }: Series,
  bottle: Bottle,
  index: number,
  analysis: Analysis,
  verdict: ItemVerdict,
): DriftChart {
  const scale = analysis.scales[index] as Analysis['scales'][number];
  const plain = {
    reading: new Float64Array(bottle.reading.length).fill(1),
    own: new Float64Array(bottle.own.length).fill(1),
  };
  const deviations = stretches.map(
    (_, t) =>
      1000 *
      Math.sqrt(
        readingVariance(bottle, scale, plain, bottle.from[t] as number) +
          readingVariance(bottle, scale, plain, bottle.to[t] as number) +
          ownVariance(bottle, scale, plain, t),
      ),
  );
  const z = stretches.map(({ missing }, t) => missing / (deviations[t] as number));
  const sum = analysis.charts[index] as Analysis['charts'][number];
  const enough = stretches.length >= ENOUGH_COUNTS;
  const drifts = enough && (verdict.state === 'drifting' || verdict.state === 'not-told-apart');
  return {
    k: SLACK,
    h: analysis.limit,
    reading: bottle.method === 'tenths' ? 'eye' : 'measured',
    deviations,
    z,
    line: ewma(z, 0, 0.2),
    scores: Array.from(sum.z),
    cusum: Array.from(sum.cusum),
    state: enough ? verdict.state : 'not-enough-counts',
    onset: drifts ? (verdict.drift?.onset ?? null) : null,
  };
}
