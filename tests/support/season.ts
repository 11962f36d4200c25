// A season of nights, seeded: a rota, pours with scatter, readings with the error of their method, and planted faults.
// Made directly as stretches between counts, so that hundreds of seasons run in seconds.

import type { Stretch } from '../../src/domain/drift/drift.ts';
import type { PersonId, SpecId } from '../../src/domain/value/ids.ts';
import { makeRandom } from './random.ts';

export type Fault =
  | { readonly kind: 'none' }
  | { readonly kind: 'bottle'; readonly bottle: number; readonly share: number; readonly from: number }
  | { readonly kind: 'person'; readonly person: number; readonly share: number }
  | { readonly kind: 'spec'; readonly spec: number; readonly share: number }
  | { readonly kind: 'theft'; readonly bottle: number; readonly night: number; readonly ml: number }
  | { readonly kind: 'eye'; readonly counter: number; readonly biasMl: number };

export type SeasonSetting = {
  readonly seed: number;
  readonly nights: number;
  readonly bottles: number;
  readonly people: number;
  readonly method: 'eye' | 'weighed';
  readonly pours: number;
  readonly measureMl: number;
  readonly scatterMl: number;
  /** Share of drinks that nobody logs. */
  readonly unlogged: number;
  /** Spread of people and bottles that is nobody's fault. */
  readonly personSpread: number;
  readonly bottleSpread: number;
  readonly fault: Fault;
};

export const usualSeason: SeasonSetting = {
  seed: 1,
  nights: 30,
  bottles: 40,
  people: 4,
  method: 'eye',
  pours: 8,
  measureMl: 40,
  scatterMl: 1.5,
  unlogged: 0,
  personSpread: 0,
  bottleSpread: 0,
  fault: { kind: 'none' },
};

export type Season = {
  readonly people: readonly string[];
  /** By bottle, by night. */
  readonly stretches: readonly (readonly Stretch[])[];
  readonly truth: { readonly people: readonly number[]; readonly bottles: readonly number[] };
};

const BOTTLE_ML = 700;
const SPECS = 12;
/** Standard uncertainty of one reading, ml, as the house would assume it. */
export const readingDeviation = { eye: (BOTTLE_ML * 0.1) / Math.sqrt(12), weighed: 1.2556 } as const;

export function makeSeason(setting: SeasonSetting): Season {
  const { uniform, normal } = makeRandom(setting.seed);
  const people = Array.from({ length: setting.people }, (_, index) => `p${index}`);
  const { fault } = setting;
  const truth = {
    people: people.map(
      (_, index) =>
        setting.personSpread * normal() +
        (fault.kind === 'person' && fault.person === index ? fault.share : 0),
    ),
    bottles: Array.from(
      { length: setting.bottles },
      (_, index) =>
        setting.bottleSpread * normal() +
        (fault.kind === 'bottle' && fault.bottle === index && fault.from === 0 ? fault.share : 0),
    ),
  };
  const errorOf = (night: number): number => {
    const bias = fault.kind === 'eye' && night % 2 === fault.counter ? fault.biasMl : 0;
    return (
      bias +
      (setting.method === 'eye' ? (uniform() - 0.5) * BOTTLE_ML * 0.1 : readingDeviation.weighed * normal())
    );
  };
  const errors = truth.bottles.map(() =>
    Array.from({ length: setting.nights + 1 }, (_, night) => errorOf(night)),
  );
  const stretches = truth.bottles.map((): Stretch[] => []);
  for (let night = 0; night < setting.nights; night += 1) {
    const first = night % people.length;
    const onDuty =
      people.length === 1
        ? [0]
        : [first, (first + 1 + (Math.floor(night / people.length) % (people.length - 1))) % people.length];
    truth.bottles.forEach((effect, bottle) => {
      const own =
        fault.kind === 'bottle' && fault.bottle === bottle && fault.from > 0 && night >= fault.from
          ? fault.share
          : 0;
      stretches[bottle]?.push(
        oneNight(
          setting,
          {
            night,
            bottle,
            onDuty,
            effect: effect + own,
            people: truth.people,
            errors: errors[bottle] as number[],
          },
          uniform,
          normal,
        ),
      );
    });
  }
  return { people, stretches, truth };
}

type NightOf = {
  readonly night: number;
  readonly bottle: number;
  readonly onDuty: readonly number[];
  readonly effect: number;
  readonly people: readonly number[];
  readonly errors: readonly number[];
};

function oneNight(setting: SeasonSetting, at: NightOf, uniform: () => number, normal: () => number): Stretch {
  const { fault } = setting;
  const by = new Map<PersonId, number>();
  const bySpec = new Map<SpecId, number>();
  let [logged, left, pours] = [0, 0, 0];
  for (let pour = 0; pour < setting.pours; pour += 1) {
    const person = at.onDuty[Math.floor(uniform() * at.onDuty.length)] as number;
    const spec = (at.bottle * 3 + Math.floor(uniform() * 4)) % SPECS;
    const fat =
      at.effect +
      (at.people[person] as number) +
      (fault.kind === 'spec' && fault.spec === spec ? fault.share : 0);
    left += setting.measureMl * (1 + fat) + setting.scatterMl * normal();
    if (uniform() < setting.unlogged) continue;
    logged += setting.measureMl;
    pours += 1;
    const [who, what] = [`p${person}` as PersonId, `s${spec}` as SpecId];
    by.set(who, (by.get(who) ?? 0) + setting.measureMl * 1000);
    bySpec.set(what, (bySpec.get(what) ?? 0) + setting.measureMl * 1000);
  }
  if (fault.kind === 'theft' && fault.bottle === at.bottle && fault.night === at.night) left += fault.ml;
  const reading = (readingDeviation[setting.method] * 1000) ** 2;
  // A reading too high tonight shows less missing tonight and more tomorrow: the count is shared.
  const missing = left - logged + (at.errors[at.night] as number) - (at.errors[at.night + 1] as number);
  return {
    shift: String(at.night),
    date: String(at.night),
    missing: missing * 1000,
    pours,
    fromBy: null,
    toBy: null,
    poured: logged * 1000,
    fromVariance: reading,
    toVariance: reading,
    ownVariance: pours * (setting.scatterMl * 1000) ** 2,
    follows: at.night > 0,
    by,
    bySpec,
  };
}
