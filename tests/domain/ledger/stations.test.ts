// One night of several stations: opened apart and one, sealed twice and once, each with a hand of its own; a moment that never runs
// behind what was seen.
import { expect, it } from 'vitest';
import { momentAfter, momentNow } from '../../../src/domain/intent/moment.ts';
import { type Books, booksAtStation, emptyBooks } from '../../../src/domain/ledger/books.ts';
import type { Event } from '../../../src/domain/ledger/event.ts';
import { foldInOrder } from '../../../src/domain/ledger/ledger.ts';
import { brokenShift, nightsOf, type ShiftMark } from '../../../src/domain/ledger/shift-order.ts';
import type { EventId, PersonId, SpecId } from '../../../src/domain/value/ids.ts';

const id = (text: string): EventId => text.padEnd(36, '0') as EventId;
const at = (minute: number): string => `2026-11-20T18:${String(minute).padStart(2, '0')}:00.000Z`;
const base = (name: string, minute: number, station: string, by: string | null = null) => ({
  id: id(name),
  at: at(minute),
  station,
  seq: minute + 1,
  by: by as PersonId | null,
});
const opens = (name: string, minute: number, station: string, by: string | null = null): Event => ({
  ...base(name, minute, station, by),
  kind: 'shift-opened',
  shift: null,
  date: '2026-11-20',
});
const seals = (
  name: string,
  minute: number,
  station: string,
  of: string,
  seen?: Record<string, number>,
): Event => ({
  ...base(name, minute, station),
  kind: 'shift-sealed',
  shift: id(of),
  of: id(of),
  ...(seen === undefined ? {} : { seen }),
});
const pours = (name: string, minute: number, station: string, shift: string): Event => ({
  ...base(name, minute, station),
  kind: 'drink-poured',
  shift: id(shift),
  spec: 'sour' as SpecId,
  name: 'Sour',
  count: 1,
  as: 'sale',
  priceMinor: 900,
  changes: [],
  draws: [],
});
const fold = (...events: readonly Event[]): Books => foldInOrder(emptyBooks, events);
const poured = ({ shift }: Books): number => shift?.drinks.get('sour' as SpecId)?.count ?? 0;

it('two openings apart are one shift: the earlier one, with the pours of both', () => {
  const books = fold(
    opens('a', 0, 'bar', 'ines'),
    opens('b', 1, 'yard', 'tom'),
    pours('p', 2, 'bar', 'a'),
    pours('q', 3, 'yard', 'b'),
  );
  expect([books.shift?.id, books.shift?.also, poured(books)]).toEqual([id('a'), [id('b')], 2]);
  expect(books.shift?.openedAt).toBe(at(0));
});

it('a second opening by the same station is none of that: older books have such, and it is another shift', () => {
  const books = fold(opens('a', 0, 'bar'), opens('b', 1, 'bar'));
  expect([books.shift?.id, books.shift?.also]).toEqual([id('b'), []]);
});

it('each station has a hand of its own', () => {
  const books = fold(opens('a', 0, 'bar', 'ines'), opens('b', 1, 'yard', 'tom'), {
    ...base('h', 2, 'bar', 'ines'),
    kind: 'handed-over',
    shift: id('a'),
    to: 'mara' as PersonId,
  });
  expect(booksAtStation(books, 'bar').shift?.pouring).toBe('mara');
  expect(booksAtStation(books, 'yard').shift?.pouring).toBe('tom');
  expect(booksAtStation(books, 'roof').shift?.pouring).toBeNull();
  // One station alone reads its books as they are.
  const alone = fold(opens('a', 0, 'bar', 'ines'));
  expect(booksAtStation(alone, 'bar')).toBe(alone);
});

