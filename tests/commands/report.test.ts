// The report of a sealed night: who poured and sealed, what stays as the seal left it, slips over two nights.
import { describe, expect, it } from 'vitest';
import type { Report, ReportItem } from '../../src/domain/report/report.ts';
import { furnished, itemOf, sealed } from '../support/night.ts';

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
