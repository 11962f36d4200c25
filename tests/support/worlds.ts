// Simulated seasons as bars are: drinks as events, counts as text that the real parser reads, books by the real fold.
// Three worlds (findings of the project: as assumed, mild, real), planted faults, and the truth beside it.
import type { Books, ShiftBooks } from '../../src/domain/ledger/books.ts';
import { emptyBooks } from '../../src/domain/ledger/books.ts';
import { foldInOrder } from '../../src/domain/ledger/ledger.ts';
import { type Bar, otherBar, usualBar } from './bars.ts';
import { newState, oneNight } from './nights-made.ts';
import { makeRandom, type Random } from './random.ts';

export type World = {
  readonly name: string;
  /** The eye, sd as a share of a bottle; with `grows` the error is a share of what is in it instead. */
  readonly eye: number;
  readonly grows: boolean;
  /** Each counter's own bias, sd as a share of a bottle. */
  readonly bias: number;
  readonly slips: number;
  readonly unlogged: number;
  /** Deviation of one pour, ml: each person's lies between. */
  readonly pour: readonly [number, number];
  /** Pour errors with heavy tails (Student, 3 degrees of freedom). */
  readonly heavy: boolean;
  /** Spread of people and of spouts that is nobody's fault. */
  readonly spouts: number;
};

const exact = { grows: false, heavy: false, spouts: 0 };
export const worlds = {
  assumed: { name: 'as assumed', eye: 0, bias: 0, slips: 0, unlogged: 0, pour: [1.5, 1.5], ...exact },
  mild: { name: 'mild', eye: 0.01, bias: 0.005, slips: 0.003, unlogged: 0.001, pour: [1.5, 2], ...exact },
  real: { name: 'real', eye: 0.02, bias: 0.01, slips: 0.01, unlogged: 0.004, pour: [1.5, 3], ...exact },
} as const satisfies Record<string, World>;

export type Plant =
  | { readonly kind: 'none' }
  | { readonly kind: 'person'; readonly share: number; readonly on: 'spirit' | 'all' }
  | { readonly kind: 'spout'; readonly share: number; readonly from: number }
  | { readonly kind: 'card'; readonly share: number; readonly measures: 1 | 2 }
  | { readonly kind: 'slip'; readonly night: number }
  /** A container that simply goes. */
  | { readonly kind: 'gone'; readonly night: number };

export type Season = {
  readonly books: Books;
  /** One a night, as the store hands them out. */
  readonly shifts: readonly ShiftBooks[];
  readonly bar: Bar;
  readonly world: World;
  /** Where the plant lies: the person, the item, the card with its parts. */
  readonly at: {
    readonly person: number;
    readonly item: number;
    readonly card: number;
    readonly parts: readonly number[];
  };
  readonly plant: Plant;
  /** Amounts (ml) that readings were slipped by, by item and event of the count. */
  readonly slips: ReadonlyMap<string, number>;
  /** Deviation of a pour by person, ml. */
  readonly pourDeviation: readonly number[];
};

/** A world of another make, drawn from the seed: other eyes, biases, slips, drinks not logged, tails. */
export function otherWorld(seed: number): World {
  const { uniform } = makeRandom(seed * 7919 + 13);
  return {
    name: 'held out',
    eye: 0.005 + 0.025 * uniform(),
    grows: uniform() < 0.5,
    bias: 0.012 * uniform(),
    slips: 0.015 * uniform(),
    unlogged: 0.008 * uniform(),
    pour: [1, 2 + 2 * uniform()],
    heavy: uniform() < 0.5,
    spouts: uniform() < 0.5 ? 0.01 : 0,
  };
}

export function makeSeason(
  seed: number,
  world: World,
  plant: Plant,
  nights = 60,
  make: 'usual' | 'other' = 'usual',
): Season {
  const random = makeRandom(seed);
  const bar = (make === 'usual' ? usualBar : otherBar)(random, nights);
  const at = placeOf(random, bar, plant);
  const state = newState(random, bar, world, plant, at);
  const { events, slips } = state;
  for (let night = -1; night < nights; night += 1) oneNight(state, night);
  const shifts: ShiftBooks[] = [];
  const books = foldInOrder(emptyBooks, events, (event, now) => {
    if (event.kind === 'shift-sealed') shifts.push(now().shift as ShiftBooks);
  });
  return { books, shifts, bar, world, at, plant, slips, pourDeviation: state.deviations };
}

/** Where the fault lies: something that is poured often enough to matter. */
function placeOf(random: Random, bar: Bar, plant: Plant): Season['at'] {
  const pick = (count: number): number => Math.floor(random.uniform() * count);
  const flows = bar.items.map((_, item) =>
    bar.cards.reduce(
      (sum, { weight, parts }) => sum + (parts.some(([part]) => part === item) ? weight : 0),
      0,
    ),
  );
  const busy = flows.map((flow, item) => ({ flow, item })).sort((a, b) => b.flow - a.flow);
  // A planted slip needs a count on its night; anything else is put where something flows.
  const some = busy.slice(0, Math.ceil(busy.length * 0.8)).filter(({ item }) => bar.every[item] === 1);
  const cards = bar.cards.map(({ weight }, card) => ({ weight, card })).sort((a, b) => b.weight - a.weight);
  const card = (cards[pick(Math.ceil(cards.length / 2))] as { card: number }).card;
  const parts = (bar.cards[card]?.parts ?? []).map(([item]) => item);
  const measures = plant.kind === 'card' ? plant.measures : 1;
  return {
    person: pick(bar.people.length),
    item: (some[pick(some.length)] as { item: number }).item,
    card,
    parts: parts.slice(0, measures),
  };
}
