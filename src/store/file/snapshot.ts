// A checkpoint of the books: what the fold knows apart from the catalogue, as JSON. Only a cache; it can be thrown away.
import * as z from 'zod/mini';
import { type Books, emptyBooks, type ShiftBooks } from '../../domain/ledger/books.ts';
import type { EventKey } from '../../domain/ledger/event.ts';

/** Bump when the shape of the books changes: older checkpoints are then ignored and made anew. */
const SHAPE = 5;

const snapshotSchema = z.object({
  shape: z.literal(SHAPE),
  stock: z.array(z.tuple([z.string(), z.unknown()])),
  habit: z.array(z.tuple([z.string(), z.number()])),
  shift: z.nullable(z.looseObject({ drinks: z.array(z.unknown()), drawnBy: z.array(z.unknown()) })),
  between: z.array(z.unknown()),
  sealedUntil: z.nullable(z.string()),
  /** The last cost of each item: deliveries set it, so the catalogue alone does not know. */
  costs: z.array(z.tuple([z.string(), z.nullable(z.number())])),
  tallies: z.array(z.tuple([z.string(), z.unknown()])),
  byHour: z.record(z.string(), z.number()),
  bought: z.array(z.tuple([z.string(), z.unknown()])),
  miseTicks: z.array(z.tuple([z.string(), z.string()])),
  lostMillis: z.number(),
  lostBetween: z.number(),
});

export function snapshotOf(books: Books): string {
  const { shift } = books;
  return JSON.stringify({
    shape: SHAPE,
    stock: [...books.stock],
    habit: [...books.habit],
    shift:
      shift === null
        ? null
        : {
            ...shift,
            drinks: [...shift.drinks],
            drawnBy: [...shift.drawnBy].map(([item, by]) => [item, [...by]]),
          },
    between: books.between,
    sealedUntil: books.sealedUntil,
    costs: [...books.items.values()].map((item) => [item.id, item.costMinor]),
    tallies: [...books.tallies],
    byHour: books.byHour,
    bought: [...books.bought],
    miseTicks: [...books.miseTicks],
    lostMillis: books.lostMillis,
    lostBetween: books.lostBetween,
  });
}

/** Only the shift of a checkpoint. */
export function shiftOfSnapshot(text: string): ShiftBooks | null {
  return booksOfSnapshot(text, emptyBooks, { at: '', station: '', seq: 0 })?.shift ?? null;
}

/** The books of a checkpoint on top of the catalogue of its moment; null when it is of another shape. */
export function booksOfSnapshot(text: string, catalogue: Books, last: EventKey): Books | null {
  const parsed = snapshotSchema.safeParse(JSON.parse(text));
  if (!parsed.success) return null;
  const { stock, habit, shift, between, sealedUntil, tallies, byHour, bought, miseTicks } = parsed.data;
  const { lostMillis, lostBetween } = parsed.data;
  const costs = new Map(parsed.data.costs);
  const items = new Map(
    [...catalogue.items].map(([id, item]) => [id, { ...item, costMinor: costs.get(id) ?? null }]),
  );
  // The file is ours and guarded by the chain; its inner records are as the fold made them.
  return {
    ...catalogue,
    items,
    stock: new Map(stock as never),
    habit: new Map(habit as never),
    shift:
      shift === null
        ? null
        : ({
            ...shift,
            drinks: new Map(shift.drinks as never),
            drawnBy: new Map((shift.drawnBy as [string, []][]).map(([item, by]) => [item, new Map(by)])),
          } as never),
    between: between as never,
    sealedUntil,
    tallies: new Map(tallies as never),
    byHour,
    bought: new Map(bought as never),
    miseTicks: new Map(miseTicks),
    lostMillis,
    lostBetween,
    last,
  };
}
