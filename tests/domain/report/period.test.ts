// Reports over a stretch as the difference of two states of the books, against sums over the events themselves.

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Books, emptyBooks } from '../../../src/domain/ledger/books.ts';
import type { Event } from '../../../src/domain/ledger/event.ts';
import { type Flows, noFlows } from '../../../src/domain/ledger/stock/flows.ts';
import { costOfTally } from '../../../src/domain/ledger/tally.ts';
import { periodReport } from '../../../src/domain/report/period.ts';
import type { EventId } from '../../../src/domain/value/ids.ts';
import { items, nights } from '../../support/events.ts';
import { foldEvents } from '../../support/fold.ts';

const catalogue: Event[] = items.map(
  (item, seq) =>
    ({
      id: `0191${seq.toString(16).padStart(4, '0')}-0000-7000-8000-00000000000c`,
      kind: 'item-written',
      at: '2026-11-01T00:00:00.000Z',
      station: 'c',
      seq: seq + 1,
      shift: null,
      by: null,
      item,
    }) as never,
);
const start = foldEvents(emptyBooks, catalogue);

/** The books at each seal, oldest first. */
function ends(events: readonly Event[]): Books[] {
  const seals = events.flatMap((event, index) => (event.kind === 'shift-sealed' ? [index] : []));
  return seals.map((index) => foldEvents(start, events.slice(0, index + 1)));
}

const sumOf = (amounts: ReadonlyMap<string, number> | Readonly<Record<string, number | undefined>>): number =>
  (amounts instanceof Map ? [...amounts.values()] : Object.values(amounts)).reduce(
    (sum: number, amount) => sum + (amount ?? 0),
    0,
  );

function splitsAdd(flows: Flows): void {
  expect(sumOf(flows.by)).toBe(flows.poured);
  expect(sumOf(flows.bySpec)).toBe(flows.poured);
  expect(sumOf(flows.as)).toBe(flows.poured);
  expect(sumOf(flows.why)).toBe(flows.lost);
}

describe('any list of events', () => {
  it('splits what was poured and lost without a rest', () => {
    fc.assert(
      fc.property(nights(), (events) => {
        const books = foldEvents(start, events);
        for (const { flows, total } of books.stock.values()) {
          splitsAdd(flows);
          splitsAdd(total);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('gives for any stretch of shifts what its periods add up to', () => {
    const rows = { counted: 0, uncounted: 0 };
    fc.assert(
      fc.property(nights(80), fc.nat(5), fc.nat(5), (made, one, other) => {
        // Nobody can pour without a shift (a check of its own refuses it); the arbitrary nights do.
        // Second looks replace a period across a seal and are left to their own test: here every period ends once.
        const events = made
          .filter((event) => event.kind !== 'drink-poured' || event.shift !== null)
          .map((event) => (event.kind === 'stock-counted' ? { ...event, again: false } : event))
          // No two in one moment: a shift of another station opened in the moment of its seal would be sealed first.
          .map((event, nth) => ({ ...event, at: new Date(Date.parse(event.at) + nth).toISOString() }));
        const all = ends(events);
        fc.pre(all.length > 0);
        const [from, to] = [one, other].map((at) => at % all.length).sort((a, b) => a - b) as [
          number,
          number,
        ];
        const end = all[to] as Books;
        const first = all[from]?.shift;
        const report = periodReport({
          before: from === 0 ? null : (all[from - 1] as Books),
          end,
          first: {
            id: first?.id ?? ('' as EventId),
            date: first?.date ?? '',
            openedAt: first?.openedAt ?? '',
          },
          shifts: to - from + 1,
        });
        const shifts = all.slice(from, to + 1).flatMap(({ shift }) => shift ?? []);
        for (const row of report?.items ?? []) {
          const periods = shifts.flatMap(({ periods: list }) => list).filter(({ item }) => item === row.item);
          const poured = periods.reduce((sum, { flows }) => sum + flows.poured, 0) / 1000;
          const counted = periods.length > 0;
          expect([row.item, row.counted !== null]).toEqual([row.item, counted]);
          expect([row.item, counted ? row.poured : null]).toEqual([row.item, counted ? poured : null]);
          rows[counted ? 'counted' : 'uncounted'] += 1;
        }
        const tallies = shifts.flatMap((shift) => [...shift.drinks.values(), shift.straight]);
        const cost = tallies.reduce((sum, tally) => sum + costOfTally(tally), 0);
        expect(report?.totals.soldMinor).toBe(tallies.reduce((sum, { soldMinor }) => sum + soldMinor, 0));
        expect(Math.abs((report?.totals.pouredCostMinor ?? 0) - cost / 1000)).toBeLessThanOrEqual(0.5);
        const drinks = shifts
          .flatMap((shift) => [...shift.drinks.values()])
          .reduce((sum, { count }) => sum + count, 0);
        expect(report?.drinks.reduce((sum, { count }) => sum + count, 0)).toBe(drinks);
      }),
      { numRuns: 300 },
    );
    expect(rows.counted).toBeGreaterThan(0);
    expect(rows.uncounted).toBeGreaterThan(0);
  });

  it('has totals that grow by what the shift poured', () => {
    fc.assert(
      fc.property(nights(60), (events) => {
        const books = foldEvents(start, events);
        const all = [...books.tallies.values()].reduce((sum, tally) => sum + costOfTally(tally), 0);
        const poured = events
          .filter((event) => event.kind === 'drink-poured')
          .flatMap((event) => event.draws)
          .reduce((sum, { costMillis }) => sum + (costMillis ?? 0), 0);
        expect(all).toBe(poured);
        expect(sumOf(books.byHour)).toBe(events.filter(({ kind }) => kind === 'drink-poured').length);
      }),
      { numRuns: 100 },
    );
  });
});

it('a second look at the first count ever becomes the opening of what follows', () => {
  const base = {
    station: 'a',
    shift: null,
    by: null,
    item: items[0]?.id,
    place: 'bar',
    method: 'tenths',
    sealed: 0,
    open: [],
    deviation: 0,
    densityDeviation: 0,
    reading: '1.0',
  };
  const count = (seq: number, amount: number, again: boolean): Event =>
    ({
      ...base,
      id: `0192000${seq}-0000-7000-8000-00000000000a`,
      kind: 'stock-counted',
      at: `2026-11-20T1${seq}:00:00.000Z`,
      seq,
      amount,
      again,
    }) as never;
  const books = foldEvents(start, [
    count(1, 700_000, false),
    count(2, 600_000, true),
    count(3, 500_000, false),
  ]);
  const stock = [...books.stock.values()][0];
  expect(stock?.first?.mark.amount).toBe(600_000);
  expect(stock?.period?.from.amount).toBe(600_000);
  expect(stock?.total).toEqual(noFlows);
});
