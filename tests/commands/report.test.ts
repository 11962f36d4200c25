// The report of a sealed night: who poured and sealed, what stays as the seal left it, slips over two nights.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Report, ReportItem } from '../../src/domain/report/report.ts';
import { furnished, itemOf, sealed, stocked } from '../support/night.ts';
import { openRooms } from '../support/rooms.ts';

describe('a sealed report', () => {
  it('names who sealed it, who poured, what was not sold and what was lost', async () => {
    const night = await sealed();
    const report = await night.json<Report>('report');
    expect(report.shift.sealedBy).toBe('Mara');
    expect(itemOf(report, 'dry-gin')).toMatchObject({
      pouredBy: [
        { name: 'Ines', amount: 300 },
        { name: 'Tom', amount: 60 },
      ],
      pouredAs: [{ name: 'comp', amount: 60 }],
      lostTo: [{ name: 'spill', amount: 40 }],
      missing: 300,
    });
    expect(report.purposes.map(({ as, count }) => [as, count])).toEqual([
      ['sale', 5],
      ['comp', 1],
    ]);
    expect(report.hours).toEqual([{ hour: '17', count: 6 }]);
  });

  it('a sealed night stays as its seal left it, whatever the next day brings', async () => {
    const night = await sealed();
    const before = await night.json<Report>('report');
    await night.ok('receive 6 rye --cost 99.00');
    await night.ok('lose 500ml rye --why breakage');
    expect(await night.json<Report>('report')).toEqual(before);
    expect(await night.json<Report>('report 2026-11-20')).toEqual(before);
  });

  it('a second look after the seal is a count of its own', async () => {
    const night = await sealed();
    const first = night.books().shift?.id as string;
    await night.ok('open');
    await night.ok('count dry-gin 2.5 --again');
    expect(itemOf(await night.json<Report>('close'), 'dry-gin')).toMatchObject({
      opening: 1400,
      counted: 1750,
      poured: 0,
    });
    expect(itemOf(await night.json<Report>('report', first), 'dry-gin').missing).toBe(300);
    expect((await night.run('report 2026-11-20')).err).toContain(
      `2 shifts have that date, and this is the last. The other: ${first}`,
    );
  });
});

describe('two nights that cancel', () => {
  async function twoNights(first: string, second: string): Promise<ReportItem> {
    const night = await furnished();
    await night.ok('count dry-gin 3.0');
    for (const reading of [first, second]) {
      await night.ok('open --by Ines');
      night.later(60);
      await night.ok('count dry-gin', reading);
      await night.ok('close --seal');
      night.later(24 * 60);
    }
    return itemOf(await night.json<Report>('report'), 'dry-gin');
  }

  it('are called a likely count slip', async () => {
    const row = await twoNights('2.0', '3.0');
    expect(row).toMatchObject({ missing: -700, slip: { before: 700, together: 0 } });
  });
  it('but not when the second stays missing, nor when only a part comes back', async () => {
    expect((await twoNights('2.0', '2.0')).slip).toBeNull();
    expect((await twoNights('2.0', '1.0')).slip).toBeNull();
    expect((await twoNights('2.0', '2.6')).slip).toBeNull();
  });
});

describe('what was lost', () => {
  it('stands loss by loss in the report, the dearest first, and adds up to its sum; who only where people are named', async () => {
    const night = await stocked();
    await night.ok('lose', '40ml dry gin', '--why', 'spill', '--by', 'Ines');
    night.later(5);
    await night.ok('lose', '1 bottle straight rye', '--why', 'breakage', '--by', 'Tom');
    night.later(5);
    await night.ok('lose', '2 egg white', '--why', 'spoiled');
    await night.ok('undo');
    const report = JSON.parse(await night.ok('close --json')) as Report;
    expect(
      report.losses.map(({ item, amount, containers, why, by, costMinor }) => [
        item,
        amount,
        containers,
        why,
        by,
        costMinor,
      ]),
    ).toEqual([
      ['rye', 700, '1 × 700 ml', 'breakage', 'Tom', 2800],
      ['dry-gin', 40, null, 'spill', 'Ines', 108],
    ]);
    expect(report.totals.lostCostMinor).toBe(2908);
    const text = await night.ok('close');
    expect(text).toMatch(
      /28\.00 {4}1 × 700 ml Straight rye, breakage, \d\d:\d\d\n +1\.08 {4}40 ml Dry gin, spill, \d\d:\d\d/,
    );
    expect(await night.ok('close --people')).toMatch(/breakage, Tom, \d\d:\d\d/);
    const page = join(night.folder, 'r.html');
    await night.ok('close --html', page);
    const html = readFileSync(page, 'utf8');
    expect(html).toContain('<h2>What went</h2>');
    expect(html).not.toContain('breakage, Tom');
    night.store((store) => {
      const at = openRooms(store, night.world.now, { columns: 120, rows: 40 });
      at.press('tab', 'tab', 'tab');
      expect(at.screen()).toMatch(/lost 29\.08 EUR at cost/);
      expect(at.screen()).toContain('1 × 700 ml Straight rye, breakage, Tom');
    });
  });

  it('over a stretch each is worth what it cost that night, and the list comes to its sum', async () => {
    const night = await stocked();
    await night.ok('lose', '700ml dry gin', '--why', 'spill');
    await night.ok('pour 2 25ml', 'dry gin');
    await night.ok('close --seal');
    night.later(20 * 60);
    await night.ok('receive 6', 'dry gin', '--cost', '30.00');
    await night.ok('open');
    await night.ok('lose', '700ml dry gin', '--why', 'spoiled');
    await night.ok('pour 3 25ml', 'dry gin');
    const report = await night.json<Report>('report --from 2026-01-01');
    expect(report.losses.map(({ costMinor }) => costMinor)).toEqual([3000, 1890]);
    expect(report.totals.lostCostMinor).toBe(4890);
    expect(report.straights).toEqual([{ item: 'dry-gin', amount: 125 }]);
    // The hour alone says little of several nights.
    expect(await night.ok('report --from 2026-01-01')).toMatch(/spill, Fri 20 Nov \d\d:\d\d/);
    night.later(60);
    const till = join(night.folder, 'till.csv');
    writeFileSync(
      till,
      'time,drink,quantity\n2026-11-20 18:40,25 ml dry gin,2\n2026-11-21 14:01,25 ml gin,4\n',
    );
    await night.ok('import', till);
    expect((await night.json<Report>('report --from 2026-01-01')).till).toMatchObject([
      { match: 'straight', sold: 6, logged: 5, difference: 1 },
    ]);
  });

  it('between two nights it is in the one that comes', async () => {
    const night = await stocked();
    await night.ok('close --seal');
    night.later(30);
    await night.ok('lose', '1 bottle dry gin', '--why', 'breakage');
    night.later(30);
    await night.ok('open');
    await night.ok('close --seal');
    const lossesOf = async (line: string) => (JSON.parse(await night.ok(line)) as Report).losses.length;
    expect(await lossesOf('report --json')).toBe(1);
    const [first] = night.store((store) => store.shifts());
    expect(await lossesOf(`report ${first?.id} --json`)).toBe(0);
    expect(await lossesOf('report --from 2026-01-01 --json')).toBe(1);
  });
});
