// A year of nights that never were: weekdays, a season, two feasts, waste and late deliveries; what three ways of stocking up make of it.
// The way of the program is asked of the program's own lists; the others are (a) pars that were set once on the nights before the year, and
// (b) somebody who knows what is to come. Seeded: the same seed gives the same year. All of it is invented.
import type { Item } from '../../src/domain/catalogue/item.ts';
import { endOfDay } from '../../src/domain/catalogue/keeping.ts';
import type { PrepCard } from '../../src/domain/catalogue/spec.ts';
import type { Supplier } from '../../src/domain/catalogue/supplier.ts';
import { type Books, emptyBooks, type Stock, stockKey } from '../../src/domain/ledger/books.ts';
import { newStock } from '../../src/domain/ledger/folding.ts';
import type { Lot } from '../../src/domain/ledger/stock/lot.ts';
import { nextDelivery, nightsBetween, weekdayOf } from '../../src/domain/order/calendar.ts';
import type { NightUse } from '../../src/domain/order/demand.ts';
import { ordersFor } from '../../src/domain/order/order.ts';
import { prepFor } from '../../src/domain/prep/need.ts';
import { addDays } from '../../src/domain/value/clock-date.ts';
import type { EventId, ItemId, SupplierId } from '../../src/domain/value/ids.ts';
import { makeRandom, poisson, type Random } from './random.ts';
import { aSpec } from './shelf.ts';

const FIRST = '2025-01-06';
const HISTORY = 90;
const weekdayFactor = [0.5, 0.6, 0.75, 1, 1.6, 1.85, 0.7];
const feasts = new Map([
  ['2025-10-31', 1.6],
  ['2025-12-31', 2],
]);

type Thing = {
  readonly id: string;
  /** Of the drinks of a night, how many take it, and how much each; ml or pieces. */
  readonly share: number;
  readonly measure: number;
  readonly size: number;
  readonly caseOf: number;
  readonly costMinor: number;
  /** Days it keeps, of what is made; null for what is bought and keeps. */
  readonly keeps: number | null;
  readonly making: number;
};
const bought = (
  id: string,
  share: number,
  measure: number,
  size: number,
  caseOf: number,
  costMinor: number,
): Thing => ({
  id,
  share,
  measure,
  size,
  caseOf,
  costMinor,
  keeps: null,
  making: 0,
});
const made = (
  id: string,
  share: number,
  measure: number,
  making: number,
  keeps: number,
  costMinor: number,
): Thing => ({
  id,
  share,
  measure,
  size: 1000,
  caseOf: 1,
  costMinor,
  keeps,
  making,
});
const things: readonly Thing[] = [
  bought('gin', 0.24, 45, 700, 6, 1750),
  bought('vodka', 0.12, 45, 700, 6, 1500),
  bought('rye', 0.1, 50, 700, 6, 2800),
  bought('rum', 0.1, 50, 700, 6, 1600),
  bought('tequila', 0.09, 50, 700, 6, 2300),
  bought('vermouth', 0.12, 30, 750, 6, 980),
  bought('aperitif', 0.08, 40, 700, 6, 1400),
  bought('bitters', 0.2, 2, 200, 1, 1250),
  bought('tonic', 0.14, 120, 1000, 12, 130),
  bought('lager', 0.2, 330, 330, 24, 110),
  made('lime', 0.22, 25, 300, 1, 640),
  made('lemon', 0.2, 25, 300, 1, 520),
  made('syrup', 0.25, 15, 1000, 30, 140),
  made('ginger', 0.08, 20, 500, 5, 390),
];

export type Year = {
  readonly dates: readonly string[];
  /** What each night asks for of each thing, thousandths; and what of it is broken or spilt beside that. */
  readonly asked: readonly ReadonlyMap<string, number>[];
  readonly lateness: (order: number) => number;
};

/** Nights before the year, then the year itself. */
export function makeYear(seed: number, nights = 365): Year {
  const random = makeRandom(seed);
  const late = makeRandom(seed + 1);
  const dates = Array.from({ length: HISTORY + nights }, (_, at) => addDays(FIRST, at));
  const asked = dates.map((date) => night(random, date));
  const delays = dates.map(() => (late.uniform() < 0.04 ? 1 : 0));
  return { dates, asked, lateness: (order) => delays[order] ?? 0 };
}

