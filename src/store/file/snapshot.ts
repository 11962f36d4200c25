// A checkpoint of the books: what the fold knows apart from the catalogue, as JSON. Only a cache; it can be thrown away.

import * as z from 'zod/mini';
import { type Books, emptyBooks, type ShiftBooks } from '../../domain/ledger/books.ts';
import type { EventKey } from '../../domain/ledger/event.ts';
import type { ItemId } from '../../domain/value/ids.ts';

/** Bump when the shape of the books changes: older checkpoints are then ignored and made anew. */
const SHAPE = 7;

/** What a checkpoint keeps: all but the catalogue, which is folded from its own few events. */
type Kept = Pick<
  Books,
  | 'stock'
  | 'habit'
  | 'shift'
  | 'between'
  | 'sealedUntil'
  | 'lastOfNight'
  | 'tallies'
  | 'byHour'
  | 'bought'
  | 'miseTicks'
  | 'lostMillis'
  | 'lostBetween'
> & {
  /** The last cost of each item: deliveries set it, so the catalogue alone does not know. */
  readonly costs: ReadonlyMap<ItemId, number | null>;
};

const map = z.instanceof(Map);
const keptSchema = z.object({
  shape: z.literal(SHAPE),
  stock: map,
  habit: map,
  shift: z.nullable(z.looseObject({ drinks: map, drawnBy: map, byHour: map, periods: z.array(z.unknown()) })),
  between: z.array(z.unknown()),
  sealedUntil: z.nullable(z.string()),
  lastOfNight: z.nullable(z.string()),
  costs: map,
  tallies: map,
  byHour: map,
  bought: map,
  miseTicks: map,
  lostMillis: z.number(),
  lostBetween: z.number(),
});

/** JSON knows no maps: each is written as its entries under one name that no record of the books has. */
const MAP = 'map of';
const writeMaps = (_: string, value: unknown): unknown =>
  value instanceof Map ? { [MAP]: [...value] } : value;
const readMaps = (_: string, value: unknown): unknown =>
  value !== null && typeof value === 'object' && MAP in value
    ? new Map(value[MAP] as [unknown, unknown][])
    : value;

export function snapshotOf(books: Books): string {
  const { stock, habit, shift, between, sealedUntil, tallies, byHour, bought, miseTicks } = books;
  const { lastOfNight, lostMillis, lostBetween } = books;
  const costs = new Map([...books.items.values()].map((item) => [item.id, item.costMinor]));
  const kept: Kept = {
    stock,
    habit,
    shift,
    between,
    sealedUntil,
    lastOfNight,
    costs,
    tallies,
    byHour,
    bought,
    miseTicks,
    lostMillis,
    lostBetween,
  };
  return JSON.stringify({ shape: SHAPE, ...kept }, writeMaps);
}

/** Only the shift of a checkpoint. */
export function shiftOfSnapshot(text: string): ShiftBooks | null {
  return booksOfSnapshot(text, emptyBooks, { at: '', station: '', seq: 0 })?.shift ?? null;
}

/** The books of a checkpoint on top of the catalogue of its moment; null when it is of another shape. */
export function booksOfSnapshot(text: string, catalogue: Books, last: EventKey): Books | null {
  const parsed = keptSchema.safeParse(JSON.parse(text, readMaps));
  if (!parsed.success) return null;
  // The one cast past the types: the file is ours and of this very shape, and its inner records are as the fold made them.
  const { shape: _, costs, ...kept } = parsed.data as unknown as Kept & { readonly shape: number };
  const items = new Map(
    [...catalogue.items].map(([id, item]) => [id, { ...item, costMinor: costs.get(id) ?? null }]),
  );
  return { ...catalogue, ...kept, items, last };
}
