// The books: what follows from the list of events. Plain data, never changed in place.

import type { Catalogue, Person } from '../catalogue/catalogue.ts';
import { houseOf } from '../catalogue/house.ts';
import type { OutMark } from '../catalogue/out-mark.ts';
import type { Thousandths } from '../value/amount.ts';
import type { Drawer, EventId, ItemId, PersonId, Pourer, SpecId } from '../value/ids.ts';
import type { EventKey, EventOf, PourPurpose, ReadingMethod, Round } from './event.ts';
import type { EyeRecord } from './eye-record.ts';
import type { Flows } from './stock/flows.ts';
import type { Lot } from './stock/lot.ts';

/** A count as the books keep it. */
export type CountMark = {
  readonly event: EventId;
  readonly at: string;
  readonly by: PersonId | null;
  readonly shift: EventId | null;
  readonly reading: string;
  readonly method: ReadingMethod;
  readonly amount: Thousandths;
  readonly deviation: number;
  readonly densityDeviation: number;
  /** A second look, which stands in the place of the first. */
  readonly again?: true;
  /** Somebody said that it is so. */
  readonly sure?: true;
  /** More than was ever there with what came in, and nobody said that it is so. */
  readonly improbable?: true;
};

/** The stretch between two counts of one item at one place. */
export type Period = {
  readonly item: ItemId;
  readonly place: string;
  readonly from: CountMark;
  readonly to: CountMark;
  readonly flows: Flows;
};

/** What a name of the till stands for: a spec, a straight measure, or nothing of ours. */
export type TillMeaning = SpecId | { readonly item: ItemId; readonly amount: Thousandths } | null;

/** One item at one place: what should be there, in which containers. */
export type Stock = {
  readonly item: ItemId;
  readonly place: string;
  /** Expected now; below zero when more was poured than the books knew of. */
  readonly amount: Thousandths;
  readonly sealed: number;
  readonly open: readonly Thousandths[];
  readonly counted: CountMark | null;
  /** The count before `counted`, with what flowed between them, so that a second reading can replace the last. */
  readonly period: Period | null;
  /** The period before that one: two that cancel look like a count slip. */
  readonly before: Period | null;
  readonly flows: Flows;
  /** Everything that flowed up to the last count, since the books began: any stretch is a difference of two of these. */
  readonly total: Flows;
  /** The first count ever, with what had flowed until then. */
  readonly first: { readonly mark: CountMark; readonly total: Flows } | null;
  /** When the container in use was opened, of what does not keep once it is open; left out where nobody knows. */
  readonly openedAt?: string;
  /** What the place was called before, oldest first. */
  readonly formerly?: readonly string[];
  /** Worth of what began to count here without being bought, since the books began; thousandths of a minor unit. */
  readonly found: number;
};

export type Tally = {
  readonly count: number;
  readonly as: Readonly<Record<PourPurpose, number>>;
  readonly soldMinor: number;
  /** What it took, at cost, by purpose; thousandths of a minor unit. */
  readonly costAs: Readonly<Record<PourPurpose, number>>;
};

/** So much is worth so much, in thousandths of a minor unit: the quotient is a price, kept exact. */
export type Average = { readonly amount: Thousandths; readonly millis: number };

/** What came in of an item with its cost known, since the books began, and what it is valued at. */
export type Bought = {
  readonly amount: Thousandths;
  readonly costMinor: number;
  /** The price it was first written with. */
  readonly written: Average | null;
  /** The perpetual moving average. */
  readonly average: Average | null;
  /** What one container cost from when on, since the last seal: a late entry takes the cost of its moment. */
  readonly costs: readonly { readonly from: string; readonly costMinor: number | null }[];
};

export type PourNote = {
  readonly event: EventId;
  readonly at: string;
  readonly by: PersonId | null;
  readonly station: string;
  readonly text: string;
  /** Null for a straight measure. */
  readonly spec: SpecId | null;
  readonly count: number;
  readonly as: PourPurpose;
  /** Changes of the card, and for a straight measure what of: what is needed to pour the same again. */
  readonly changes: readonly string[];
  readonly straight: { readonly item: ItemId; readonly amount: Thousandths } | null;
  /** Its place in a round of several, from one. */
  readonly round: Round | null;
};

