// What is said of an item: drifting, one night, a slip, steady, or that a card would explain it as well.
import { adjustFalseDiscovery } from '../../standard/charts.ts';
import { normalTail } from '../../standard/normal.ts';
import { dot, solveWith } from '../fit/band.ts';
import { type Bottle, bandOf, readingVariance } from '../fit/bottle.ts';
import type { Cause } from '../fit/causes.ts';
import { residualOf } from '../fit/season-fit.ts';
import { type MisreadCount, type Odd, unmarked } from '../fit/slips.ts';
import type { Analysis } from './analysis.ts';
import type { CardVerdict } from './cards.ts';
import { MARGIN } from './claims.ts';

export type ItemState = 'steady' | 'drifting' | 'one-night' | 'slip' | 'not-told-apart';

export type ItemVerdict = {
  readonly state: ItemState;
  /** First stretch of the drift, its share of what is poured with its deviation, and the Benjamini–Hochberg q over all items. */
  readonly drift: {
    readonly onset: number;
    readonly share: number;
    readonly deviation: number;
    readonly q: number;
  } | null;
  /** A drift that ended: the stretch from which the sum began anew. */
  readonly ended: number | null;
  readonly slips: readonly MisreadCount[];
  readonly nights: readonly Odd[];
  /** What else fits as well, or what already explains it. */
  readonly rivals: readonly Cause[];
};

/** A share of what is poured below which nothing is said of a bottle (our decision: a jigger held a little high). */
const WORTH_SAYING = 0.02;
/** Benjamini–Hochberg over the items of a look: one in a hundred named falsely. */
const FALSE_DISCOVERY = 0.01;
/** What is said of single counts and nights is said for this many counts. */
const RECENT = 30;
/** A night is told of from a tenth of a container on. */
const WORTH_TELLING = 0.1;

type Suspect = {
  readonly onset: number;
  readonly share: number;
  readonly deviation: number;
  readonly p: number;
};

export function itemVerdicts(
  bottles: readonly Bottle[],
  analysis: Analysis,
  cards: readonly CardVerdict[],
): ItemVerdict[] {
  const named = new Set(cards.filter((card) => card.named).map(({ spec }) => spec));
  const suspects = bottles.map((bottle, index) => suspectOf(bottle, index, analysis));
  const q = adjustFalseDiscovery(suspects.map((suspect) => suspect?.p ?? 1));
  return bottles.map((bottle, index) => {
    const suspect = suspects[index] ?? null;
    const drift =
      suspect !== null && (q[index] as number) <= FALSE_DISCOVERY
        ? { ...suspect, q: q[index] as number }
        : null;
    const { slips: passedOver, nights } = analysis.marks[index] as Analysis['marks'][number];
    const slips = passedOver.filter(({ cancels }) => cancels);
    const rivals = rivalsOf(bottle, analysis, named);
    const told = nights.filter(({ amount }) => Math.abs(amount) > WORTH_TELLING * bottle.size);
    return {
      state: stateOf(bottle, drift !== null, rivals.equal, { slips, nights: told }),
      drift,
      ended: analysis.charts[index]?.episodes.findLast(({ end }) => end !== null)?.end ?? null,
      slips,
      nights: told,
      rivals: rivals.causes,
    };
  });
}

function suspectOf(bottle: Bottle, index: number, analysis: Analysis): Suspect | null {
  const open = analysis.charts[index]?.episodes.at(-1);
  const claimed = analysis.claims.find(
    ({ cause }) => cause.kind === 'bottle' && cause.item === bottle.id && cause.to === null,
  )?.cause;
  const onset =
    open !== undefined && open.end === null ? open.onset : claimed?.kind === 'bottle' ? claimed.from : null;
  if (onset === null) return null;
  const { fit, scales, marks } = analysis;
  const residual = residualOf(fit, index, (kind) => kind === 'level' || kind === 'bottle');
  const scale = scales[index] as (typeof scales)[number];
  const band = bandOf(bottle, scale, (marks[index] as (typeof marks)[number]).widths);
  const column = bottle.poured.map((value, t) => (t >= onset ? value : 0));
  const solved = solveWith(band, column);
  const precision = dot(column, solved);
  if (!(precision > 0)) return null;
  const share = dot(solved, residual) / precision;
  const deviation = 1 / Math.sqrt(precision);
  // Two readings of what hardly moves err together, and lie up to a whole step apart: less than that is nothing yet.
  const step = Math.sqrt(
    12 * readingVariance(bottle, scale, unmarked(bottle).widths, bottle.to[onset] as number),
  );
  if (share * column.reduce((sum, value) => sum + value, 0) < step) return null;
  // Each doubling of the nights since it may have begun is one more onset that was tried.
  const onsets = 1 + Math.log2(Math.max(1, bottle.poured.length));
  return { onset, share, deviation, p: Math.min(1, onsets * normalTail((share - WORTH_SAYING) / deviation)) };
}

/** Cards that draw on the item and would explain it; `equal` when neither is ahead by the margin. */
function rivalsOf(
  bottle: Bottle,
  { claims }: Analysis,
  named: ReadonlySet<string>,
): { causes: Cause[]; equal: boolean } {
  const touches = (cause: Cause): boolean =>
    (cause.kind === 'card' && bottle.bySpec.has(cause.spec)) ||
    ((cause.kind === 'measure' || cause.kind === 'bottle') && cause.item === bottle.id);
  const mine = claims.filter(({ cause }) => touches(cause));
  const others = mine.flatMap(({ cause, odds, rivals }) => [
    ...(cause.kind === 'bottle'
      ? []
      : [
          {
            cause,
            near: rivals.some((rival) => rival.cause.kind === 'bottle' && rival.cause.item === bottle.id),
          },
        ]),
    ...rivals
      .filter((rival) => rival.cause.kind !== 'bottle' && touches(rival.cause))
      .map((rival) => ({ cause: rival.cause, near: cause.kind === 'bottle' && odds - rival.odds < MARGIN })),
  ]);
  const isNamed = (cause: Cause): boolean =>
    (cause.kind === 'card' || cause.kind === 'measure') && named.has(cause.spec);
  return {
    causes: others.map(({ cause }) => cause),
    equal: others.some(({ cause, near }) => near && !isNamed(cause)),
  };
}

function stateOf(
  bottle: Bottle,
  drifts: boolean,
  isEqual: boolean,
  { slips, nights }: Pick<ItemVerdict, 'slips' | 'nights'>,
): ItemState {
  if (isEqual) return 'not-told-apart';
  if (drifts) return 'drifting';
  const recent = bottle.missing.length - RECENT;
  const last = nights.filter(({ stretch }) => stretch >= recent).sort((a, b) => b.stretch - a.stretch)[0];
  // Whole containers too many on the last count cannot have come by themselves: read again, or enter the delivery.
  if (last !== undefined && last.stretch === bottle.missing.length - 1 && last.amount < 0) return 'slip';
  const slip = slips.filter(({ stretch }) => stretch >= recent).sort((a, b) => b.stretch - a.stretch)[0];
  if (last !== undefined && last.stretch >= (slip?.stretch ?? -1)) return 'one-night';
  return slip === undefined ? 'steady' : 'slip';
}
