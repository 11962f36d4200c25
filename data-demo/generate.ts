// Makes the four weeks of the invented house: a seeded simulation of what really left the bottles, and of what people
// logged and counted. Run it with `node data-demo/generate.ts` (Node 24.15 or newer); the same seed gives the same file.
//
// The planted fault: from the ninth night on the spout of the dry gin runs fat, and every pour of it takes 12 % more than
// its measure. Nothing else is wrong: the rest is scatter of pours, of readings, and a few logged spills and comps.

import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { v7 as uuid } from 'uuid';
import { readSpecs } from '../src/domain/card/spec-card.ts';
import type { Item } from '../src/domain/catalogue/item.ts';
import type { Spec } from '../src/domain/catalogue/spec.ts';
import { linesOf } from '../src/domain/drink/measures.ts';
import {
  intendItem,
  intendPersonAdded,
  intendSetting,
  intendSpec,
  intendSupplier,
} from '../src/domain/intent/intend-house.ts';
import { intendPour } from '../src/domain/intent/intend-pour.ts';
import { intendOpenShift, intendSeal } from '../src/domain/intent/intend-shift.ts';
import { intendCount, intendDelivery, intendLoss } from '../src/domain/intent/intend-stock.ts';
import { type Intent, intendEach } from '../src/domain/intent/intent.ts';
import type { PourPurpose } from '../src/domain/ledger/event.ts';
import { type Containers, containersTotal, drawFrom } from '../src/domain/ledger/stock/containers.ts';
import { containerDensity } from '../src/domain/standard/density.ts';
import { addDays, epochOf, instantOf } from '../src/domain/value/clock-date.ts';
import type { EventId, ItemId, PersonId, SupplierId } from '../src/domain/value/ids.ts';
import { writeEvent } from '../src/exchange/file/event-lines.ts';
import { readItems } from '../src/exchange/file/item-csv.ts';
import { readSupplierRows } from '../src/exchange/file/supplier-csv.ts';
import { openSqliteStore } from '../src/store/file/sqlite.ts';
import type { Store } from '../src/store/store.ts';

const SEED = 20261123;
const FIRST_DAY = '2026-10-26';
const NIGHTS = 28;
export const PLANTED = { item: 'dry-gin', fromNight: 8, share: 0.12 } as const;
/** Drinks on a night, Monday first. */
const drinksByWeekday = [34, 38, 46, 58, 92, 108, 44];
const people = ['Ines', 'Tom', 'Mara', 'Jonas'];
const pourDeviation = 1500;

/** Mulberry32: a small seeded generator, good enough for a demo (public domain, from memory). */
function makeRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

class Night {
  readonly random = makeRandom(SEED);
  readonly truth = new Map<ItemId, Containers>();
  readonly folder = mkdtempSync(join(tmpdir(), 'ullage-make-demo-'));
  readonly store: Store;
  clock = epochOf(`${FIRST_DAY}T12:00:00.000Z`);
  night = 0;

  constructor() {
    const opened = openSqliteStore(this.folder, {
      now: () => this.clock,
      newId: () => this.newId(),
      station: () => 'station-1',
    });
    if (!opened.ok) throw new Error(opened.problems[0]?.message);
    this.store = opened.value;
  }

  newId(): EventId {
    const random = Uint8Array.from({ length: 16 }, () => Math.floor(this.random() * 256));
    return uuid({ msecs: this.clock, random, seq: Math.floor(this.random() * 2 ** 31) }) as EventId;
  }

  normal(): number {
    return Math.sqrt(-2 * Math.log(1 - this.random())) * Math.cos(2 * Math.PI * this.random());
  }

  pick<T>(list: readonly T[]): T {
    return list[Math.floor(this.random() * list.length)] as T;
  }

  record(intent: Intent): void {
    const result = this.store.record(intent);
    if (!result.ok) throw new Error(result.problems[0]?.message);
  }