/** Who poured from when on, and at which station. */
export type Hand = { readonly at: string; readonly by: PersonId | null; readonly station: string };

/** The shift that is open, or the last one that was. */
export type ShiftBooks = {
  readonly id: EventId;
  readonly date: string;
  readonly openedAt: string;
  readonly sealedAt: string | null;
  readonly sealedBy: PersonId | null;
  /** Who is pouring now. */
  readonly pouring: PersonId | null;
  /** Who poured from when on, oldest first: what is entered late goes to the hand of its moment. */
  readonly hands: readonly Hand[];
  /** The station that opened it. */
  readonly station: string;
  /** Openings by other stations that did not know of it yet: what names them belongs to this shift. */
  readonly also: readonly EventId[];
  readonly drinks: ReadonlyMap<SpecId, Tally>;
  readonly straight: Tally;
  /** What was lost since the shift before was sealed, at the cost of the moment. */
  readonly lostMillis: number;
  /** Per item: which specs drew how much of it; the straight measures stand under the empty name. */
  readonly drawnBy: ReadonlyMap<ItemId, ReadonlyMap<Drawer, Thousandths>>;
  /** What went into makings since the shift before was sealed, by item. */
  readonly prepped: ReadonlyMap<ItemId, Thousandths>;
  readonly recent: readonly PourNote[];
  /** Drinks and straight measures by the hour on the house's wall, "00" to "23". */
  readonly byHour: ReadonlyMap<string, number>;
  /** Periods that ended since the shift before was sealed, oldest first. */
  readonly periods: readonly Period[];
};

export type Books = Catalogue & {
  /** When each item was written first: nothing of it can have moved before. */
  readonly knownSince: ReadonlyMap<ItemId, string>;
  readonly settings: ReadonlyMap<string, string>;
  /** Keyed by `stockKey`. */
  readonly stock: ReadonlyMap<string, Stock>;
  readonly shift: ShiftBooks | null;
  /** Periods that ended while no shift was open; the next shift takes them over. */
  readonly between: readonly Period[];
  /** The last seal: what happened up to here is closed. */
  readonly sealedUntil: string | null;
  /** When something of a night happened last. */
  readonly lastOfNight: string | null;
  /** The event folded last; null for empty books. */
  readonly last: EventKey | null;
  /** How often each spec was poured over the last weeks, fading: for what is likely next. */
  readonly habit: ReadonlyMap<SpecId, number>;
  /** Running totals since the books began, by spec; the straight measures stand under the empty name. */
  readonly tallies: ReadonlyMap<Drawer, Tally>;
  readonly byHour: ReadonlyMap<string, number>;
  readonly bought: ReadonlyMap<ItemId, Bought>;
  /** Lots of what is made here or does not keep, oldest first. */
  readonly lots: ReadonlyMap<ItemId, readonly Lot[]>;
  /** How often each prep card was made, since the books began. */
  readonly makings: ReadonlyMap<SpecId, number>;
  /** What stands there and may no longer be used, at the moment these books are read for (`booksAt`); nothing before that. */
  readonly late: ReadonlyMap<ItemId, Thousandths>;
  /** What went into makings while no shift is open, since the last seal. */
  readonly preppedBetween: ReadonlyMap<ItemId, Thousandths>;
  /** Lost since the books began, and since the last seal while no shift is open; thousandths of a minor unit. */
  readonly lostMillis: number;
  readonly lostBetween: number;
  /** Names of the till, folded, and the spec each means; null: none of ours. */
  readonly tillNames: ReadonlyMap<string, TillMeaning>;
  /** Orders that are placed and did not come yet. */
  readonly orders: ReadonlyMap<EventId, EventOf<'order-placed'>>;
  /** Days ahead that will not be as usual, by their date. */
  readonly expected: ReadonlyMap<string, { readonly factor: number; readonly text: string }>;
  /** Spreadsheets by their headings: the column of each of ours, −1 for one left out. */
  readonly sheets: ReadonlyMap<string, ReadonlyMap<string, number>>;
  /** Readings by eye against the scale, by person; the empty name is nobody. */
  readonly eyes: ReadonlyMap<Pourer, EyeRecord>;
  /** Lines of the mise en place by their folded text: as written when added by hand, null when left out. */
  readonly miseEdits: ReadonlyMap<string, string | null>;
  /** What somebody said is out, by what it is; until the seal, or taken back by hand. */
  readonly out: ReadonlyMap<string, OutMark>;
  /** Lines ticked since the last seal. */
  readonly miseTicks: ReadonlyMap<string, string>;
};

