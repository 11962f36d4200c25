// Which cause explains most of what is left, by how much it is ahead of the others, and which of them cannot be told from it.
import type { SpecId } from '../../value/ids.ts';
import type { Vector } from '../fit/band.ts';
import type { Bottle } from '../fit/bottle.ts';
import type { Cause } from '../fit/causes.ts';
import type { SeasonFit } from '../fit/season-fit.ts';
import { type Gain, gainOf, oddNights, weighted } from './gains.ts';

export type Rival = { readonly cause: Cause; readonly odds: number };

export type Claim = {
  readonly cause: Cause;
  readonly gain: Gain;
  /** Log odds against no cause at all, after paying for how many of its kind were tried. */
  readonly odds: number;
  /** What explains nearly as much, with its log odds. */
  readonly rivals: readonly Rival[];
};

/** Log odds from which a cause enters the fit, so that what it explains is laid at nobody else's door: twenty to one. */
const ENTERS = 3;
/** Rivals within this log of the best cannot be told from it: twenty to one again. */
export const MARGIN = 3;
/** Spread a cause is drawn from before it is known: 15 % of what is poured. */
const CAUSE_SPREAD = 0.15;

export type Found = {
  readonly fit: SeasonFit;
  readonly residuals: readonly Vector[];
  readonly onsets: readonly Cause[];
  readonly shifts: number;
};

type Candidate = { readonly cause: Cause; readonly among: number };

const key = (cause: Cause): string => JSON.stringify(cause);

/** The cause with the highest odds that is not in the fit yet; null when none is twenty to one. */
export function bestCause(bottles: readonly Bottle[], found: Found): Claim | null {
  const { fit, residuals } = found;
  const taken = new Set(fit.layout.causes.map(key));
  const solved = weighted(fit, residuals);
  const tried = candidates(bottles, found, solved)
    .filter(({ cause }) => !taken.has(key(cause)))
    .flatMap(({ cause, among }) => {
      const gain = gainOf(fit, solved, cause, CAUSE_SPREAD);
      const fits = gain !== null && (gain.estimate > 0 || cause.kind === 'group' || cause.kind === 'night');
      return fits ? [{ cause, gain, odds: gain.logOdds - Math.log(among) }] : [];
    })
    .sort((a, b) => b.odds - a.odds);
  const best = tried[0];
  if (best === undefined || best.odds < ENTERS) return null;
  const near = tried.slice(1).filter(({ odds }) => odds > best.odds - MARGIN);
  return { ...best, rivals: near.map(({ cause, odds }) => ({ cause, odds })) };
}

/** Rivals that the named cause explains away; those that stand beside it unmoved are faults of their own. */
export function trueRivals({ rivals, ...claim }: Claim, { fit, residuals }: Found): Claim {
  const solved = weighted(fit, residuals);
  const left = rivals.filter(({ cause, odds }) => {
    const gain = gainOf(fit, solved, cause, CAUSE_SPREAD);
    return gain === null || gain.logOdds < odds / 2;
  });
  return { ...claim, rivals: left };
}

function candidates(
  bottles: readonly Bottle[],
  { fit, onsets, shifts }: Found,
  solved: readonly Vector[],
): Candidate[] {
  const specs = new Map<SpecId, Bottle[]>();
  for (const bottle of bottles)
    for (const spec of bottle.bySpec.keys()) specs.set(spec, [...(specs.get(spec) ?? []), bottle]);
  const measures = [...specs].flatMap(([spec, list]) =>
    list.map(({ id }): Cause => ({ kind: 'measure', spec, item: id })),
  );
  const cards = [...specs]
    .filter(([, list]) => list.length > 1)
    .map(([spec]): Cause => ({ kind: 'card', spec }));
  const groups = [...new Set(bottles.map(({ group }) => group))].sort();
  const people = Array.from({ length: fit.layout.people }, (_, person) => person);
  const inGroups =
    groups.length < 2
      ? []
      : groups.flatMap((group) => people.map((person): Cause => ({ kind: 'group', person, group })));
  const nights = oddNights(fit, solved, shifts).map((night): Cause => ({ kind: 'night', night }));
  const whole = bottles.map(({ id }): Cause => ({ kind: 'bottle', item: id, from: 0, to: null }));
  const among = (list: readonly Cause[], count = list.length): Candidate[] =>
    list.map((cause) => ({ cause, among: Math.max(1, count) }));
  return [
    ...among(measures),
    ...among(cards),
    ...among(inGroups),
    ...among(nights, shifts),
    ...among(whole),
    ...among(onsets, bottles.length),
  ];
}
