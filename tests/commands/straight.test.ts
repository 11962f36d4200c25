// Straight measures have prices: of the item by measure, else by the house's rule; they count in sales, in standard and at the till.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import type { Report } from '../../src/domain/report/report.ts';
import { type Night, stocked } from '../support/night.ts';
import { openRooms } from '../support/rooms.ts';

const closing = (night: Night): Promise<Report> => night.json<Report>('close');

/** Gin at 18.90 for 700 ml with prices of its own for 25 and 50 ml. */
async function priced(): Promise<Night> {
  const night = await stocked();
  const file = join(night.folder, 'prices.csv');
  writeFileSync(
    file,
    'id,name,also,kind,size,abv,cost,place,shelf,count,prices\ndry-gin,Dry gin,gin,spirit,700 ml,40,18.90,bar,1,tenths,25 ml 4.50; 50 ml 8.00\n',
  );
  await night.ok('import', file);
  return night;
}

it('a measure is sold at its own price, in sales and in standard', async () => {
  const night = await priced();
  await night.ok('pour 2 25ml', 'dry gin');
  await night.ok('pour 50ml', 'dry gin');
  await night.ok('pour 25ml', 'dry gin', '--as', 'comp');
  const { totals, straight, straightSoldMinor } = await closing(night);
  expect([straight, straightSoldMinor, totals.soldMinor]).toEqual([4, 1700, 1700]);
  // 100 ml at 18.90 ÷ 700 ml are 2.70.
  expect([totals.standardCostMinor, totals.standardPercent]).toEqual([270, 15.88]);
  expect(await night.ok('close')).toContain('And 4 straight measures, sold for 17.00 EUR.');
});

it('without one the house may have a rule: its cost is so much of the price, raised to the next step', async () => {
  const night = await priced();
  await night.ok('pour 35ml', 'dry gin');
  expect((await closing(night)).totals.soldMinor).toBe(0);
  await night.ok('house straight-pour-cost 20');
  await night.ok('house price-step 50');
  // 35 ml cost 0.945; at 20 % that is 4.725, raised to 5.00.
  await night.ok('pour 35ml', 'dry gin');
  expect((await closing(night)).totals.soldMinor).toBe(500);
});

it('stands in the card and in the price of a round', async () => {
  const night = await priced();
  night.store((store) => {
    const at = openRooms(store, night.world.now, { columns: 100, rows: 30 });
    at.press('2 x 25 ml gin');
    expect(at.screen()).toMatch(/2 × 25 ml Dry gin +9\.00/);
    at.press('esc', '2 x 25 ml gin, 1 lan');
    expect(at.screen()).toMatch(/one round, 3 drinks +23\.00/);
  });
});

it('is known at the till by its measure, however it is written', async () => {
  const night = await priced();
  await night.ok('pour 2 25ml', 'dry gin');
  night.later(30);
  const till = join(night.folder, 'till.csv');
  writeFileSync(
    till,
    'time,drink,quantity\n2026-11-20 17:40,25 ml gin,1\n2026-11-20 17:41,Dry Gin 25ml,1\n2026-11-20 17:42,gin 50 ml,1\n',
  );
  await night.ok('import', till);
  const report = await closing(night);
  expect(report.till).toMatchObject([
    { match: 'straight', sold: 4, logged: 2, difference: 2, measure: { item: 'dry-gin', amount: 25 } },
  ]);
  expect(report.items.find(({ item }) => item === 'dry-gin')?.unlogged).toBe(50);
});

it('comes back from its own export, and a price that is none is named with its line', async () => {
  const night = await priced();
  const csv = await night.ok('export items');
  expect(csv).toContain('25 ml 4.50; 50 ml 8.00');
  const file = join(night.folder, 'again.csv');
  writeFileSync(file, csv);
  expect(await night.ok('import', file)).toContain('0 ');
  writeFileSync(file, 'id,name,kind,size,prices\nx,X,spirit,700 ml,25 ml free\n');
  const bad = await night.run('import', file);
  expect([bad.exit, bad.err]).toEqual([65, expect.stringContaining('Write it as 25 ml 4.50; 50 ml 8.00')]);
});

it('what the till sold beyond what was logged is exact, though sold and logged are said to a tenth', async () => {
  const night = await priced();
  await night.ok('pour 1 175ml', 'dry gin');
  night.later(30);
  const till = join(night.folder, 'till.csv');
  writeFileSync(till, 'time,drink,quantity\n2026-11-20 17:40,700 ml gin,1\n');
  await night.ok('import', till);
  const report = await closing(night);
  // 700 less 175; 0.3 of a bottle would make it 490.
  expect(report.till).toMatchObject([{ sold: 1, logged: 0.3, measure: { amount: 700, off: 525 } }]);
  expect(report.items.find(({ item }) => item === 'dry-gin')?.unlogged).toBe(525);
});
