// A season looked at as a whole: spread and oddities first, then one fit in which bottles, cards, people and nights compete.

import type { Vector } from '../fit/band.ts';
import { blockOf, type Layout } from '../fit/block.ts';
import type { Bottle, Scale } from '../fit/bottle.ts';
import type { Cause } from '../fit/causes.ts';
import { LOOSE, residualOf, type SeasonFit, type Spreads, solveSeason } from '../fit/season-fit.ts';
import { findMarks, type Marks, unmarked } from '../fit/slips.ts';
import { learnScales } from '../fit/spread.ts';
import { learnSpreads } from '../fit/spreads.ts';
import { chartOf, limitFor, type Sum } from './chart.ts';
import { bestCause, type Claim, trueRivals } from './claims.ts';
import { addedVariance, believedShare, notLogged, pairsOf } from './not-logged.ts';
import { boundary, type Contrast, contrastsOf } from './people.ts';

export type Analysis = {
  readonly fit: SeasonFit;
  readonly scales: readonly Scale[];
  readonly marks: readonly Marks[];
  readonly charts: readonly Sum[];
  readonly limit: number;
  readonly claims: readonly Claim[];
  readonly contrasts: readonly Contrast[];
  readonly unlogged: { readonly share: number; readonly deviation: number };
};

const START: Spreads = { level: 0.02, each: 0, counter: 1e-6, loose: LOOSE };
const ROUNDS = 3;
const MOST_CAUSES = 10;

type State = {
  fit: SeasonFit;
  scales: Scale[];
  kinds: ReadonlyMap<string, Scale>;
  marks: Marks[];
  residuals: Vector[];
};

export function analyse(
  bottles: readonly Bottle[],
  people: number,
  shifts: number,
  enough: readonly boolean[],
): Analysis {
  const counters = countersOf(bottles, people);
  let causes: Cause[] = [];
  let state = settle(bottles, { people, counters, causes }, null);
  const claims: Claim[] = [];
  const limit = limitFor(bottles.length);
  while (causes.length < MOST_CAUSES) {
    const claim = bestCause(bottles, { ...state, onsets: onsetsOf(bottles, state, limit), shifts });
    if (claim === null) break;
    causes = [...causes, claim.cause];
    state = settle(bottles, { people, counters, causes }, state);
    claims.push(trueRivals(claim, { ...state, onsets: [], shifts }));
  }
  if (claims.length > 0) state = withSpreads(state);
  const pairs = pairsOf(state.fit);
  const unlogged = notLogged(state.fit, state.residuals, pairs);
  const share = believedShare(unlogged);
  const groups = new Set(bottles.map(({ group }) => group)).size;
  return {
    ...state,
    limit,
    claims,
    unlogged,
    charts: bottles.map((bottle, index) => chartFor(bottle, state, index, limit)),
    contrasts:
      people < 2
        ? []
        : contrastsOf(state.fit, {
            enough,
            added: (weights) => addedVariance(state.fit, pairs, share, weights),
            limit: boundary(people, groups === 1 ? 1 : 1 + groups, shifts),
            shareOfGroup: sharesOf(bottles),
          }),
  };
}

/** People who count on some nights and not on others. */
function countersOf(bottles: readonly Bottle[], people: number): number[] {
  const seen = new Set<number>();
  for (const { counter } of bottles) for (const person of counter) seen.add(person);
  if (seen.size < 2) return [];
  return Array.from({ length: people }, (_, person) => person).filter((person) => seen.has(person));
}

/** What of a person's pours is of one group. */
function sharesOf(bottles: readonly Bottle[]) {
  const sums = new Map<string, number>();
  const add = (key: string, value: number) => sums.set(key, (sums.get(key) ?? 0) + value);
  for (const { by, group } of bottles)
    by.forEach((column, person) => {
      const sum = column.reduce((a, b) => a + b, 0);
      add(`${person}`, sum);
      add(`${person} ${group}`, sum);
    });
  return (person: number, group: string): number =>
    (sums.get(`${person} ${group}`) ?? 0) / Math.max(1e-9, sums.get(`${person}`) ?? 0);
}

/** Scales, oddities and effects depend on each other: a few rounds settle them. */
function settle(bottles: readonly Bottle[], layout: Layout, before: State | null): State {
  let residuals = before?.residuals ?? bottles.map(({ missing }) => missing);
  let scales: Scale[] = before?.scales ?? bottles.map(() => ({ reading: 2, own: 3 }));
  let kinds: ReadonlyMap<string, Scale> = before?.kinds ?? new Map();
  let marks: Marks[] = before?.marks ?? bottles.map(unmarked);
  let fit = before?.fit ?? null;
  const rounds = before === null ? ROUNDS : 2;
  for (let round = 0; round < rounds; round += 1) {
    const cut = before === null && round === 0 ? 7 : undefined;
    if (before === null || round > 0) {
      marks = bottles.map((bottle, index) =>
        findMarks(bottle, residuals[index] as Vector, scales[index] as Scale, cut),
      );
      ({ scales, kinds } = learnScales(
        bottles.map((bottle, index) => ({
          bottle,
          residual: residuals[index] as Vector,
          marks: marks[index] as Marks,
        })),
        kinds,
      ));
    }
    const blocks = bottles.map((bottle, index) =>
      blockOf({ bottle, scale: scales[index] as Scale, marks: marks[index] as Marks }, layout),
    );
    const spreads = fit?.spreads ?? START;
    fit =
      before === null && round === rounds - 1
        ? learnSpreads(blocks, layout, spreads)
        : solveSeason(blocks, layout, spreads);
    residuals = bottles.map((_, index) => residualOf(fit as SeasonFit, index));
  }
  return { fit: fit as SeasonFit, scales, kinds, marks, residuals };
}

/** The spreads learned anew, now that what was named no longer widens them. */
function withSpreads(state: State): State {
  const fit = learnSpreads(state.fit.blocks, state.fit.layout, state.fit.spreads);
  return { ...state, fit, residuals: fit.blocks.map((_, index) => residualOf(fit, index)) };
}

const chartFor = (bottle: Bottle, { fit, scales, marks }: State, index: number, limit: number): Sum =>
  chartOf(
    bottle,
    residualOf(fit, index, (kind) => kind === 'level' || kind === 'bottle'),
    scales[index] as Scale,
    marks[index] as Marks,
    limit,
  );

const onsetsOf = (bottles: readonly Bottle[], state: State, limit: number): Cause[] =>
  bottles.flatMap((bottle, index) =>
    chartFor(bottle, state, index, limit).episodes.map(
      ({ onset, end }): Cause => ({ kind: 'bottle', item: bottle.id, from: onset, to: end }),
    ),
  );