it('a seal by any of its openings closes the night and gives it its name; a second one closes nothing', () => {
  const night = [opens('a', 0, 'bar'), opens('b', 1, 'yard'), pours('p', 2, 'bar', 'a')];
  const sealed = fold(...night, seals('s', 3, 'yard', 'b', { yard: 2 }));
  expect([sealed.shift?.id, sealed.shift?.also, sealed.sealedUntil]).toEqual([id('b'), [id('a')], at(3)]);
  const twice = fold(
    ...night,
    seals('s', 3, 'yard', 'b', { yard: 2 }),
    seals('t', 9, 'bar', 'a', { bar: 3 }),
  );
  expect([twice.shift?.sealedAt, twice.sealedUntil]).toEqual([at(3), at(3)]);
  // In the middle of the next night it clears no mark and ends nothing.
  const next = fold(
    ...night,
    seals('s', 3, 'yard', 'b', { yard: 2 }),
    opens('c', 5, 'yard'),
    pours('q', 6, 'yard', 'c'),
    seals('t', 9, 'bar', 'a', { bar: 3 }),
  );
  expect([next.shift?.id, next.shift?.sealedAt, poured(next)]).toEqual([id('c'), null, 1]);
});

it('a pour that comes after its night is in no other night', () => {
  const books = fold(
    opens('a', 0, 'bar'),
    seals('s', 3, 'bar', 'a', { bar: 1 }),
    opens('c', 5, 'bar'),
    pours('q', 6, 'yard', 'a'),
  );
  expect([books.shift?.id, poured(books), books.tallies.get('sour' as SpecId)?.count]).toEqual([
    id('c'),
    0,
    1,
  ]);
});

const mark = (event: Event): ShiftMark => ({
  id: event.id,
  at: event.at,
  station: event.station,
  date: event.kind === 'shift-opened' ? event.date : null,
  of: event.kind === 'shift-sealed' ? event.of : null,
  also: event.kind === 'shift-sealed' ? (event.also ?? []) : [],
  apart: event.kind === 'shift-sealed' && event.seen !== undefined,
});

it('the list of nights says the same as the fold, and what does not fit is named', () => {
  const marks = [
    opens('a', 0, 'bar'),
    opens('b', 1, 'yard'),
    seals('s', 3, 'yard', 'b', {}),
    seals('t', 4, 'bar', 'a', {}),
    opens('c', 5, 'bar'),
  ].map(mark);
  expect(
    nightsOf(marks).map(({ id: name, seal, openings, sealedAt }) => [name, seal, openings.length, sealedAt]),
  ).toEqual([
    [id('b'), id('s'), 2, at(3)],
    [id('c'), null, 1, null],
  ]);
  expect(brokenShift(marks)).toBeNull();
  expect(brokenShift([opens('a', 0, 'bar'), opens('b', 1, 'bar')].map(mark))?.id).toBe(id('b'));
  // A seal that says nothing of what it saw was made on these books alone: it must fit.
  expect(brokenShift([opens('a', 0, 'bar'), seals('s', 1, 'bar', 'x')].map(mark))?.id).toBe(id('s'));
  expect(brokenShift([opens('a', 0, 'bar'), seals('s', 1, 'yard', 'x', {})].map(mark))).toBeNull();
});

it('a moment never runs behind what was seen, and follows no clock that is more than a minute ahead', () => {
  const now = '2026-11-20T18:00:00.000Z';
  expect(momentNow(now, '2026-11-20T18:00:30.000Z', null)).toBe('2026-11-20T18:00:30.000Z');
  expect(momentNow(now, '2026-11-20T18:01:00.001Z', null)).toBe(now);
  expect(momentNow(now, '2026-11-20T17:59:00.000Z', null)).toBe(now);
  // Of one moment stations stand in the order of their names: after a later name only the next millisecond will do.
  const seen = { at: now, station: 'yard', seq: 3 };
  expect(momentAfter(seen, 'bar')).toBe('2026-11-20T18:00:00.001Z');
  expect(momentAfter(seen, 'yard')).toBe(now);
  expect(momentAfter(seen, 'zoo')).toBe(now);
  expect(momentAfter(null, 'bar')).toBe('');
});
