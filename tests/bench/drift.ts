// Proof of the trends over simulated seasons with seeds, in three worlds and in held-out ones of another make: what is found, who
// is named falsely, how far off the estimates are, each beside the best possible (true variances, slips and plants known).

import { driftOf } from '../../src/domain/drift/drift-report.ts';
import type { Series } from '../../src/domain/drift/fit/bottles.ts';
import type { ShiftBooks } from '../../src/domain/ledger/books.ts';
import { items } from '../support/events.ts';
import { makeSeason, usualSeason } from '../support/season.ts';
import { type Trial, tryOut } from '../support/trials.ts';
import { otherWorld, type Plant, type World, worlds } from '../support/worlds.ts';
import { figure, median } from './measure.ts';
import type { Figure } from './run.ts';

/** ULLAGE_SEASONS=40 runs fewer; ULLAGE_CELLS="held out" only those whose name holds it. */
const SEASONS = Number(process.env.ULLAGE_SEASONS ?? 200);
const ONLY = process.env.ULLAGE_CELLS ?? '';
const FIRST_SEED = 3001;

type Case = { readonly name: string; readonly plant: Plant; readonly looks: readonly number[] };

const cases: readonly Case[] = [
  { name: 'nothing', plant: { kind: 'none' }, looks: [15, 20, 30, 45, 60] },
  {
    name: 'a person +10 % on spirits',
    plant: { kind: 'person', share: 0.1, on: 'spirit' },
    looks: [15, 30, 60],
  },
  { name: 'a person +10 % on everything', plant: { kind: 'person', share: 0.1, on: 'all' }, looks: [30, 60] },
  {
    name: 'a spout +15 % from night 31',
    plant: { kind: 'spout', share: 0.15, from: 30 },
    looks: [29, 32, 34, 35, 36, 37, 38, 39, 40, 42, 45, 60],
  },
  { name: 'a card +25 % in two measures', plant: { kind: 'card', share: 0.25, measures: 2 }, looks: [60] },
  { name: 'a card +25 % in one measure', plant: { kind: 'card', share: 0.25, measures: 1 }, looks: [60] },
  { name: 'one slip of a bottle', plant: { kind: 'slip', night: 30 }, looks: [32, 60] },
];

type Setting = {
  readonly name: string;
  readonly worldOf: (seed: number) => World;
  readonly make: 'usual' | 'other';
};

const settings: readonly Setting[] = [
  ...Object.values(worlds).map((world) => ({
    name: world.name,
    worldOf: () => world,
    make: 'usual' as const,
  })),
  { name: 'held out', worldOf: otherWorld, make: 'other' },
];

const share = (trials: readonly Trial[], is: (trial: Trial) => boolean): number =>
  (100 * trials.filter(is).length) / trials.length;
const total = (trials: readonly Trial[], pick: (trial: Trial) => number): number =>
  trials.reduce((sum, trial) => sum + pick(trial), 0);

function figuresOf(setting: Setting, { name, plant, looks }: Case): Figure[] {
  const trials = Array.from({ length: SEASONS }, (_, index) =>
    tryOut(FIRST_SEED + index, setting.worldOf(FIRST_SEED + index), plant, looks, setting.make),
  );
  const of = (what: string): string => `${setting.name}, ${name}: ${what}`;
  const root = (pick: (trial: Trial) => number): number =>
    100 * Math.sqrt(total(trials, pick) / total(trials, ({ squares }) => squares.count));
  const common = [
    figure(
      of('seasons in which an innocent is named at any look'),
      share(trials, ({ innocents }) => innocents.length > 0),
      '%',
    ),
    figure(
      of('false item alarms in a month of 30 items'),
      (900 * total(trials, ({ alarms }) => alarms)) /
        total(trials, ({ nights, items: count }) => nights * count),
      'alarms',
    ),
    figure(
      of('error of a person against the others'),
      root(({ squares }) => squares.ours),
      'points',
      root(({ squares }) => squares.best),
    ),
    figure(
      of('95 % intervals that cover the truth'),
      (100 * total(trials, ({ squares }) => squares.covered)) / total(trials, ({ squares }) => squares.count),
      '%',
    ),
    figure(
      of('seasons in which a card is named'),
      share(trials, ({ cardsNamed }) => cardsNamed.length > 0),
      '%',
    ),
  ];
  return [...common, ...foundOf(trials, plant, of)];
}

function foundOf(trials: readonly Trial[], plant: Plant, of: (what: string) => string): Figure[] {
  switch (plant.kind) {
    case 'person':
      return [15, 30, 60].map((night) =>
        figure(
          of(`found by night ${night}`),
          share(trials, ({ guilty }) => guilty.includes(night)),
          '%',
          share(trials, ({ bestGuilty }) => bestGuilty.includes(night)),
        ),
      );
    case 'spout':
      return [
        figure(
          of('found'),
          share(trials, ({ found }) => found.drift !== null),
          '%',
        ),
        figure(
          of('nights until found, median'),
          median(trials.map(({ found }) => found.drift ?? 99)),
          'nights',
        ),
      ];
    case 'card':
      return [
        figure(
          of('the card named'),
          share(trials, ({ found }) => found.card),
          '%',
        ),
        figure(
          of('the card or its bottle'),
          share(trials, ({ found }) => found.bottleOrCard),
          '%',
        ),
      ];
    case 'slip':
      return [
        figure(
          of('told as a slip at the next count'),
          share(trials, ({ found }) => found.slip),
          '%',
        ),
      ];
    default:
      return [];
  }
}

/** The whole report of 90 nights × 60 items × 6 people, and the time per row of a quarter of it. */
function reportTime(): Figure[] {
  const time = (nights: number): { ms: number; perRow: number } => {
    const season = makeSeason({ ...usualSeason, seed: 7, nights, bottles: 60, people: 6, unlogged: 0.004 });
    const series = season.stretches.map(
      (stretches, index): Series => ({
        item: { ...(items[0] as Series['item']), id: `b${index}` as never },
        stretches: stretches.map((each) => ({ ...each, date: '2026-11-20' })),
      }),
    );
    const shifts = Array.from(
      { length: nights },
      (_, id) =>
        ({
          id: String(id),
          date: '2026-11-20',
          drinks: new Map(),
          drawnBy: new Map(),
        }) as unknown as ShiftBooks,
    );
    const times = [0, 1, 2, 3, 4, 5, 6].map(() => {
      const begun = performance.now();
      driftOf(series, shifts);
      return performance.now() - begun;
    });
    return { ms: median(times), perRow: median(times) / (nights * 60) };
  };
  time(23);
  const [whole, quarter] = [time(90), time(23)];
  return [
    figure('drift report, 90 nights x 60 items x 6 people', whole.ms, 'ms'),
    figure('time per row of it, against a quarter of it', whole.perRow * 1000, 'us', quarter.perRow * 1000),
  ];
}

/** A cell is printed as soon as it is known: all of them take hours. */
export function* driftBench(): Generator<Figure> {
  yield* reportTime();
  for (const setting of settings)
    for (const each of cases)
      if (`${setting.name}, ${each.name}`.includes(ONLY)) yield* figuresOf(setting, each);
}