export const stockKey = (item: ItemId, place: string): string => `${item}\n${place}`;

export const emptyBooks: Books = {
  house: houseOf(new Map()),
  knownSince: new Map(),
  settings: new Map(),
  items: new Map(),
  specs: new Map(),
  people: new Map(),
  suppliers: new Map(),
  stock: new Map(),
  shift: null,
  between: [],
  sealedUntil: null,
  lastOfNight: null,
  last: null,
  habit: new Map(),
  tallies: new Map(),
  byHour: new Map(),
  bought: new Map(),
  lots: new Map(),
  late: new Map(),
  makings: new Map(),
  preppedBetween: new Map(),
  lostMillis: 0,
  lostBetween: 0,
  tillNames: new Map(),
  sheets: new Map(),
  expected: new Map(),
  orders: new Map(),
  eyes: new Map(),
  miseEdits: new Map(),
  out: new Map(),
  miseTicks: new Map(),
};

/** The stock as older books have it, under the name its place had then. */
export const stockThen = (then: Books, { item, place, formerly = [] }: Stock): Stock | undefined =>
  [place, ...formerly].flatMap((name) => then.stock.get(stockKey(item, name)) ?? [])[0];

/** Whether an event that names a shift belongs to this one, under whichever of its openings. */
export const isOfShift = ({ id, also }: Pick<ShiftBooks, 'id' | 'also'>, named: EventId | null): boolean =>
  named === id || (named !== null && also.includes(named));

/**
 * The books as one of several stations reads them: each has a hand of its own, and what another station's does is not put
 * down to it.
 */
export const booksAtStation = (books: Books, station: string): Books => {
  const { shift } = books;
  if (shift === null || shift.hands.every((hand) => hand.station === station)) return books;
  const hands = shift.hands.filter((hand) => hand.station === station);
  return { ...books, shift: { ...shift, hands, pouring: hands.at(-1)?.by ?? null } };
};

export const isOpen = (shift: ShiftBooks | null): shift is ShiftBooks =>
  shift !== null && shift.sealedAt === null;

/** Everything of one item, over all its places, home place first. */
export function stockOf(books: Books, item: ItemId): Stock[] {
  const home = books.items.get(item)?.place;
  return [...books.stock.values()]
    .filter((stock) => stock.item === item)
    .sort((a, b) => Number(b.place === home) - Number(a.place === home) || (a.place < b.place ? -1 : 1));
}

/** Expected amount of one item, all places together. */
export const expectedOf = (books: Books, item: ItemId): Thousandths =>
  stockOf(books, item).reduce((sum, stock) => sum + stock.amount, 0);

/** Expected amounts of all items in one walk, for lists. */
export function expectedByItem(books: Books): Map<ItemId, Thousandths> {
  const sums = new Map<ItemId, Thousandths>();
  for (const stock of books.stock.values()) sums.set(stock.item, (sums.get(stock.item) ?? 0) + stock.amount);
  return sums;
}

/** The same without what may no longer be used: what tonight can reckon with. */
export function usableByItem(books: Books): Map<ItemId, Thousandths> {
  const sums = expectedByItem(books);
  for (const [item, amount] of books.late) sums.set(item, (sums.get(item) ?? 0) - amount);
  return sums;
}

/** Who works here now, in the order they were added. */
export const peopleHere = ({ people }: Catalogue): Person[] =>
  [...people.values()].filter(({ here }) => here);

export const personName = ({ people }: Catalogue, id: PersonId | null): string | null =>
  id === null ? null : (people.get(id)?.name ?? id);

/** Every place the house knows: where items live and where stock stands. */
export function placesOf(books: Books): string[] {
  const places = new Set<string>();
  for (const item of books.items.values()) places.add(item.place);
  for (const stock of books.stock.values()) places.add(stock.place);
  return [...places];
}