/** A night of some hundred drinks: how busy differs by a seventh beside what chance alone makes. */
function night(random: Random, date: string): Map<string, number> {
  const day = (Date.parse(date) - Date.parse('2025-01-01')) / 86_400_000;
  const season = 1 + 0.2 * Math.cos((2 * Math.PI * (day - 350)) / 365);
  const busy = Math.exp(0.14 * random.normal() - 0.0098);
  const drinks = 95 * (weekdayFactor[weekdayOf(date)] ?? 1) * season * busy * (feasts.get(date) ?? 1);
  return new Map(
    things.map(({ id, share, measure }) => {
      const pours = poisson(random, drinks * share);
      const waste = random.uniform() < 0.05 ? 60_000 : 0;
      return [
        id,
        Math.round(pours * measure * 1000 * Math.exp(0.02 * random.normal())) + (id === 'lager' ? 0 : waste),
      ];
    }),
  );
}

export type Outcome = {
  /** Nights on which something ran out, of all nights of all things; bought and made. */
  readonly outBought: number;
  readonly outMade: number;
  /** Money that stood there on average, and that was thrown away in the year; whole units. */
  readonly shelf: number;
  readonly thrownAway: number;
  /** Of what was aimed at, how often the nights it was to cover took more; before whole cases and makings. */
  readonly beyondOrders: number;
  readonly beyondPrep: number;
  /** The same of the two busy nights of a week alone. */
  readonly beyondBusy: number;
};

type Hand = {
  readonly stock: Map<string, number>;
  readonly lots: { item: string; left: number; until: string }[];
  readonly coming: { at: string; item: string; amount: number }[];
};

export type Way = 'ours' | 'pars' | 'knowing';

/** One way of stocking up, through the year. `z` of orders, `chance` of what is made. */
export function liveThrough(year: Year, way: Way, { z = 1.28, chance = 0.95 } = {}): Outcome {
  const hand: Hand = {
    stock: new Map(
      things
        .filter(({ keeps }) => keeps === null)
        .map(({ id, size, caseOf }) => [id, size * 1000 * caseOf * 2]),
    ),
    lots: [],
    coming: [],
  };
  const sold: NightUse[] = [];
  const pars = way === 'pars' ? setPars(year, z, chance) : new Map<string, number>();
  const sums = {
    outBought: 0,
    outMade: 0,
    shelf: 0,
    thrown: 0,
    nights: 0,
    orders: 0,
    beyondOrders: 0,
    prep: 0,
    beyondPrep: 0,
    busy: 0,
    beyondBusy: 0,
  };
  const targets: { item: string; from: number; to: number; target: number }[] = [];
  year.dates.forEach((date, at) => {
    const isMeasured = at >= HISTORY;
    for (const come of hand.coming.filter((one) => one.at <= date)) {
      hand.stock.set(come.item, (hand.stock.get(come.item) ?? 0) + come.amount);
      hand.coming.splice(hand.coming.indexOf(come), 1);
    }
    const gone = hand.lots.filter(({ until, left }) => until < date && left > 0);
    if (isMeasured) for (const { item, left } of gone) sums.thrown += worth(item, left);
    hand.lots.splice(
      0,
      hand.lots.length,
      ...hand.lots.filter(({ until, left }) => until >= date && left > 0),
    );
    if (at >= HISTORY - 14) {
      prepare(year, way, hand, sold, at, chance, pars, (item, need) => {
        if (!isMeasured) return;
        const isBeyond = (year.asked[at]?.get(item) ?? 0) > need;
        const isBusy = (weekdayFactor[weekdayOf(date)] ?? 1) > 1.5;
        sums.prep += 1;
        if (isBusy) sums.busy += 1;
        if (isBeyond) sums.beyondPrep += 1;
        if (isBeyond && isBusy) sums.beyondBusy += 1;
      });
      placeOrders(year, way, hand, sold, at, z, pars, (item, target, until) => {
        const to = year.dates.indexOf(until);
        if (isMeasured && to > 0) targets.push({ item, from: at, to, target });
      });
    }
    const used = new Map<ItemId, number>();
    for (const thing of things) {
      const wants = year.asked[at]?.get(thing.id) ?? 0;
      // Before the year nobody ran out: what was sold is what was asked for.
      const got = at < HISTORY - 14 ? wants : take(hand, thing, wants);
      used.set(thing.id as ItemId, got);
      if (isMeasured && got < wants) {
        if (thing.keeps === null) sums.outBought += 1;
        else sums.outMade += 1;
      }
    }
    sold.push({ date, used });
    if (isMeasured) {
      sums.nights += 1;
      for (const [item, amount] of hand.stock) sums.shelf += worth(item, amount);
      for (const { item, left } of hand.lots) sums.shelf += worth(item, left);
    }
  });
  for (const { item, from, to, target } of targets) {
    const takes = year.asked.slice(from, to).reduce((sum, one) => sum + (one.get(item) ?? 0), 0);
    sums.orders += 1;
    if (takes > target) sums.beyondOrders += 1;
  }
  const many = (isMade: boolean): number => things.filter(({ keeps }) => (keeps !== null) === isMade).length;
  return {
    outBought: sums.outBought / sums.nights / many(false),
    outMade: sums.outMade / sums.nights / many(true),
    shelf: sums.shelf / sums.nights / 100,
    thrownAway: sums.thrown / 100,
    beyondOrders: sums.orders === 0 ? Number.NaN : sums.beyondOrders / sums.orders,
    beyondBusy: sums.busy === 0 ? Number.NaN : sums.beyondBusy / sums.busy,
    beyondPrep: sums.prep === 0 ? Number.NaN : sums.beyondPrep / sums.prep,
  };
}

