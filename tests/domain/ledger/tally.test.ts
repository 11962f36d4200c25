// What a shift adds up to, and that any stretch of nights is the difference of two running totals.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { Event } from '../../../src/domain/ledger/event.ts';
import {
  addHour,
  addToTally,
  costOfTally,
  newShift,
  noTally,
  type Poured,
  subtractTallies,
  withPour,
} from '../../../src/domain/ledger/tally.ts';
import { eventIdOf, specIdOf } from '../../support/shelf.ts';
import { at, opens, pours, type Step, straight } from '../../support/steps.ts';
import { told } from '../../support/told.ts';

const pouredOf = (...steps: readonly Step[]): Poured[] =>
  told(steps).filter(
    (event: Event): event is Poured => event.kind === 'drink-poured' || event.kind === 'measure-poured',
  );
const tallyOf = (...steps: readonly Step[]) => pouredOf(...steps).reduce(addToTally, noTally);

it('adds up glasses, money and cost by what they were poured as', () => {
  const tally = tallyOf(
    pours('quay', 2, [['gin', 120, 360_000]], { price: 1200 }),
    pours('quay', 1, [['gin', 60, 180_000]], { as: 'comp', price: 1200 }),
    straight(3, ['gin', 120, 360_000], { as: 'staff' }),
  );
  // Two sold at 12.00; a comp and a straight measure bring no money.
  expect(tally).toEqual({
    count: 6,
    as: { sale: 2, comp: 1, staff: 3, remake: 0, training: 0 },
    soldMinor: 2400,
    costAs: { sale: 360_000, comp: 180_000, staff: 360_000, remake: 0, training: 0 },
  });
  expect(costOfTally(tally)).toBe(900_000);
});

it('counts a drink without a price or a cost as a drink without money', () => {
  expect(tallyOf(pours('quay', 1, [['gin', 60]]))).toMatchObject({ count: 1, soldMinor: 0 });
  expect(costOfTally(tallyOf(pours('quay', 1, [['gin', 60]])))).toBe(0);
  expect(costOfTally(noTally)).toBe(0);
});

it('gives back by subtraction what was added since', () => {
  const pour = fc
    .tuple(
      fc.integer({ min: 1, max: 9 }),
      fc.constantFrom('sale', 'comp', 'staff', 'remake', 'training'),
      fc.nat(5000),
      fc.nat(1_000_000),
    )
    .map(([count, as, price, cost]) =>
      pours('quay', count, [['gin', 60, cost]], { as: as as 'sale', price }),
    );
  fc.assert(
    fc.property(fc.array(pour, { maxLength: 6 }), fc.array(pour, { maxLength: 6 }), (before, after) => {
      expect(subtractTallies(tallyOf(...before, ...after), tallyOf(...before))).toEqual(tallyOf(...after));
    }),
  );
});

it("counts by the hour on the house's wall", () => {
  const pour = (instant: string, count: number) =>
    pouredOf(at(instant, pours('quay', count, [['gin', 60]])))[0] as Poured;
  let hours: ReadonlyMap<string, number> = new Map();
  hours = addHour(hours, pour('2026-11-20T23:30:00.000Z', 2), 'Europe/Berlin');
  hours = addHour(hours, pour('2026-11-20T23:59:00.000Z', 1), 'Europe/Berlin');
  hours = addHour(hours, pour('2026-11-20T22:00:00.000Z', 4), 'Europe/Berlin');
  // Berlin is an hour ahead of UTC in November.
  expect([...hours]).toEqual([
    ['00', 3],
    ['23', 4],
  ]);
});

const shift = newShift(told(opens('2026-11-20', 'ines'))[0] as Extract<Event, { kind: 'shift-opened' }>);
const inShift = { shift: shift.id };

it('opens empty, with who opened it pouring', () => {
  expect(shift).toMatchObject({ date: '2026-11-20', sealedAt: null, pouring: 'ines', straight: noTally });
  expect([shift.drinks.size, shift.recent.length, shift.byHour.size]).toEqual([0, 0, 0]);
});

it('notes a pour under its drink, its items and its hour', () => {
  const [event] = pouredOf(
    pours(
      'quay',
      2,
      [
        ['gin', 120],
        ['plum', 40],
      ],
      { ...inShift, by: 'ines' },
    ),
  );
  const next = withPour(shift, event as Poured, specIdOf('quay'), '2 quay', 'UTC');
  expect(next.drinks.get(specIdOf('quay'))?.count).toBe(2);
  expect([...next.drawnBy].map(([item, by]) => [item, ...by.entries()])).toEqual([
    ['gin', ['quay', 120_000]],
    ['plum', ['quay', 40_000]],
  ]);
  expect(next.recent).toMatchObject([{ text: '2 quay', by: 'ines', count: 2, as: 'sale' }]);
  expect(next.straight).toEqual(noTally);
  // What was before is left as it was.
  expect([shift.drinks.size, shift.drawnBy.size]).toEqual([0, 0]);
});

it('keeps straight measures apart from drinks', () => {
  const [event] = pouredOf(straight(2, ['gin', 80], inShift));
  const next = withPour(shift, event as Poured, null, '2 × 40 ml gin', 'UTC');
  expect([next.drinks.size, next.straight.count]).toEqual([0, 2]);
  expect([...(next.drawnBy.get('gin' as never) ?? [])]).toEqual([['', 80_000]]);
});

it('leaves a shift alone when the pour is of another', () => {
  for (const other of [null, eventIdOf(77)]) {
    const [event] = pouredOf(pours('quay', 2, [['gin', 120]], { shift: other }));
    expect(withPour(shift, event as Poured, specIdOf('quay'), 'x', 'UTC')).toBe(shift);
  }
});

it('has the last two dozen pours at hand, the newest last', () => {
  const events = pouredOf(...Array.from({ length: 30 }, () => pours('quay', 1, [['gin', 60]], inShift)));
  const full = events.reduce(
    (sum, event, index) => withPour(sum, event, specIdOf('quay'), `pour ${index + 1}`, 'UTC'),
    shift,
  );
  expect(full.recent.map(({ text }) => text)).toEqual(Array.from({ length: 24 }, (_, n) => `pour ${n + 7}`));
  expect(full.drinks.get(specIdOf('quay'))?.count).toBe(30);
});