  /** What really leaves the bottle for a measure. */
  leave(item: Item, amount: number): void {
    const fault = item.id === PLANTED.item && this.night >= PLANTED.fromNight ? 1 + PLANTED.share : 1;
    const scatter =
      item.unit === 'ml' && amount > 5000 && item.count !== 'pieces' ? this.normal() * pourDeviation : 0;
    const taken = Math.max(0, Math.round(amount * fault + scatter));
    const held = this.truth.get(item.id) ?? { sealed: 0, open: [] };
    this.truth.set(item.id, drawFrom(held, taken, item.size));
  }

  has(item: Item, amount: number): boolean {
    // A bar does not wait for the last drop; of bunches and eggs it uses the last one.
    const left = item.unit === 'each' ? 0 : 20_000;
    return (
      containersTotal(this.truth.get(item.id) ?? { sealed: 0, open: [] }, item.size) > amount * 1.3 + left
    );
  }

  /** What somebody reads on the shelf, in the way this item is counted. */
  read(item: Item): string {
    const { sealed, open } = this.truth.get(item.id) ?? { sealed: 0, open: [] };
    if (item.unit === 'each') {
      const whole = Math.max(0, Math.round(containersTotal({ sealed, open }, item.size) / 500) / 2);
      return String(whole);
    }
    if (item.count === 'pieces') return String(sealed + (open.length > 0 ? 1 : 0));
    const opened = open.filter((level) => level > 3000).map((level) => this.readOpen(item, level));
    return opened.length === 0 ? `${sealed}+0` : [String(sealed), ...opened].join('+');
  }

  readOpen(item: Item, level: number): string {
    if (item.count === 'ml')
      return `${Math.max(0, Math.round((level / 1000 + this.normal() * 2) / 10) * 10)}ml`;
    if (item.count === 'grams') {
      const { density } = containerDensity(item, this.store.books().house);
      return `${Math.round(((item.tareMilligrams ?? 0) + (level / 1000) * density) / 1000 + this.normal())}g`;
    }
    const tenths = Math.round((level / item.size + this.normal() * 0.008) * 10);
    return `0.${Math.min(9, Math.max(0, tenths))}`;
  }

  minutes(count: number): void {
    this.clock += Math.round(count * 60_000);
  }
}

function furnish(at: Night): void {
  const here = fileURLToPath(new URL('.', import.meta.url));
  const settings = { name: 'Oddtide', currency: 'EUR', zone: 'Europe/London' };
  for (const [key, value] of Object.entries(settings)) at.record((books) => intendSetting(books, key, value));
  for (const name of people) at.record((books) => intendPersonAdded(books, name));
  at.record((books) => {
    const items = readItems(readFileSync(`${here}items.csv`, 'utf8'), books);
    return items.ok ? intendEach(books, items.value, intendItem) : items;
  });
  at.record((books) => {
    const specs = readSpecs(readFileSync(`${here}specs.txt`, 'utf8'), books);
    return specs.ok ? intendEach(books, specs.value, intendSpec) : specs;
  });
}

/** Brings every item back to par, by what is really there: Tuesdays and Fridays all, fresh things every day. */
function deliver(at: Night, everything: boolean): void {
  for (const item of at.store.books().items.values()) {
    const fresh = ['juice', 'syrup', 'egg', 'herb', 'dairy'].includes(item.kind);
    if (!everything && !fresh) continue;
    const held = at.truth.get(item.id) ?? { sealed: 0, open: [] };
    const want = Math.ceil((item.par ?? 1) + 1 - containersTotal(held, item.size) / item.size);
    const packs = item.unit === 'each' || item.count === 'pieces' ? Math.ceil(want / 6) * 6 : want;
    if (want <= 0) continue;
    at.truth.set(item.id, { sealed: held.sealed + packs, open: held.open });
    at.record((books) =>
      intendDelivery(books, { by: null, item, containers: String(packs), costMinor: item.costMinor }),
    );
    at.minutes(0.2);
  }
}