const thingOf = (id: string): Thing => things.find((one) => one.id === id) as Thing;
const worth = (id: string, amount: number): number =>
  (thingOf(id).costMinor * Math.max(0, amount)) / (thingOf(id).size * 1000);

/** What stands, of what is made the oldest first. */
function take({ stock, lots }: Hand, { id, keeps }: Thing, wants: number): number {
  if (keeps === null) {
    const got = Math.min(wants, stock.get(id) ?? 0);
    stock.set(id, (stock.get(id) ?? 0) - got);
    return got;
  }
  let got = 0;
  for (const lot of lots.filter(({ item }) => item === id)) {
    const some = Math.min(lot.left, wants - got);
    lot.left -= some;
    got += some;
  }
  return got;
}

const madeThings = things.filter(({ keeps }) => keeps !== null);
const boughtThings = things.filter(({ keeps }) => keeps === null);

/** The making of the day: what the list of the program says, what a par says, or just what the night will take. */
function prepare(
  year: Year,
  way: Way,
  hand: Hand,
  sold: readonly NightUse[],
  at: number,
  chance: number,
  pars: ReadonlyMap<string, number>,
  aimed: (item: string, need: number) => void,
): void {
  const date = year.dates[at] ?? '';
  const needs =
    way === 'ours'
      ? new Map(
          prepFor(booksOf(hand, date), {
            date,
            at: `${date}T15:00:00.000Z`,
            uses: sold.slice(-HISTORY),
            expected: feasts,
            chance,
            byHour: new Map([['20', 1]]),
          }).map(({ item, need }) => [item.id as string, need]),
        )
      : new Map(
          madeThings.map(({ id }) => [
            id,
            way === 'pars' ? (pars.get(id) ?? 0) : (year.asked[at]?.get(id) ?? 0),
          ]),
        );
  for (const { id, making, keeps } of madeThings) {
    const need = needs.get(id) ?? 0;
    aimed(id, need);
    const stands = hand.lots.filter(({ item }) => item === id).reduce((sum, { left }) => sum + left, 0);
    const times = Math.max(0, Math.ceil((need - stands) / (making * 1000)));
    if (times > 0)
      hand.lots.push({ item: id, left: times * making * 1000, until: addDays(date, (keeps ?? 1) - 1) });
  }
}

const supplier: Supplier = {
  id: 'quay' as SupplierId,
  name: 'Quay',
  orderDays: ['mon', 'thu'],
  cutOff: null,
  deliveryDays: ['tue', 'fri'],
  leadDays: null,
  minimumMinor: null,
  contact: '',
};

