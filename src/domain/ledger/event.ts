// The closed union of everything that can be recorded. This list is the truth; everything else follows from it.

import * as z from 'zod/mini';
import { itemSchema } from '../catalogue/item.ts';
import { specSchema } from '../catalogue/spec.ts';
import { supplierSchema } from '../catalogue/supplier.ts';
import { isDate, isInstant } from '../value/clock-date.ts';
import { type EventId, eventId, itemId, personId, place, specId, supplierId } from '../value/ids.ts';
import { LARGEST_MONEY } from '../value/money.ts';

const amount = z.int().check(z.minimum(1), z.maximum(1_000_000_000));
const level = z.int().check(z.minimum(0), z.maximum(1_000_000_000));
const minor = z.int().check(z.minimum(0), z.maximum(LARGEST_MONEY));
const note = z.string().check(z.maxLength(300));
const text = (most: number) => z.string().check(z.minLength(1), z.maxLength(most));

/** Instants in the books are UTC with milliseconds, so that text order is time order. */
export const instant = z
  .string()
  .check(z.refine(isInstant, 'an instant in UTC with milliseconds, of a day and an hour that exist'));
const businessDate = z.string().check(z.refine(isDate, 'a date that exists, as 2026-11-20'));
const containers = z.number().check(z.positive(), z.maximum(1_000_000));

export const pourPurpose = z.enum(['sale', 'comp', 'staff', 'remake', 'training']);
export const lossReason = z.enum(['spill', 'breakage', 'spoiled', 'expired', 'returned']);
/** Which figure of a sealed report a correction is about. */
export const correctable = z.enum(['received', 'poured', 'lost', 'counted']);
export const readingMethod = z.enum(['tenths', 'ml', 'grams', 'pieces']);

/** What one pour took of one item: a later change of the spec, the size or the cost does not touch it. */
const drawSchema = z.strictObject({
  item: itemId,
  place,
  amount,
  /** Value in thousandths of a minor unit at the cost of the moment; null when no cost was known. */
  costMillis: z.nullable(z.int().check(z.minimum(0))),
});

/** What follows for an item from what it was made of; null where a part of it is not known. */
const madeSchema = z.strictObject({
  /** Of one container at the cost of the moment. */
  costMinor: z.nullable(minor),
  abvPercent: z.nullable(z.number().check(z.minimum(0), z.maximum(100))),
  sugarGramsPerLitre: z.nullable(z.number().check(z.minimum(0), z.maximum(1500))),
  acidGramsPerLitre: z.nullable(z.number().check(z.minimum(0), z.maximum(1000))),
  allergens: z.array(text(40)).check(z.maxLength(40)),
  caution: z.string().check(z.maxLength(200)),
});
export type Made = z.infer<typeof madeSchema>;

const station = z.string().check(z.regex(/^[a-z0-9][a-z0-9-]{0,39}$/));
/** What every event has, whatever it says. */
export const eventBase = {
  id: eventId,
  at: instant,
  station,
  seq: z.int().check(z.minimum(1)),
  shift: z.nullable(eventId),
  by: z.nullable(personId),
  note: z.optional(note),
};
/** A part of a round: which one, of how many. They stand one after the other in their station's numbers. */
const round = z.strictObject({
  at: z.int().check(z.minimum(1), z.maximum(100)),
  of: z.int().check(z.minimum(2), z.maximum(100)),
});
export type Round = z.infer<typeof round>;

const kind = <const K extends string, S extends z.core.$ZodLooseShape>(name: K, shape: S) =>
  z.strictObject({ ...eventBase, kind: z.literal(name), ...shape });

