// A checkpoint of the books: what the fold knows apart from the catalogue, as JSON. Only a cache; it can be thrown away.

import { hash } from 'node:crypto';
import * as z from 'zod/mini';
import type { Item } from '../../domain/catalogue/item.ts';
import { type Books, emptyBooks, type ShiftBooks } from '../../domain/ledger/books.ts';
import type { EventKey } from '../../domain/ledger/event.ts';
import type { ItemId } from '../../domain/value/ids.ts';

/** Bump when the shape of the books changes: older checkpoints are then ignored and made anew. */
const SHAPE = 14;

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
  | 'lots'
  | 'preppedBetween'
  | 'makings'
  | 'miseTicks'
  | 'out'
  | 'lostMillis'
  | 'lostBetween'
> & {
  /** The last cost of each item: deliveries set it, so the catalogue alone does not know. */
  readonly costs: ReadonlyMap<ItemId, number | null>;
  /** What follows for an item from its last making. */
  readonly figures: ReadonlyMap<ItemId, MadeFigures>;
};

const map = z.instanceof(Map);
const keptSchema = z.object({
  shape: z.literal(SHAPE),
  stock: map,
  habit: map,
  shift: z.nullable(
    z.looseObject({
      drinks: map,
      drawnBy: map,
      byHour: map,
      prepped: map,
      periods: z.array(z.unknown()),
      hands: z.array(z.unknown()),
      station: z.string(),
      also: z.array(z.string()),
    }),
  ),
  between: z.array(z.unknown()),
  sealedUntil: z.nullable(z.string()),
  lastOfNight: z.nullable(z.string()),
  costs: map,
  tallies: map,
  byHour: map,
  bought: map,
  lots: map,
  preppedBetween: map,
  makings: map,
  figures: map,
  miseTicks: map,
  out: map,
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

type MadeFigures = Pick<
  Item,
  'abvPercent' | 'sugarGramsPerLitre' | 'acidGramsPerLitre' | 'allergens' | 'caution'
>;

/** The catalogue alone does not know what a making said of an item. */
const figuresOf = ({ stock, items }: Books): Map<ItemId, MadeFigures> => {
  // Lots are forgotten once they are used up; what ever came in by being made is not.
  const made = [...stock.values()].filter(({ total, flows }) => total.made + flows.made > 0);
  return new Map(
    made.flatMap(({ item: id }) => {
      const item = items.get(id);
      if (item === undefined) return [];
      const { abvPercent, sugarGramsPerLitre, acidGramsPerLitre, allergens, caution } = item;
      const acid = acidGramsPerLitre === undefined ? {} : { acidGramsPerLitre };
      return [[id, { abvPercent, sugarGramsPerLitre, ...acid, allergens, caution }]];
    }),
  );
};

/** What the fold knows of the books, as one text. */
export function snapshotOf(books: Books): string {
  const { stock, habit, shift, between, sealedUntil, tallies, byHour, bought, miseTicks, out } = books;
  const { lots, preppedBetween, makings } = books;
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
    lots,
    preppedBetween,
    makings,
    figures: figuresOf(books),
    miseTicks,
    out,
    lostMillis,
    lostBetween,
  };
  return JSON.stringify({ shape: SHAPE, ...kept }, writeMaps);
}

/**
 * A snapshot as it is kept: sealed with a digest, so that damage shows; with the hash of the event it was taken at, so that it is
 * no other books'; and with the lines that were set aside before it.
 */
export function keptSnapshot(books: Books, chain: string, aside: Iterable<number>): string {
  const text = JSON.stringify({ chain, aside: [...aside], snapshot: snapshotOf(books) });
  return `${digest(text)}\n${text}`;
}

const digest = (text: string): string => hash('sha256', text, 'hex');
const envelope = z.object({ chain: z.string(), aside: z.array(z.number()), snapshot: z.string() });
const DIGEST = 64;

export type Snapshot = { readonly aside: readonly number[]; readonly text: string };

/** The snapshot of a checkpoint; null when it is damaged, or was taken of other events than these. */
export function openSnapshot(kept: string, chain: string | null): Snapshot | null {
  const text = kept.slice(DIGEST + 1);
  if (kept[DIGEST] !== '\n' || digest(text) !== kept.slice(0, DIGEST)) return null;
  const parsed = envelope.safeParse(JSON.parse(text));
  if (!parsed.success || parsed.data.chain !== chain) return null;
  return { aside: parsed.data.aside, text: parsed.data.snapshot };
}

/** Only the shift of a snapshot. */
export function shiftOfSnapshot(text: string): ShiftBooks | null {
  return booksOfSnapshot(text, emptyBooks, { at: '', station: '', seq: 0 })?.shift ?? null;
}

/** The books of a snapshot on top of the catalogue of its moment; null when it is of another shape. */
export function booksOfSnapshot(text: string, catalogue: Books, last: EventKey): Books | null {
  const parsed = keptSchema.safeParse(JSON.parse(text, readMaps));
  if (!parsed.success) return null;
  // The one cast past the types: the file is ours and of this very shape, and its inner records are as the fold made them.
  const { shape: _, costs, figures, ...kept } = parsed.data as unknown as Kept & { readonly shape: number };
  const items = new Map(
    [...catalogue.items].map(([id, item]) => [
      id,
      { ...item, ...figures.get(id), costMinor: costs.get(id) ?? null },
    ]),
  );
  return { ...catalogue, ...kept, items, last };
}
