// A reading beyond what can be there: counted and marked, and it touches no sum and nobody's figures until somebody says that it is so.
import { expect, it } from 'vitest';
import type { Report } from '../../src/domain/report/report.ts';
import { itemOf, type Night, stocked } from '../support/night.ts';

const closing = (night: Night): Promise<Report> => night.json<Report>('close');

async function wild(): Promise<Night> {
  const night = await stocked();
  await night.ok('pour 5 rye-lamp');
  night.later(60);
  await night.ok('count dry-gin 1.9');
  // 0.9 l stood there, 300 ml were poured: 85 bottles are a slip of the hand.
  expect(await night.ok('count rye 85.7')).toContain('kept as improbable');
  return night;
}

it('is marked, is in no sum, and stands first in what to do', async () => {
  const night = await wild();
  const report = await closing(night);
  const [rye, gin] = [itemOf(report, 'rye'), itemOf(report, 'dry-gin')];
  expect([rye.improbable, rye.counted, rye.verdict]).toEqual([true, 59_990, 'real']);
  expect(report.totals.missingCostMinor).toBe(gin.missingCostMinor);
  expect(report.totals.actualPercent).toBeGreaterThan(0);
  const text = await night.ok('close');
  expect(text).toMatch(/Straight rye .*improbable/);
  expect(text).toMatch(/Count Straight rye again: 59.990 ml is more than was ever there/);
});

it('is so when somebody says so, with a flag or with an exclamation mark', async () => {
  const night = await wild();
  await night.ok('count rye 85.7 --again --sure');
  expect(itemOf(await closing(night), 'rye')).toMatchObject({ improbable: false, lookedTwice: true });
  await night.ok('count rye', '84.7!', '--again');
  expect(itemOf(await closing(night), 'rye')).toMatchObject({ improbable: false, counted: 59_290 });
});

it('is mended by a second look, by a delivery that was not entered, and by what stood elsewhere', async () => {
  const looked = await wild();
  await looked.ok('count rye 0.8 --again');
  expect(itemOf(await closing(looked), 'rye').improbable).toBe(false);
  const delivered = await wild();
  await delivered.ok('receive 85 rye --at 2026-11-20T17:40:00Z');
  expect(itemOf(await closing(delivered), 'rye').improbable).toBe(false);
  const carried = await stocked();
  await carried.ok('receive 85 rye --place store');
  await carried.ok('count rye 85.7 --place bar');
  expect(itemOf(await closing(carried), 'rye').improbable).toBe(false);
});

it('one bottle too many is asked about, and is told as what it is: no impossibility', async () => {
  const night = await stocked();
  expect(await night.ok('count rye 2.4')).toContain('Look again');
  expect(itemOf(await closing(night), 'rye')).toMatchObject({ improbable: false, verdict: 'real' });
});

it('is no stock: the books go on from what they expected, and the next count from the last one that can be so', async () => {
  const night = await wild();
  const stock = () => [...night.books().stock.values()].find(({ item }) => item === 'rye');
  expect(stock()?.amount).toBe(750_000);
  await night.ok('pour 1 rye-lamp');
  expect(stock()?.amount).toBe(690_000);
  // A plain count, a second look at it: neither is measured against the slip.
  await night.ok('count rye 1.0');
  expect(itemOf(await closing(night), 'rye')).toMatchObject({
    improbable: false,
    opening: 1050,
    poured: 360,
  });
  await night.ok('count rye 0.9 --again');
  expect(itemOf(await closing(night), 'rye')).toMatchObject({ improbable: false, expected: 690 });
  expect(await night.ok('check')).toBe('');
});

it('stays out of the trends: the two nights around it are one stretch there', async () => {
  const night = await wild();
  await night.ok('close --seal');
  night.later(20 * 60);
  await night.ok('open');
  await night.ok('pour 2 rye-lamp');
  await night.ok('count rye 0.6');
  await night.ok('close --seal');
  const drift = await night.json<{ items: { item: string; counts: number }[] }>('drift');
  expect(drift.items.find(({ item }) => item === 'rye')?.counts).toBe(1);
  expect(await night.ok('check')).toBe('');
});

it('as a second look it replaces nothing: the first one stands, and the books add up', async () => {
  const night = await stocked();
  night.later(60);
  await night.ok('count rye 0.8');
  await night.ok('count rye 85.7 --again');
  const stock = night.books().stock.get('rye\nbar');
  expect([stock?.amount, stock?.counted?.improbable]).toEqual([560_000, true]);
  expect(await night.ok('check')).toBe('');
});