export const eventSchema = z.discriminatedUnion('kind', [
  kind('house-set', { key: text(60), value: z.string().check(z.maxLength(200)) }),
  kind('item-written', {
    item: itemSchema,
    /** Of another size from now on: what stands sealed holds what it was filled with. */
    keepsSealed: z.optional(z.literal(true)),
  }),
  kind('spec-written', { spec: specSchema }),
  /** A place is called otherwise from now on: what stands there, and what lives there, stands and lives under the new name. */
  kind('place-renamed', { from: place, to: place }),
  /** A known day ahead: its night takes so many times the usual. One again is as usual. */
  kind('night-expected', {
    date: businessDate,
    factor: z.number().check(z.minimum(0), z.maximum(100)),
    text: z.string().check(z.maxLength(80)),
  }),
  /** An order as it was sent: containers, and what one was to cost. */
  kind('order-placed', {
    supplier: z.nullable(supplierId),
    deliveryAt: businessDate,
    lines: z
      .array(z.strictObject({ item: itemId, containers, costMinor: z.nullable(minor) }))
      .check(z.minLength(1), z.maxLength(500)),
  }),
  /** It came, or will not: what came of it stands in deliveries of its own. */
  kind('order-received', { order: eventId, round: z.optional(round) }),
  kind('supplier-written', { supplier: supplierSchema }),
  kind('person-added', { person: personId, name: z.string().check(z.minLength(1), z.maxLength(60)) }),
  kind('person-left', { person: personId }),
  kind('shift-opened', { date: businessDate }),
  kind('shift-sealed', {
    of: eventId,
    /** Openings of it by other stations, as far as they were known. */
    also: z.optional(z.array(eventId).check(z.maxLength(100))),
    /** How far it saw each station, where several keep one house: what comes later for its night changes nothing it says. */
    seen: z.optional(z.record(station, z.int().check(z.minimum(1)))),
  }),
  kind('handed-over', { to: z.nullable(personId) }),
  kind('drink-poured', {
    spec: specId,
    name: z.string().check(z.maxLength(200)),
    count: z.int().check(z.minimum(1), z.maximum(1000)),
    as: pourPurpose,
    priceMinor: z.nullable(minor),
    changes: z.array(z.string().check(z.maxLength(120))).check(z.maxLength(50)),
    draws: z.array(drawSchema).check(z.maxLength(100)),
    round: z.optional(round),
  }),
  kind('measure-poured', {
    /** Of one measure; left out by older books, which knew none. */
    priceMinor: z.optional(z.nullable(minor)),
    count: z.int().check(z.minimum(1), z.maximum(1000)),
    as: pourPurpose,
    draws: z.array(drawSchema).check(z.minLength(1), z.maxLength(1)),
    round: z.optional(round),
  }),
  kind('stock-lost', {
    item: itemId,
    place,
    amount,
    why: lossReason,
    /** What was thrown away of one lot. */
    lot: z.optional(eventId),
  }),
  /** A making by a prep card: its inputs out, a lot of an item in, with the figures that follow from what went in. */
  kind('prep-made', {
    spec: specId,
    name: z.string().check(z.maxLength(200)),
    item: itemId,
    place,
    /** The yield as it was measured. */
    amount,
    draws: z.array(drawSchema).check(z.maxLength(100)),
    /** The last moment it may be used; null where nobody set a date. */
    discardAt: z.nullable(instant),
    made: madeSchema,
  }),
  kind('delivery-received', {
    item: itemId,
    place,
    containers,
    amount,
    costMinor: z.nullable(minor),
    /** Of an order that came: with it, it is taken back as one. */
    round: z.optional(round),
  }),
  kind('stock-moved', {
    item: itemId,
    from: place,
    to: place,
    containers,
    amount,
  }),
  kind('bottle-opened', { item: itemId, place }),
  kind('stock-counted', {
    item: itemId,
    place,
    reading: z.string().check(z.minLength(1), z.maxLength(80)),
    method: readingMethod,
    amount: level,
    sealed: z.int().check(z.minimum(0), z.maximum(1_000_000)),
    open: z.array(level).check(z.maxLength(200)),
    /** Standard uncertainty of the reading by itself, thousandths of the unit. */
    deviation: z.int().check(z.minimum(0)),
    /** Standard uncertainty that the density brings, common to two weighings of the same item. */
    densityDeviation: z.int().check(z.minimum(0)),
    /** A second reading of the same moment: the earlier one is kept in the log, this one stands. */
    again: z.boolean(),
    /** Somebody says that it is so, though it is more than was ever there. */
    sure: z.optional(z.literal(true)),
  }),
  kind('event-taken-back', { target: eventId }),
  /** A remark on a shift, sealed or not; on one of its items when one is named. */
  kind('note-written', { item: z.nullable(itemId), text: text(300) }),
  /** What a sealed report would say if something had been known. The stock of now is not touched: counts put that right. */
  kind('report-corrected', {
    item: itemId,
    what: correctable,
    amount: z.int().check(z.minimum(-1_000_000_000), z.maximum(1_000_000_000)),
    why: text(300),
  }),
  /** A line of the till: evidence beside the tally; it moves no stock. */
  kind('drink-sold', {
    drink: text(120),
    count: z.int().check(z.minimum(1), z.maximum(10_000)),
    soldAt: instant,
    /** Of one drink. */
    priceMinor: z.nullable(minor),
    seller: z.nullable(text(60)),
    /** The line it was read from, where several stations of a house may read it: it counts once. */
    line: z.optional(eventId),
  }),
  /** What a name of the till means here: a spec, a straight measure of an item, or nothing of ours. */
  kind('till-name-matched', {
    drink: text(120),
    spec: z.nullable(specId),
    straight: z.optional(z.strictObject({ item: itemId, amount })),
  }),
  /** The same bottle read by eye and on the scale: what the reading error is learned from. */
  kind('readings-compared', { item: itemId, size: amount, eye: level, weighed: level }),
  /** 86 by hand: an item, a card, or a word of glass, ice or garnish; until a moment, else until the seal. */
  kind('marked-out', {
    item: z.nullable(itemId),
    spec: z.nullable(specId),
    word: z.nullable(text(40)),
    why: text(60),
    until: z.nullable(instant),
  }),
  kind('marked-back', { item: z.nullable(itemId), spec: z.nullable(specId), word: z.nullable(text(40)) }),
  /** How a spreadsheet with these headings is read: which of ours is which of its columns, counted from zero; −1 is left out. */
  kind('sheet-matched', {
    headings: text(2000),
    columns: z
      .array(z.strictObject({ ours: text(20), at: z.int().check(z.minimum(-1), z.maximum(1000)) }))
      .check(z.maxLength(30)),
  }),
  kind('mise-ticked', { line: text(80), done: z.boolean() }),
  /** A line of the mise en place added by hand (kept), or one from the specs left out (not kept). */
  kind('mise-edited', { line: text(80), kept: z.boolean() }),
]);

