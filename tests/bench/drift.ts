// Proof of the drift charts and of the attribution, over simulated seasons with seeds: false alarms, nights to detection,
// error against the best possible, calibration, and two simple methods beside them.

import {
  againstOthers,
  bottleTotal,
  type Fit,
  fitAttribution,
  type Row,
} from '../../src/domain/drift/attribution.ts';
import { deviationOf, driftChart, type Stretch } from '../../src/domain/drift/drift.ts';
import { individuals } from '../../src/domain/standard/charts.ts';
import type { PersonId } from '../../src/domain/value/ids.ts';
import { makeSeason, type Season, type SeasonSetting, usualSeason } from '../support/season.ts';
import { figure, median } from './measure.ts';
import type { Figure } from './run.ts';

const SEASONS = 200;
const WARM_UP = 20;

type Method = { readonly name: string; readonly signals: (stretches: readonly Stretch[]) => boolean[] };

const methods: readonly Method[] = [
  {
    name: 'CUSUM',
    signals: (stretches) => {
      const chart = driftChart(stretches);
      return chart.cusum.map((sum) => sum > chart.h);
    },
  },
  {
    name: 'nightly threshold at two sigma',
    signals: (stretches) => stretches.map((each) => each.missing > 2 * deviationOf(each)),
  },
  {
    name: 'moving-range chart',
    signals: (stretches) => {
      const values = stretches.map(({ missing }) => missing);
      const chart = individuals(values.slice(0, WARM_UP));
      return values.map((value) => value > chart.upper);
    },
  },
];

/** Times a chart goes from quiet to signal, a chart being reset by the people who looked into it. */
const alarms = (signals: readonly boolean[]): number =>
  signals.filter((signal, index) => signal && signals[index - 1] !== true).length;

function falseAlarms(method: Method, reading: SeasonSetting['method']): number {
  let count = 0;
  for (let seed = 1; seed <= SEASONS; seed += 1) {
    for (const stretches of makeSeason({ ...usualSeason, seed, method: reading }).stretches)
      count += alarms(method.signals(stretches));
  }
  return count / SEASONS;
}

function nightsToDetection(method: Method, reading: SeasonSetting['method'], share: number): number {
  const delays: number[] = [];
  for (let seed = 1; seed <= SEASONS; seed += 1) {
    const season = makeSeason({
      ...usualSeason,
      seed: 5000 + seed,
      bottles: 1,
      nights: WARM_UP + 60,
      method: reading,
      fault: { kind: 'bottle', bottle: 0, share, from: WARM_UP },
    });
    const after = method.signals(season.stretches[0] as Stretch[]).slice(WARM_UP);
    const first = after.indexOf(true);
    delays.push(first < 0 ? 60 : first + 1);
  }
  return median(delays);
}

export function rowsOf(season: Season): Row[][] {
  return season.stretches.map((stretches) =>
    stretches.map((each) => ({
      missing: each.missing / 1000,
      by: season.people.map((name) => (each.by.get(name as PersonId) ?? 0) / 1000),
      fromVariance: each.fromVariance / 1e6,
      toVariance: each.toVariance / 1e6,
      ownVariance: each.ownVariance / 1e6,
      follows: each.follows,
    })),
  );
}

const shares = (season: Season, bottle: number): number[] => {
  const sums = season.people.map((name) =>
    (season.stretches[bottle] as Stretch[]).reduce((sum, { by }) => sum + (by.get(name as PersonId) ?? 0), 0),
  );
  const total = sums.reduce((a, b) => a + b, 0);
  return sums.map((sum) => sum / total);
};

type Errors = { person: number[]; bottle: number[]; covered: number; intervals: number };

