// Reports asked of the store: which shift is meant, what a stretch of dates holds, what stands beside it.
import { expect, it } from 'vitest';
import { findShift, reportBetween, reportNamed, reportOfShift } from '../../src/store/reports.ts';
import type { Store } from '../../src/store/store.ts';
import { counted, furnished, type Night, openNight } from '../support/night.ts';
import { messagesOf, must } from '../support/shelf.ts';

/** Three nights: the 20th, the 21st and the 23rd, which is still open; so many Gin Straight in each. */
async function season(pours: readonly number[] = [1, 2, 4]): Promise<Night> {
  const night = await counted();
  const days = ['20', '21', '23'];
  for (const [index, day] of days.entries()) {
    night.at(`2026-11-${day}T18:00:00.000Z`);
    await night.ok('open');
    night.later(60);
    await night.ok(`pour ${pours[index]}`, 'gin straight');
    night.at(`2026-11-${day}T23:00:00.000Z`);
    if (day !== '23') await night.ok('close --seal');
  }
  return night;
}
const glasses = (night: Night, work: (store: Store) => ReturnType<typeof reportNamed>): number =>
  night.store((store) => must(work(store)).report.drinks.reduce((sum, { count }) => sum + count, 0));

it('means the last shift when none is named, else the one of that date or id', async () => {
  const night = await season();
  expect(glasses(night, (store) => reportNamed(store, undefined))).toBe(4);
  expect(glasses(night, (store) => reportNamed(store, '2026-11-21'))).toBe(2);
  const id = night.store((store) => must(findShift(store, '2026-11-20')).id);
  expect(glasses(night, (store) => reportNamed(store, id))).toBe(1);
});

it('says which dates it knows when it does not know one', async () => {
  const night = await season();
  expect(messagesOf(night.store((store) => reportNamed(store, '2026-11-22')))).toEqual([
    'No shift is known as "2026-11-22". The last ones are 2026-11-20, 2026-11-21, 2026-11-23.',
  ]);
  const fresh = await furnished();
  expect(messagesOf(fresh.store((store) => reportNamed(store, undefined)))).toEqual([
    'No shift was ever opened. Open one with ullage open.',
  ]);
  expect(openNight().store((store) => reportOfShift(store, 'none'))).toBeNull();
});

it('means the later one when two shifts have one date', async () => {
  const night = await furnished('2026-11-20T10:00:00.000Z');
  for (const hour of ['12', '19']) {
    night.at(`2026-11-20T${hour}:00:00.000Z`);
    await night.ok('open');
    night.later(60);
    await night.ok('pour', hour === '12' ? 'gin straight' : 'rye lamp');
    night.later(60);
    await night.ok('close --seal');
  }
  const report = night.store((store) => must(reportNamed(store, '2026-11-20')).report);
  expect(report.drinks.map(({ name }) => name)).toEqual(['Rye Lamp']);
});

it('adds up a stretch of dates, open at either end', async () => {
  const night = await season();
  const between = (from?: string, to?: string) =>
    glasses(night, (store) => reportBetween(store, { from, to }));
  expect(between()).toBe(7);
  expect(between('2026-11-21')).toBe(6);
  expect(between(undefined, '2026-11-21')).toBe(3);
  expect(between('2026-11-21', '2026-11-22')).toBe(2);
});

it('knows the books at both ends of a stretch', async () => {
  const night = await season();
  const reported = night.store((store) => must(reportBetween(store, { from: '2026-11-21' })));
  expect(reported.before?.shift?.date).toBe('2026-11-20');
  expect(reported.books.shift?.date).toBe('2026-11-23');
  expect(reported.shifts).toHaveLength(2);
  expect(reported.report.shift).toMatchObject({ date: '2026-11-21', to: '2026-11-23', shifts: 2 });
  expect(night.store((store) => must(reportBetween(store, {})).before)).toBeNull();
});

it('refuses what is no date, and a stretch without a shift', async () => {
  const night = await season();
  const said = (from: string, to?: string) =>
    messagesOf(night.store((store) => reportBetween(store, { from, to })));
  expect(said('last week')).toEqual(['--from and --to take dates. Write them as 2026-11-20.']);
  expect(said('2026-02-30')).toHaveLength(1);
  expect(said('2026-11-22', '2026-11-22')).toEqual([
    'No shift lies between these dates. Run ullage log to see when there were some.',
  ]);
  expect(said('2026-11-23', '2026-11-20')).toHaveLength(1);
});

it('sets lines of the till beside the night they belong to, the last round after the seal too', async () => {
  const night = await season();
  night.at('2026-11-24T02:00:00.000Z');
  const sell = (soldAt: string, count: number) => ({
    kind: 'drink-sold' as const,
    shift: null,
    by: null,
    drink: 'Gin Straight',
    count,
    soldAt,
    priceMinor: null,
    seller: null,
  });
  // Between the seal of the 20th at 23:00 and the opening of the 21st at 18:00 the middle is 08:30.
  night.store((store) =>
    store.record(() => ({
      ok: true,
      value: [sell('2026-11-20T23:10:00.000Z', 1), sell('2026-11-21T08:31:00.000Z', 5)],
    })),
  );
  const sold = (date: string) =>
    night.store((store) => must(reportNamed(store, date)).report.till?.[0]?.sold ?? 0);
  expect([sold('2026-11-20'), sold('2026-11-21'), sold('2026-11-23')]).toEqual([1, 5, 0]);
});