function countAll(at: Night, by: PersonId): void {
  const items = [...at.store.books().items.values()].sort((a, b) =>
    a.place < b.place ? -1 : a.place > b.place ? 1 : 0,
  );
  for (const item of items) {
    at.record((books) => intendCount(books, { by, item, reading: at.read(item), again: false }));
    at.minutes(0.3);
  }
}

/** How much each spec is asked for: a few favourites, a long tail. */
function popularity(at: Night, specs: readonly Spec[]): Map<string, number> {
  const favourites = [
    'lantern-sour',
    'negroni',
    'margarita',
    'gull-rock',
    'low-water',
    'lager',
    'lantern-smash',
  ];
  return new Map(
    specs.map((spec) => [
      spec.id,
      favourites.includes(spec.id) ? 6 + 3 * at.random() : 0.5 + 1.5 * at.random(),
    ]),
  );
}

function choose(at: Night, specs: readonly Spec[], weights: ReadonlyMap<string, number>): Spec {
  const total = specs.reduce((sum, spec) => sum + (weights.get(spec.id) ?? 0), 0);
  let mark = at.random() * total;
  for (const spec of specs) {
    mark -= weights.get(spec.id) ?? 0;
    if (mark <= 0) return spec;
  }
  return specs[0] as Spec;
}

function serve(
  at: Night,
  onDuty: readonly PersonId[],
  weights: ReadonlyMap<string, number>,
  drinks: number,
): void {
  const specs = [...at.store.books().specs.values()];
  const end = at.clock + 8 * 3_600_000;
  for (let poured = 0; poured < drinks; ) {
    const spec = choose(at, specs, weights);
    const lines = linesOf(spec.measures, at.store.books());
    if (!lines.ok || lines.value.some(({ item, amount }) => !at.has(item, amount * 3))) {
      at.minutes(0.01);
      continue;
    }
    const count = at.random() < 0.72 ? 1 : at.random() < 0.8 ? 2 : 3;
    const as = purposeAt(at.random());
    at.record((books) => intendPour(books, { by: at.pick(onDuty), spec, count, as, changes: [] }));
    for (let glass = 0; glass < count; glass += 1)
      for (const { item, amount } of lines.value) at.leave(item, amount);
    poured += count;
    at.minutes(
      (((end - at.clock) / 60_000) * (0.5 + at.random()) * count) / Math.max(1, drinks - poured + count),
    );
    if (at.random() < 0.012) spill(at, onDuty);
  }
  at.clock = Math.max(at.clock, end);
}

function purposeAt(chance: number): PourPurpose {
  if (chance < 0.93) return 'sale';
  if (chance < 0.96) return 'comp';
  return chance < 0.98 ? 'remake' : 'staff';
}

function spill(at: Night, onDuty: readonly PersonId[]): void {
  const item = at.pick(
    [...at.store.books().items.values()].filter(({ count, unit }) => unit === 'ml' && count !== 'pieces'),
  );
  if (!at.has(item, 60_000)) return;
  const amount = 10_000 * (2 + Math.floor(at.random() * 4));
  at.record((books) => intendLoss(books, { by: at.pick(onDuty), item, amount, why: 'spill' }));
  const held = at.truth.get(item.id) ?? { sealed: 0, open: [] };
  at.truth.set(item.id, drawFrom(held, amount, item.size));
}

function runNight(at: Night, weights: ReadonlyMap<string, number>): void {
  const date = addDays(FIRST_DAY, at.night);
  const weekday = at.night % 7;
  at.clock = epochOf(`${date}T14:30:00.000Z`);
  deliver(at, weekday === 1 || weekday === 4);
  const rota = [
    [0, 1],
    [2, 3],
    [0, 2],
    [1, 3],
    [0, 3],
    [1, 2],
  ][(at.night * 5 + 1) % 6] as number[];
  const ids = [...at.store.books().people.keys()];
  const onDuty = rota.map((index) => ids[index] as PersonId);
  at.clock = epochOf(`${date}T17:30:00.000Z`);
  at.record((books) => intendOpenShift(books, { by: onDuty[0] as PersonId, now: instantOf(at.clock) }));
  serve(at, onDuty, weights, Math.round((drinksByWeekday[weekday] ?? 40) * (0.9 + 0.2 * at.random())));
  at.minutes(12);
  countAll(at, onDuty[1] as PersonId);
  at.minutes(5);
  at.record((books, now) => intendSeal(books, { now, by: onDuty[1] as PersonId }));
}

