// What such a weekday usually takes, and what runs out on one. Means of the same weekday: common practice, no source.
import { expect, it } from 'vitest';
import type { ShiftBooks } from '../../../src/domain/ledger/books.ts';
import { noTally } from '../../../src/domain/ledger/tally.ts';
import { outOnUsual, type Usual, usualOf } from '../../../src/domain/service/usual.ts';
import { anItem, eventIdOf, itemIdOf } from '../../support/shelf.ts';
import { counts, opens, type Step, seals, sets, stocks } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const night = (
  date: string,
  ginMl: number,
  byHour: Record<string, number> = {},
  sealedAt: string | null = `${date}T23:59:00.000Z`,
): ShiftBooks => ({
  id: eventIdOf(Number(date.replaceAll('-', ''))),
  date,
  openedAt: `${date}T17:00:00.000Z`,
  sealedAt,
  sealedBy: null,
  pouring: null,
  hands: [],
  station: 'test',
  also: [],
  drinks: new Map(),
  straight: noTally,
  lostMillis: 0,
  drawnBy: ginMl === 0 ? new Map() : new Map([[itemIdOf('gin'), new Map([['' as const, ginMl * 1000]])]]),
  prepped: new Map(),
  recent: [],
  byHour: new Map(Object.entries(byHour)),
  periods: [],
});

// 30 Oct, 6 and 13 Nov 2026 are Fridays, as 20 Nov is; 14 Nov is a Saturday.
const friday = '2026-11-20';

it('averages the same weekday and says how much nights differ', () => {
  const usual = usualOf(
    [
      night('2026-10-30', 100, { '20': 10, '21': 10 }),
      night('2026-11-06', 200, { '20': 20 }),
      night('2026-11-13', 300),
      night('2026-11-14', 9000, { '20': 500 }),
    ],
    friday,
  );
  expect(usual).toMatchObject({ weekday: 'Fri', nights: 3 });
  // Mean of 100, 200, 300; squares 100² + 0 + 100² over n − 1 = 2: deviation 100.
  expect(usual.items.get(itemIdOf('gin'))).toEqual({ mean: 200_000, deviation: 100_000 });
  // 30 of 40 drinks in the hour of eight, 10 in that of nine.
  expect([...usual.byHour]).toEqual([
    ['20', 0.75],
    ['21', 0.25],
  ]);
});

it('counts a night without the item as nothing, and leaves out tonight and what is still open', () => {
  const usual = usualOf(
    [
      night('2026-11-06', 0),
      night('2026-11-13', 300),
      night('2026-10-30', 700, {}, null),
      night(friday, 900),
    ],
    friday,
  );
  expect(usual.nights).toBe(2);
  expect(usual.items.get(itemIdOf('gin'))?.mean).toBe(150_000);
});

it('looks at the last eight such nights', () => {
  const old = night('2026-09-04', 99_000);
  const eight = ['09-11', '09-18', '09-25', '10-02', '10-09', '10-16', '10-23', '10-30'].map((day) =>
    night(`2026-${day}`, 100),
  );
  const usual = usualOf([old, ...eight], friday);
  expect(usual.nights).toBe(8);
  expect(usual.items.get(itemIdOf('gin'))).toEqual({ mean: 100_000, deviation: 0 });
});

it('says nothing where there was nothing', () => {
  const usual = usualOf([], friday);
  expect([usual.nights, usual.items.size, usual.byHour.size]).toEqual([0, 0, 0]);
});

const evening = (mean: number, deviation: number, nights = 3): Usual => ({
  weekday: 'Fri',
  nights,
  byHour: new Map([
    ['20', 0.5],
    ['21', 0.5],
  ]),
  items: new Map([[itemIdOf('gin'), { mean: mean * 1000, deviation: deviation * 1000 }]]),
});
const now = '2026-11-20T20:00:00.000Z';
const open = (ml: number, ...more: readonly Step[]) =>
  booksAfter(...more, stocks(anItem('gin')), counts('gin', ml), opens());
const clocks = (usual: Usual, ml: number) =>
  outOnUsual(open(ml), usual, now).map(({ earliest, about, latest }) =>
    [earliest, about, latest].map((instant) => instant?.slice(11, 16) ?? 'never'),
  );

it('says when a usual night empties a bottle, on a busy and on a slow one', () => {
  // An hour takes half of a night, ten minutes 1/12 = 0.0833. 240 of 1000 ml is 0.24: by the third step.
  // Busy, 1000 + 2 × 300: 0.15, the second step. Slow, 1000 − 600: 0.6, the second of the next hour.
  expect(clocks(evening(1000, 300), 240)).toEqual([['20:20', '20:30', '21:20']]);
  expect(clocks(evening(1000, 0), 700)).toEqual([['21:30', '21:30', '21:30']]);
});

it('says that on a slow night it may not run out at all', () => {
  expect(clocks(evening(1000, 600), 240)).toEqual([['20:20', '20:30', 'never']]);
});

it('says nothing of what lasts, of what is gone, of two nights, and without a shift', () => {
  expect(clocks(evening(1000, 0), 5000)).toEqual([]);
  expect(clocks(evening(1000, 0), 0)).toEqual([]);
  expect(clocks(evening(0, 0), 240)).toEqual([]);
  expect(clocks(evening(1000, 100, 2), 240)).toEqual([]);
  const sealed = booksAfter(stocks(anItem('gin')), counts('gin', 240), opens(), seals());
  expect(outOnUsual(sealed, evening(1000, 100), now)).toEqual([]);
});

it("goes by the clock on the house's wall", () => {
  // At 20:00 UTC the wall in Lisbon says 20:00 in November, in Athens 22:00: the busy hours are over.
  const at = (zone: string) => outOnUsual(open(240, sets('zone', zone)), evening(1000, 0), now).length;
  expect([at('Europe/Lisbon'), at('Europe/Athens')]).toEqual([1, 0]);
});
