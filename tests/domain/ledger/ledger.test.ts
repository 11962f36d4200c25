// The ledger: any list of events folds to the same books, and what is taken back was never there.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Books, emptyBooks } from '../../../src/domain/ledger/books.ts';
import { compareEvents, type Event, type EventOf } from '../../../src/domain/ledger/event.ts';
import { baselineOf, containersTotal } from '../../../src/domain/ledger/stock/containers.ts';
import { netFlow } from '../../../src/domain/ledger/stock/flows.ts';
import { isTakeBack, takenBack } from '../../../src/domain/ledger/take-back.ts';
import type { EventId } from '../../../src/domain/value/ids.ts';
import { items, nights } from '../../support/events.ts';
import { foldEvents } from '../../support/fold.ts';

/** Books as plain data, for comparing; which event was folded last does not matter to what they say. */
const plain = (books: Books) =>
  JSON.parse(
    JSON.stringify({
      ...books,
      last: null,
      house: null,
      specs: null,
      items: [...books.items],
      stock: [...books.stock],
      habit: [...books.habit],
      shift: books.shift && {
        ...books.shift,
        drinks: [...books.shift.drinks],
        drawnBy: [...books.shift.drawnBy].map(([item, by]) => [item, [...by]]),
      },
    }),
  );

/** What should stand somewhere, worked out without the ledger: the last count and what flowed since. */
function expectedByHand(events: readonly Event[], item: string, place: string): number {
  let level = 0;
  for (const event of [...events].sort(compareEvents)) {
    if (event.kind === 'stock-counted' && event.item === item && event.place === place) level = event.amount;
    if (event.kind === 'drink-poured')
      for (const draw of event.draws) if (draw.item === item && draw.place === place) level -= draw.amount;
    if (event.kind === 'stock-lost' && event.item === item && event.place === place) level -= event.amount;
    if (event.kind === 'delivery-received' && event.item === item && event.place === place)
      level += event.amount;
    if (event.kind === 'stock-moved' && event.item === item && event.from === place) level -= event.amount;
    if (event.kind === 'stock-moved' && event.item === item && event.to === place) level += event.amount;
  }
  return level;
}

const takeBack = (target: Event, seq: number): EventOf<'event-taken-back'> => ({
  id: `0193${seq.toString(16).padStart(4, '0')}-0000-7000-8000-00000000000c` as EventId,
  at: '2026-12-31T00:00:00.000Z',
  station: 'c',
  seq,
  shift: null,
  by: null,
  kind: 'event-taken-back',
  target: target.id,
});

describe('the fold', () => {
  it('keeps every microlitre: opening + in − out = expected, for any night', () => {
    fc.assert(
      fc.property(nights(60), fc.boolean(), (drawn, isSure) => {
        // A count that nobody is sure of may be improbable, and then is no stock: the hand knows only sure ones.
        const events = drawn.map((event) =>
          event.kind === 'stock-counted' && isSure ? { ...event, sure: true as const } : event,
        );
        const books = foldEvents(emptyBooks, events);
        for (const stock of books.stock.values()) {
          const size = items.find(({ id }) => id === stock.item)?.size ?? 1;
          const { from, flows } = baselineOf(stock);
          if (isSure) expect(stock.amount).toBe(expectedByHand(events, stock.item, stock.place));
          expect(stock.amount).toBe((from?.amount ?? 0) + netFlow(flows));
          expect(containersTotal(stock, size)).toBe(stock.amount);
        }
      }),
      { numRuns: 400 },
    );
  });

  it('gives the same books folded in parts as at once', () => {
    fc.assert(
      fc.property(nights(), fc.nat(60), (made, cut) => {
        // The first part holds what comes before the second in the order of the fold, as the store sees to.
        const events = [...made].sort(compareEvents);
        const at = Math.min(cut, events.length);
        const parts = foldEvents(foldEvents(emptyBooks, events.slice(0, at)), events.slice(at));
        expect(plain(parts)).toEqual(plain(foldEvents(emptyBooks, events)));
      }),
      { numRuns: 300 },
    );
  });

  it('depends on the set of events, not on the order they arrive in, nor on doubles of stations', () => {
    fc.assert(
      fc.property(
        nights().chain((events) =>
          fc.tuple(fc.constant(events), fc.shuffledSubarray(events, { minLength: events.length })),
        ),
        ([events, shuffled]) => {
          expect(plain(foldEvents(emptyBooks, shuffled))).toEqual(plain(foldEvents(emptyBooks, events)));
        },
      ),
      { numRuns: 200 },
    );
  });

  it('takes back exactly: with the event and its take-back it is as if the event never was', () => {
    fc.assert(
      fc.property(nights(), fc.nat(1000), (events, pick) => {
        const target = events[pick % events.length];
        fc.pre(target !== undefined);
        const without = foldEvents(
          emptyBooks,
          events.filter((event) => event !== target),
        );
        const back = takeBack(target, 1);
        expect(plain(foldEvents(emptyBooks, [...events, back]))).toEqual(plain(without));
        const restored = [...events, back, takeBack(back, 2)];
        expect(plain(foldEvents(emptyBooks, restored))).toEqual(plain(foldEvents(emptyBooks, events)));
      }),
      { numRuns: 300 },
    );
  });

  it('follows take-backs of take-backs to any depth', () => {
    const [first] = fc.sample(nights(1), 1)[0] as Event[];
    const chain: Event[] = [first as Event];
    for (let depth = 1; depth <= 6; depth += 1) {
      chain.push(takeBack(chain.at(-1) as Event, depth));
      expect(takenBack(chain.filter(isTakeBack)).has((first as Event).id)).toBe(depth % 2 === 1);
    }
  });
});