export type Event = z.infer<typeof eventSchema>;
/** An event with what became of it. */
export type LoggedEvent = {
  readonly event: Event;
  readonly takenBack: boolean;
  /** What another station had written of the same thing before, and this one replaced. */
  readonly replaces?: { readonly station: string; readonly at: string };
};
export type EventKind = Event['kind'];
export type EventOf<K extends EventKind> = Extract<Event, { kind: K }>;
/** A line of the till, and what is said of a shift afterwards: looked up beside the books, not folded into them. */
export type Sale = EventOf<'drink-sold'>;
export type Making = EventOf<'prep-made'>;
export type Loss = EventOf<'stock-lost'>;
export type Remark = EventOf<'note-written'> | EventOf<'report-corrected'>;
export type Draw = z.infer<typeof drawSchema>;
export type PourPurpose = z.infer<typeof pourPurpose>;
export type LossReason = z.infer<typeof lossReason>;
export type Correctable = z.infer<typeof correctable>;
export type ReadingMethod = z.infer<typeof readingMethod>;

/**
 * An event before the store has given it an id, a station and its running number; `at` only when it is a late entry, an id only
 * when the same thing must not be recorded twice: what is known under that id already is then left out.
 */
export type EventDraft = {
  [K in EventKind]: Omit<EventOf<K>, 'id' | 'at' | 'station' | 'seq'> & {
    readonly at?: string;
    readonly id?: EventId;
  };
}[EventKind];

export const purposes: readonly PourPurpose[] = ['sale', 'comp', 'staff', 'remake', 'training'];
export const lossReasons: readonly LossReason[] = ['spill', 'breakage', 'spoiled', 'expired', 'returned'];

/** Events that describe the house rather than the night; few, whatever the age of the books. */
export const catalogueKinds: readonly EventKind[] = [
  'house-set',
  'item-written',
  'spec-written',
  'person-added',
  'person-left',
  'till-name-matched',
  'readings-compared',
  'mise-edited',
  'sheet-matched',
  'supplier-written',
  'place-renamed',
  'night-expected',
  'order-placed',
  'order-received',
];

/** Beside the books and not in them: these may be written of a sealed night, and taken back, and change nothing it said. */
export const besideKinds: ReadonlySet<EventKind> = new Set<EventKind>([
  'note-written',
  'report-corrected',
  'drink-sold',
  'till-name-matched',
  'readings-compared',
  'sheet-matched',
  'event-taken-back',
]);

/** Part of a night: what opens, pours, moves, counts and seals. Neither the catalogue nor what is said beside. */
export const isOfNight = ({ kind }: Pick<Event, 'kind'>): boolean =>
  !besideKinds.has(kind) && !catalogueKinds.includes(kind);

/** The order of the fold: by the instant it happened, then station, then the station's running number. */
export function compareEvents(a: EventKey, b: EventKey): number {
  if (a.at !== b.at) return a.at < b.at ? -1 : 1;
  if (a.station !== b.station) return a.station < b.station ? -1 : 1;
  return a.seq - b.seq;
}
export type EventKey = { readonly at: string; readonly station: string; readonly seq: number };