function placeOrders(
  year: Year,
  way: Way,
  hand: Hand,
  sold: readonly NightUse[],
  at: number,
  z: number,
  pars: ReadonlyMap<string, number>,
  aimed: (item: string, target: number, until: string) => void,
): void {
  const date = year.dates[at] ?? '';
  const delivery = nextDelivery(supplier, date, '12:00');
  if (delivery.orderBy !== date) return;
  const comes = addDays(delivery.deliveryAt, year.lateness(at));
  const add = (item: string, containers: number): void => {
    if (containers > 0) hand.coming.push({ at: comes, item, amount: containers * thingOf(item).size * 1000 });
  };
  if (way === 'ours') {
    const books = booksOf(hand, date);
    const onOrder = new Map<ItemId, number>();
    for (const { item, amount } of hand.coming)
      onOrder.set(item as ItemId, (onOrder.get(item as ItemId) ?? 0) + amount / (thingOf(item).size * 1000));
    const [order] = ordersFor(
      books,
      {
        uses: sold.slice(-HISTORY),
        expected: feasts,
        onOrder,
        today: date,
        clock: '12:00',
        z,
        house: new Set(),
      },
      () => true,
    );
    for (const line of order?.lines ?? []) {
      aimed(line.item.id, line.target * line.item.size, delivery.coversUntil);
      add(line.item.id, line.containers);
    }
    return;
  }
  const nights = nightsBetween(date, delivery.coversUntil);
  for (const { id, size, caseOf } of boughtThings) {
    const target =
      way === 'pars'
        ? (pars.get(id) ?? 0)
        : nights.reduce((sum, _, ahead) => sum + (year.asked[at + ahead]?.get(id) ?? 0), 0);
    const coming = hand.coming.filter(({ item }) => item === id).reduce((sum, { amount }) => sum + amount, 0);
    const need = target - (hand.stock.get(id) ?? 0) - coming;
    add(id, Math.max(0, Math.ceil(need / (size * 1000 * caseOf))) * caseOf);
  }
}

/** Pars set once, on the nights before the year: what so many in a hundred stretches, or nights, were content with. */
function setPars(year: Year, z: number, chance: number): Map<string, number> {
  const before = year.asked.slice(0, HISTORY);
  const quantile = (list: readonly number[], share: number): number =>
    [...list].sort((a, b) => a - b)[Math.min(list.length - 1, Math.floor(share * list.length))] ?? 0;
  const stretches = year.dates.slice(0, HISTORY - 8).flatMap((date, at) => {
    const { orderBy, coversUntil } = nextDelivery(supplier, date, '12:00');
    return orderBy === date ? [before.slice(at, at + nightsBetween(date, coversUntil).length)] : [];
  });
  return new Map([
    ...boughtThings.map(({ id }) => {
      const sums = stretches.map((some) => some.reduce((sum, one) => sum + (one.get(id) ?? 0), 0));
      return [id, quantile(sums, z >= 1.6 ? 0.95 : 0.9)] as const;
    }),
    ...madeThings.map(
      ({ id }) =>
        [
          id,
          quantile(
            before.map((one) => one.get(id) ?? 0),
            chance,
          ),
        ] as const,
    ),
  ]);
}

const itemOf = ({ id, size, caseOf, costMinor, keeps }: Thing): Item => ({
  id: id as ItemId,
  name: id,
  also: [],
  kind: keeps === null ? 'spirit' : 'juice',
  unit: 'ml',
  size: size * 1000,
  sizeText: `${size} ml`,
  tareMilligrams: null,
  abvPercent: null,
  sugarGramsPerLitre: null,
  costMinor,
  caseOf,
  place: 'bar',
  shelf: '',
  par: null,
  count: 'ml',
  allergens: [],
  caution: '',
  ...(keeps === null ? { supplier: supplier.id } : {}),
});
const cardOf = ({ id, making, keeps }: Thing): PrepCard => ({
  ...aSpec(`make-${id}`, [`${making} ml water`], { keeps: { many: keeps ?? 1, unit: 'days' } }),
  makes: { item: id as ItemId, amount: making * 1000, text: `${making} ml` },
});
const catalogue = {
  items: new Map(things.map((thing) => [thing.id as ItemId, itemOf(thing)])),
  specs: new Map(madeThings.map((thing) => [cardOf(thing).id, cardOf(thing)])),
  suppliers: new Map([[supplier.id, supplier]]),
};

function booksOf({ stock, lots }: Hand, date: string): Books {
  const held = new Map<string, Stock>();
  const ofItem = new Map<ItemId, Lot[]>();
  const put = (id: string, amount: number): void => {
    const key = stockKey(id as ItemId, 'bar');
    const before = held.get(key) ?? newStock(id as ItemId, 'bar');
    held.set(key, { ...before, amount: before.amount + amount });
  };
  for (const [id, amount] of stock) put(id, amount);
  lots.forEach(({ item, left, until }, at) => {
    put(item, left);
    const lot: Lot = {
      id: `${at}` as EventId,
      item: item as ItemId,
      place: 'bar',
      madeAt: `${date}T12:00:00.000Z`,
      by: null,
      discardAt: endOfDay(until, emptyBooks.house),
      amount: left,
      left,
      costMillis: null,
      isMade: true,
    };
    ofItem.set(lot.item, [...(ofItem.get(lot.item) ?? []), lot]);
  });
  return { ...emptyBooks, ...catalogue, stock: held, lots: ofItem };
}