/** What is made here and who brings the rest: written on the Monday after the four weeks. Invented, as all of it. */
const madeItems = `id,name,kind,size,cost,case,place,shelf,par,count,keeps,prices
white-sugar,White sugar,sugar,1 kg,1.30,10,fridge,40,3,grams,,
limes,Fresh limes,fruit,1 each,0.28,50,fridge,41,40,pieces,10 days,
negroni-batch,Negroni batch,batch,700 ml,,,fridge,42,1,ml,,90 ml 11.00
`;
const madeCards = `# Well Syrup
makes: 1 l simple syrup
keeps: 30 days
620 g white sugar
620 ml water
do: weigh both; stir until clear; bottle cold

# Squeezed Lime
makes: 300 ml lime juice
keeps: 1 day
10 fresh limes
do: roll; squeeze; strain fine

# Batched Negroni
makes: 700 ml negroni batch
keeps: 60 days
200 ml london dry gin 43 %
200 ml red bitter
200 ml red vermouth
100 ml water
do: measure; stir without ice; bottle cold
`;
const madeSuppliers = `id,name,order_days,cut_off,delivery_days,minimum,contact
lock-street,Lock Street Cellars,mon|thu,15:00,tue|fri,300.00,orders by telephone before three
morning-fruit,Morning Fruit,mon|wed|fri|sat,23:00,tue|thu|sat|sun,40.00,leave it on the machine
`;
const fruitKinds = new Set(['juice', 'herb', 'fruit', 'egg', 'dairy', 'sugar']);

function tomorrow(at: Night): void {
  at.clock = epochOf(`${addDays(FIRST_DAY, NIGHTS)}T09:00:00.000Z`);
  at.record((books) => {
    const read = readSupplierRows(madeSuppliers, books);
    const suppliers = read.ok ? read.value.map(({ supplier }) => supplier) : [];
    return read.ok ? intendEach(books, suppliers, intendSupplier) : read;
  });
  at.record((books) => {
    const read = readItems(madeItems, books);
    return read.ok ? intendEach(books, read.value, intendItem) : read;
  });
  at.record((books) => {
    const brought = [...books.items.values()].map((item) => ({
      ...item,
      supplier: (fruitKinds.has(item.kind) ? 'morning-fruit' : 'lock-street') as SupplierId,
    }));
    return intendEach(books, brought, intendItem);
  });
  at.record((books) => {
    const read = readSpecs(madeCards, books);
    return read.ok ? intendEach(books, read.value, intendSpec) : read;
  });
  for (const [id, reading] of [
    ['white-sugar', '4+0'],
    ['limes', '60'],
  ] as const) {
    const item = at.store.books().items.get(id as ItemId) as Item;
    at.record((books) => intendCount(books, { by: 'mara' as PersonId, item, reading, again: false }));
  }
}

/** All events of the demo, as JSON Lines. */
export function makeDemoEvents(): string {
  const at = new Night();
  try {
    furnish(at);
    at.clock = epochOf(`${FIRST_DAY}T13:00:00.000Z`);
    deliver(at, true);
    at.clock = epochOf(`${FIRST_DAY}T13:45:00.000Z`);
    countAll(at, 'mara' as PersonId);
    const weights = popularity(at, [...at.store.books().specs.values()]);
    for (at.night = 0; at.night < NIGHTS; at.night += 1) runNight(at, weights);
    tomorrow(at);
    return [...at.store.allEvents()].map(writeEvent).join('');
  } finally {
    at.store.close();
    rmSync(at.folder, { recursive: true, force: true });
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  writeFileSync(fileURLToPath(new URL('events.jsonl', import.meta.url)), makeDemoEvents());
}
