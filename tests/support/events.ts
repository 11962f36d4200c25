// Arbitrary nights for property tests: events of a small house, in order, that the ledger must fold.
import fc from 'fast-check';
import type { Item } from '../../src/domain/catalogue/item.ts';
import type { Event } from '../../src/domain/ledger/event.ts';
import type { EventId, ItemId, PersonId, SpecId } from '../../src/domain/value/ids.ts';

export const items: readonly Item[] = ['gin', 'rye', 'lemon'].map((id, index) => ({
  id: id as ItemId,
  name: id,
  also: [],
  kind: 'spirit',
  unit: 'ml',
  size: [700_000, 1_000_000, 500_000][index] as number,
  sizeText: '700 ml',
  tareMilligrams: null,
  abvPercent: 40,
  sugarGramsPerLitre: null,
  costMinor: 1890,
  caseOf: null,
  place: 'bar',
  shelf: String(index),
  par: null,
  count: 'tenths',
  allergens: [],
  caution: '',
}));

const idOf = (seq: number, station: string): EventId => {
  const mark = station === 'a' ? 'a' : 'b';
  return `0192${seq.toString(16).padStart(4, '0')}-0000-7000-8000-00000000000${mark}` as EventId;
};

const place = fc.constantFrom('bar', 'store');
const item = fc.constantFrom<ItemId>(...items.map(({ id }) => id));
const amount = fc.integer({ min: 1, max: 2_500_000 });
const draws = fc.array(fc.record({ item, place, amount, costMillis: fc.nat(1000) }), {
  minLength: 1,
  maxLength: 4,
});

const body = fc.oneof(
  {
    weight: 6,
    arbitrary: draws.map((list) => ({
      kind: 'drink-poured' as const,
      spec: 'sour' as SpecId,
      name: 'Sour',
      count: 1,
      as: 'sale' as const,
      priceMinor: 1200,
      changes: [],
      draws: list,
    })),
  },
  {
    weight: 1,
    arbitrary: fc.record({
      kind: fc.constant('stock-lost' as const),
      item,
      place,
      amount,
      why: fc.constantFrom('spill' as const, 'breakage' as const),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      kind: fc.constant('delivery-received' as const),
      item,
      place,
      containers: fc.constant(1),
      amount,
      costMinor: fc.constant(null),
    }),
  },
  {
    weight: 1,
    arbitrary: fc.tuple(item, amount, fc.boolean()).map(([id, moved, back]) => ({
      kind: 'stock-moved' as const,
      item: id,
      from: back ? 'bar' : 'store',
      to: back ? 'store' : 'bar',
      containers: 1,
      amount: moved,
    })),
  },
  { weight: 1, arbitrary: fc.record({ kind: fc.constant('bottle-opened' as const), item, place }) },
  {
    weight: 2,
    arbitrary: fc
      .record({
        item,
        place,
        sealed: fc.nat(4),
        open: fc.array(fc.integer({ min: 0, max: 500_000 }), { maxLength: 2 }),
        again: fc.boolean(),
      })
      .map(({ item: id, sealed, open, ...rest }) => {
        const size = items.find((each) => each.id === id)?.size ?? 1;
        const level = sealed * size + open.reduce((sum, value) => sum + value, 0);
        return {
          kind: 'stock-counted' as const,
          item: id,
          reading: '1.0',
          method: 'tenths' as const,
          amount: level,
          sealed,
          open,
          deviation: 20_207,
          densityDeviation: 0,
          ...rest,
        };
      }),
  },
  { weight: 1, arbitrary: fc.constant({ kind: 'shift' as const }) },
);

/** A list of events of two stations with gapless numbers and rising moments; shifts open and seal on the way. */
export const nights = (length = 40): fc.Arbitrary<Event[]> =>
  fc.array(fc.tuple(body, fc.constantFrom('a', 'b'), fc.nat(90)), { maxLength: length }).map((list) => {
    const seqs = new Map<string, number>();
    let at = Date.parse('2026-11-20T17:00:00.000Z');
    let open: EventId | null = null;
    const next = (station: string): { id: EventId; at: string; station: string; seq: number } => {
      const seq = (seqs.get(station) ?? 0) + 1;
      seqs.set(station, seq);
      return { id: idOf(seq, station), at: new Date(at).toISOString(), station, seq };
    };
    const first: Event[] = items.map((each) => ({
      ...next('a'),
      shift: null,
      by: null,
      kind: 'item-written',
      item: each,
    }));
    const rest = list.map(([content, station, minutes]): Event => {
      at += minutes * 60_000;
      const base = { ...next(station), by: 'ines' as PersonId };
      if (content.kind !== 'shift') return { ...base, shift: open, ...content } as Event;
      const event: Event =
        open === null
          ? { ...base, shift: null, kind: 'shift-opened', date: '2026-11-20' }
          : { ...base, shift: open, kind: 'shift-sealed', of: open };
      open = open === null ? event.id : null;
      return event;
    });
    return [...first, ...rest];
  });
