// The nights of a simulated season as events: who pours what, what is forgotten, what the counter writes down.

import { houseOf } from '../../src/domain/catalogue/house.ts';
import type { Item } from '../../src/domain/catalogue/item.ts';
import { parseReading } from '../../src/domain/count/reading.ts';
import type { Event } from '../../src/domain/ledger/event.ts';
import { containerDensity } from '../../src/domain/standard/density.ts';
import type { Bar } from './bars.ts';
import { binomial, poisson, type Random } from './random.ts';
import type { Plant, Season, World } from './worlds.ts';

const house = houseOf(new Map());

export type State = {
  readonly random: Random;
  readonly bar: Bar;
  readonly world: World;
  readonly plant: Plant;
  readonly at: Season['at'];
  readonly events: Event[];
  readonly slips: Map<string, number>;
  readonly deviations: readonly number[];
  readonly biases: readonly number[];
  readonly spouts: readonly number[];
  readonly held: { sealed: number; open: number }[];
  seq: number;
};

export function newState(random: Random, bar: Bar, world: World, plant: Plant, at: Season['at']): State {
  const [low, high] = world.pour;
  const state: State = {
    random,
    bar,
    world,
    plant,
    at,
    events: [],
    slips: new Map(),
    deviations: bar.people.map(() => low + (high - low) * random.uniform()),
    biases: bar.people.map(() => world.bias * random.normal()),
    spouts: bar.items.map(() => world.spouts * random.normal()),
    held: bar.items.map(({ size }) => ({
      sealed: 30 + Math.floor(3 * random.uniform()),
      open: (size / 1000) * random.uniform(),
    })),
    seq: 0,
  };
  for (const item of bar.items) push(state, -2, 0, { kind: 'item-written', item });
  for (const person of bar.people)
    push(state, -2, 0, { kind: 'person-added', person, name: person.toUpperCase() });
  for (const { id, parts } of bar.cards)
    push(state, -2, 0, {
      kind: 'spec-written',
      spec: {
        id,
        name: `Card ${id}`,
        also: [],
        family: 'sour',
        glass: '',
        ice: '',
        garnish: '',
        method: 'shake',
        tags: [],
        priceMinor: 1200,
        measures: parts.map(([item, ml]) => ({
          quantity: String(ml),
          unit: 'ml',
          item: bar.items[item]?.id,
        })),
      },
    });
  return state;
}

const START = Date.UTC(2026, 0, 5, 18);
const idOf = (seq: number): string => `01920000-0000-7000-8000-${seq.toString(16).padStart(12, '0')}`;

function push(state: State, night: number, minutes: number, body: Record<string, unknown>): string {
  state.seq += 1;
  const id = idOf(state.seq);
  const at = new Date(START + night * 86_400_000 + minutes * 60_000).toISOString();
  state.events.push({ id, at, station: 'sim', seq: state.seq, shift: null, by: null, ...body } as never);
  return id;
}

export function oneNight(state: State, night: number): void {
  const { bar } = state;
  if (night < 0) {
    countAll(state, night, bar.rota[0]?.counter ?? 0, null);
    return;
  }
  const { on, counter } = bar.rota[night] as Bar['rota'][number];
  deliver(state, night);
  const date = new Date(START + night * 86_400_000).toISOString().slice(0, 10);
  const shift = push(state, night, 0, { kind: 'shift-opened', date });
  const left = bar.items.map(() => 0);
  for (const person of on) pourAll(state, night, person, shift, left);
  const { plant, at } = state;
  if (plant.kind === 'gone' && plant.night === night)
    (state.held[at.item] as State['held'][number]).sealed -= 1;
  for (const [item, ml] of left.entries()) draw(state, item, ml);
  countAll(state, night, counter, shift);
  push(state, night, 480, { kind: 'shift-sealed', of: shift, shift });
}

const LEAST_STOCK = 30;

/** Cases come before the bar runs out. */
function deliver(state: State, night: number): void {
  state.bar.items.forEach((item, index) => {
    const held = state.held[index] as State['held'][number];
    const cases = Math.max(0, Math.ceil((LEAST_STOCK - held.sealed) / 6));
    if (cases === 0) return;
    held.sealed += 6 * cases;
    push(state, night, -60, {
      kind: 'delivery-received',
      item: item.id,
      place: 'bar',
      containers: 6 * cases,
      amount: 6 * cases * item.size,
      costMinor: null,
    });
  });
}

function pourAll(state: State, night: number, person: number, shift: string, left: number[]): void {
  const { bar, random, world } = state;
  for (const [index, { id, weight, parts }] of bar.cards.entries()) {
    const made = poisson(random, weight * bar.drinksEach);
    if (made === 0) continue;
    const forgotten = binomial(random, made, world.unlogged);
    const logged = made - forgotten;
    for (const [item, ml] of parts) {
      const fat = fatOf(state, night, person, index, item);
      left[item] =
        (left[item] as number) +
        made * ml * (1 + fat) +
        Math.sqrt(made) * (state.deviations[person] as number) * tail(state);
    }
    if (logged > 0)
      push(state, night, 60, {
        kind: 'drink-poured',
        shift,
        by: bar.people[person],
        spec: id,
        name: id,
        count: logged,
        as: 'sale',
        priceMinor: 1200,
        changes: [],
        draws: parts.map(([item, ml]) => ({
          item: bar.items[item]?.id,
          place: 'bar',
          amount: logged * ml * 1000,
          costMillis: 0,
        })),
      });
  }
}

