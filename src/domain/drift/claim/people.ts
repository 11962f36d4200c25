// Whose pours stand apart: each set against those who are not in question, the one who stands out most first, until nobody new does.
import { normalQuantile } from '../../standard/normal.ts';
import { contrastVariance, type SeasonFit } from '../fit/season-fit.ts';

export type Contrast = {
  readonly estimate: number;
  readonly deviation: number;
  /** Of the items of one group alone, when the fit has them apart. */
  readonly group: { readonly name: string; readonly estimate: number; readonly deviation: number } | null;
  readonly against: readonly number[];
  readonly named: boolean;
};

/** Wrongly naming anybody in a season, over all people and all looks: one in a hundred. */
const FAMILY = 0.01;
/** Differences below this are not a person's doing: two honest jiggers differ by more (our decision; ±2 ml on 40, statistics 3.2). */
export const WORTH_SAYING = 0.01;
const FIRST_LOOK = 8;

/**
 * Deviations a contrast must exceed. Looks over a season see the same figures grow, so each doubling of the nights counts as one
 * further look (Armitage, McPherson & Rowe, J. R. Stat. Soc. A 132, 1969, for what repeated looks do: from memory).
 */
export function boundary(people: number, tests: number, nights: number): number {
  const looks = 1 + Math.max(0, Math.log2(nights / FIRST_LOOK));
  const z = normalQuantile(1 - FAMILY / (2 * people * tests * looks));
  return studentOf(z, 2 * nights);
}

/**
 * Student's quantile from the normal one (Abramowitz & Stegun 26.7.5): the spread itself is learned, from so many nights. Two
 * figures a night stand behind it (our decision; many items share a night, and not one of them is independent of it).
 */
export const studentOf = (z: number, freedom: number): number =>
  z + (z ** 3 + z) / (4 * freedom) + (5 * z ** 5 + 16 * z ** 3 + 3 * z) / (96 * freedom ** 2);

export type Pouring = {
  readonly enough: readonly boolean[];
  readonly shareOfGroup: (person: number, group: string) => number;
  readonly added: (weights: readonly number[]) => number;
  readonly limit: number;
};

export function contrastsOf(fit: SeasonFit, pouring: Pouring): Contrast[] {
  const { people } = fit.layout;
  const named: number[] = [];
  const sides: number[] = [];
  for (;;) {
    const found = Array.from({ length: people }, (_, person) => contrastOf(fit, person, named, pouring));
    // Who has too few shifts is not named, but is set aside like anybody else, so that no innocent is measured against them.
    const next = found
      .map((contrast, person) => ({ person, side: sideOf(contrast), far: farOf(contrast) }))
      .filter(({ person, far }) => far > pouring.limit && !named.includes(person))
      .sort((a, b) => b.far - a.far)[0];
    if (next === undefined || named.length >= people - 1) {
      const above = sides.some((side) => side > 0) || found.some(mayBeAbove);
      return found.map((contrast, person) => {
        const at = named.indexOf(person);
        const isNamed = at >= 0 && pouring.enough[person] === true;
        return { ...contrast, named: isNamed && ((sides[at] as number) > 0 || !above) };
      });
    }
    named.push(next.person);
    sides.push(next.side);
  }
}

/** While somebody may well be above, the others are below only beside them. */
const mayBeAbove = ({ estimate, deviation }: Contrast): boolean => estimate > 2 * deviation;

/** By how many deviations it lies beyond what is worth saying: the whole, or the group. */
function farOf({ estimate, deviation, group }: Contrast): number {
  const far = (value: number, u: number): number => (u > 0 ? (Math.abs(value) - WORTH_SAYING) / u : 0);
  return Math.max(far(estimate, deviation), group === null ? 0 : far(group.estimate, group.deviation));
}

const sideOf = ({ estimate, deviation, group }: Contrast): number =>
  group !== null && Math.abs(group.estimate) / group.deviation > Math.abs(estimate) / deviation
    ? Math.sign(group.estimate)
    : Math.sign(estimate);

function contrastOf(fit: SeasonFit, person: number, named: readonly number[], pouring: Pouring): Contrast {
  const { people, counters } = fit.layout;
  const against = Array.from({ length: people }, (_, other) => other).filter(
    (other) => other !== person && !named.includes(other) && pouring.enough[other] === true,
  );
  const others =
    against.length > 0
      ? against
      : Array.from({ length: people }, (_, other) => other).filter((other) => other !== person);
  const groups = fit.layout.causes
    .filter(({ kind }) => kind !== 'bottle' && kind !== 'measure')
    .map((cause, index) => ({ cause, at: people + counters.length + index }));
  const weights = (of: (group: string, who: number) => number): number[] => {
    const out = new Array<number>(fit.effects.length).fill(0);
    const add = (who: number, weight: number): void => {
      out[who] = (out[who] as number) + weight;
      for (const { cause, at } of groups)
        if (cause.kind === 'group' && cause.person === who)
          out[at] = (out[at] as number) + weight * of(cause.group, who);
    };
    add(person, 1);
    for (const other of others) add(other, -1 / others.length);
    return out;
  };
  const measured = (w: readonly number[]): { estimate: number; deviation: number } => ({
    estimate: w.reduce((sum, weight, index) => sum + weight * (fit.effects[index] as number), 0),
    deviation: Math.sqrt(contrastVariance(fit, w) + pouring.added(w)),
  });
  const own = groups.find(({ cause }) => cause.kind === 'group' && cause.person === person)?.cause;
  const name = own?.kind === 'group' ? own.group : null;
  return {
    ...measured(weights((group, who) => pouring.shareOfGroup(who, group))),
    group: name === null ? null : { name, ...measured(weights((group) => (group === name ? 1 : 0))) },
    against: others,
    named: false,
  };
}