function measure(fit: Fit, season: Season, errors: Errors): void {
  const others = season.people.length - 1;
  season.people.forEach((_, person) => {
    const mean = season.truth.people.reduce(
      (sum, value, index) => (index === person ? sum : sum + value / others),
      0,
    );
    const truth = (season.truth.people[person] as number) - mean;
    const { estimate, deviation } = againstOthers(fit, person);
    errors.person.push((estimate - truth) ** 2);
    errors.intervals += 1;
    if (Math.abs(estimate - truth) <= 1.959964 * deviation) errors.covered += 1;
  });
  season.stretches.forEach((_, bottle) => {
    const weights = shares(season, bottle);
    const truth =
      (season.truth.bottles[bottle] as number) +
      weights.reduce((sum, weight, index) => sum + weight * (season.truth.people[index] as number), 0);
    const { estimate, deviation } = bottleTotal(fit, bottle, weights);
    errors.bottle.push((estimate - truth) ** 2);
    errors.intervals += 1;
    if (Math.abs(estimate - truth) <= 1.959964 * deviation) errors.covered += 1;
  });
}

const rms = (squares: readonly number[]): number =>
  100 * Math.sqrt(squares.reduce((a, b) => a + b, 0) / squares.length);

/** Spread of people 3 % and bottles 5 %, one person at +10 %: our fit, and the same likelihood with those variances known. */
function attributionFigures(reading: SeasonSetting['method']): Figure[] {
  const spread = { person: 0.03, bottle: 0.05 };
  const ours: Errors = { person: [], bottle: [], covered: 0, intervals: 0 };
  const best: Errors = { person: [], bottle: [], covered: 0, intervals: 0 };
  for (let seed = 1; seed <= SEASONS; seed += 1) {
    const fault =
      seed % 2 === 0
        ? ({ kind: 'none' } as const)
        : ({ kind: 'person', person: seed % 4, share: 0.1 } as const);
    const season = makeSeason({
      ...usualSeason,
      seed: 9000 + seed,
      method: reading,
      personSpread: spread.person,
      bottleSpread: spread.bottle,
      fault,
    });
    const rows = rowsOf(season);
    measure(fitAttribution(rows, season.people.length, 30), season, ours);
    // Half of the seasons have one person at +10 %: as known variance of the people, that is 3 %² + 10 %²/8.
    const person = fault.kind === 'none' ? spread.person : Math.hypot(spread.person, 0.1 / 2);
    measure(fitAttribution(rows, season.people.length, 30, { person, bottle: spread.bottle }), season, best);
  }
  return [
    figure(
      `person contrast error, ${reading}, against the best possible`,
      rms(ours.person),
      'points',
      rms(best.person),
    ),
    figure(
      `bottle error, ${reading}, against the best possible`,
      rms(ours.bottle),
      'points',
      rms(best.bottle),
    ),
    figure(`95 % intervals that cover the truth, ${reading}`, (100 * ours.covered) / ours.intervals, '%'),
  ];
}

/** A season of 90 nights × 60 bottles × 6 people, and the time per row of a quarter of it. */
function fitTime(): Figure[] {
  const time = (nights: number): { ms: number; perRow: number } => {
    const season = makeSeason({ ...usualSeason, seed: 7, nights, bottles: 60, people: 6 });
    const rows = rowsOf(season);
    const times = [0, 1, 2, 3, 4].map(() => {
      const begun = performance.now();
      fitAttribution(rows, 6, nights);
      return performance.now() - begun;
    });
    return { ms: median(times), perRow: median(times) / (nights * 60) };
  };
  time(23);
  const [whole, quarter] = [time(90), time(23)];
  return [
    figure('fit of a season, 90 nights x 60 bottles x 6 people', whole.ms, 'ms'),
    figure(
      'time per row of a season, against a quarter of it',
      whole.perRow * 1000,
      'us',
      quarter.perRow * 1000,
    ),
  ];
}

export function driftBench(): Figure[] {
  const figures: Figure[] = [];
  for (const reading of ['eye', 'weighed'] as const) {
    for (const method of methods)
      figures.push(
        figure(
          `false alarms a month, 40 bottles without fault, ${reading}: ${method.name}`,
          falseAlarms(method, reading),
          'alarms',
        ),
      );
    for (const share of [0.05, 0.1, 0.2]) {
      for (const method of methods)
        figures.push(
          figure(
            `nights to detection of ${share * 100} % on 8 x 40 ml, ${reading}: ${method.name}`,
            nightsToDetection(method, reading, share),
            'nights',
          ),
        );
    }
    figures.push(...attributionFigures(reading));
  }
  return [...figures, ...fitTime()];
}