/** A standard normal, or Student's t with 3 degrees of freedom scaled to the same deviation. */
function tail({ random, world }: State): number {
  if (!world.heavy) return random.normal();
  const [a, b, c] = [random.normal(), random.normal(), random.normal()];
  return random.normal() / Math.sqrt(a * a + b * b + c * c);
}

function fatOf(
  { plant, at, bar, spouts }: State,
  night: number,
  person: number,
  card: number,
  item: number,
): number {
  const own = spouts[item] ?? 0;
  if (
    plant.kind === 'person' &&
    person === at.person &&
    (plant.on === 'all' || bar.items[item]?.kind === plant.on)
  )
    return own + plant.share;
  if (plant.kind === 'spout' && item === at.item && night >= plant.from) return own + plant.share;
  if (plant.kind === 'card' && card === at.card && at.parts.includes(item)) return own + plant.share;
  return own;
}

function draw(state: State, item: number, ml: number): void {
  const held = state.held[item] as State['held'][number];
  const size = (state.bar.items[item]?.size ?? 0) / 1000;
  held.open -= ml;
  while (held.open < 0) {
    held.open += size;
    held.sealed -= 1;
  }
}

function countAll(state: State, night: number, counter: number, shift: string | null): void {
  state.bar.items.forEach((item, index) => {
    const every = state.bar.every[index] as number;
    if (night >= 0 && (night + 1) % every !== 0) return;
    const { text, off } = readingText(state, night, counter, item, index);
    const read = parseReading(text, item, house);
    if (!read.ok) throw new Error(`${text}: ${read.problems[0]?.message}`);
    const { amount, sealed, open, deviation, densityDeviation, method } = read.value;
    const id = push(state, night, 420, {
      kind: 'stock-counted',
      item: item.id,
      place: 'bar',
      shift,
      by: state.bar.people[counter],
      reading: text,
      method,
      amount,
      sealed,
      open,
      deviation,
      densityDeviation,
      again: false,
    });
    if (off !== 0) state.slips.set(id, off);
  });
}

/** What the counter writes down: sealed ones and the open one as they see it, sometimes slipped by a bottle or some tenths. */
function readingText(
  state: State,
  night: number,
  counter: number,
  item: Item,
  index: number,
): { text: string; off: number } {
  const { random, world, plant, at } = state;
  const held = state.held[index] as State['held'][number];
  const size = item.size / 1000;
  const planted = plant.kind === 'slip' && plant.night === night && at.item === index;
  const slipped = night >= 0 && random.uniform() < world.slips;
  const byBottle = planted || (slipped && random.uniform() < 0.5);
  const bottles = byBottle ? (planted || random.uniform() < 0.5 || held.sealed === 0 ? 1 : -1) : 0;
  const tenths =
    slipped && !byBottle ? (1 + Math.floor(random.uniform() * 3)) * (random.uniform() < 0.5 ? 1 : -1) : 0;
  const sealed = held.sealed + bottles;
  if (sealed < 0) throw new Error(`${item.id} ran out in the simulation`);
  if (item.count === 'tenths') {
    const spread = world.eye * (world.grows ? 2 * (held.open / size) : 1);
    const seen = held.open / size + (state.biases[counter] as number) + spread * random.normal();
    const clear = Math.max(0, Math.min(10, Math.round(10 * seen)));
    const said = Math.max(0, Math.min(10, clear + tenths));
    const text = said === 10 ? `${sealed + 1}.0` : `${sealed}.${said}`;
    return { text, off: bottles * size + ((said - clear) * size) / 10 };
  }
  const shift = (tenths * size) / 10;
  if (item.count === 'ml') {
    const clear = Math.max(
      0,
      Math.min(size, 10 * Math.round((held.open + 3 * (world.eye > 0 ? 1 : 0) * random.normal()) / 10)),
    );
    const said = Math.max(0, Math.min(size, clear + 10 * Math.round(shift / 10)));
    return { text: `${sealed}+${said}ml`, off: bottles * size + said - clear };
  }
  const { density } = containerDensity(item, house);
  const tare = (item.tareMilligrams ?? 0) / 1000;
  const clear = Math.round(tare + (held.open * density) / 1000 + random.normal());
  const low = Math.ceil(tare);
  const said = Math.max(low, Math.min(Math.floor(tare + (size * density) / 1000), clear + Math.round(shift)));
  return {
    text: `${sealed}+${said}g`,
    off: bottles * size + ((said - Math.max(low, clear)) * 1000) / density,
  };
}
