// The reports of the demo's four weeks: as they stand in the golden files, and as a second computation has them that shares
// no code with the program. To renew a golden file after a change that is meant: run the command in its name, read the
// difference, and say in the commit why it moved.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Report } from '../../src/domain/report/report.ts';
import { demoFile, demoText, type Night, openNight } from '../support/night.ts';
import { independent } from './independent.ts';

const golden = (name: string): string => readFileSync(new URL(name, import.meta.url), 'utf8');

const weeks = [
  ['2026-10-26', '2026-11-01'],
  ['2026-11-02', '2026-11-08'],
  ['2026-11-09', '2026-11-15'],
  ['2026-11-16', '2026-11-22'],
] as const;

async function demo(): Promise<Night> {
  const night = openNight('2026-11-25T12:00:00.000Z', 'demo');
  await night.ok('import', demoFile('events.jsonl'));
  return night;
}

function agrees(report: Report, from: string, to: string): void {
  const own = independent(demoText('events.jsonl'), from, to);
  // The demo counts everything in every week: no row is left out.
  expect(report.items.length).toBeGreaterThan(0);
  for (const row of report.items) {
    expect({
      item: row.item,
      opening: row.opening,
      received: row.received,
      poured: row.poured,
      lost: row.lost,
      moved: row.movedIn - row.movedOut,
      expected: row.expected,
      counted: row.counted,
      missing: row.missing,
      uncertainty: row.uncertainty,
      verdict: row.verdict,
      cost: row.missingCostMinor,
    }).toEqual(own.items.find(({ item }) => item === row.item));
  }
  expect(Object.fromEntries(report.drinks.map(({ spec, count }) => [spec, count]))).toEqual(own.drinks);
  expect(report.totals.soldMinor).toBe(own.sold);
  expect(report.totals.pouredCostMinor).toBe(own.pouredCost);
  expect(report.purposes.find(({ as }) => as === 'comp')?.costMinor ?? 0).toBe(own.compCost);
}

describe('the four weeks', () => {
  it.each(weeks)('from %s to %s', async (from, to) => {
    const night = await demo();
    const csv = join(night.folder, 'week.csv');
    const report = await night.json<Report>('report --from', from, '--to', to, '--csv', csv);
    expect(readFileSync(csv, 'utf8')).toBe(golden(`report-from-${from}-to-${to}.csv`));
    expect(report.items.filter(({ counted }) => counted !== null).length).toBeGreaterThan(50);
    agrees(report, from, to);
  });

  it('all four together: one long stretch', async () => {
    const night = await demo();
    agrees(await night.json<Report>('report --from 2026-10-26 --to 2026-11-22'), '2026-10-26', '2026-11-22');
  });

  it('every single night', async () => {
    const night = await demo();
    const shifts = night.store((store) => store.shifts().map(({ date }) => date));
    expect(shifts).toHaveLength(28);
    for (const date of shifts) agrees(await night.json<Report>('report', date), date, date);
  });
});

it('the last night as text, on a strip of paper, and its book-keeping', async () => {
  const night = await demo();
  expect(await night.ok('report')).toBe(golden('report.txt'));
  expect(await night.ok('report --receipt')).toBe(golden('report-receipt.txt'));
  expect(await night.ok('costs --from 2026-11-16')).toBe(golden('costs-from-2026-11-16.txt'));
});
