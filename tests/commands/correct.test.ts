// Corrections of a sealed report: both figures kept, what is refused, and the nights on either side of a count.
import { describe, expect, it } from 'vitest';
import type { Report } from '../../src/domain/report/report.ts';
import { furnished, itemOf, sealed } from '../support/night.ts';

describe('a correction of a sealed report', () => {
  it('keeps its figures when it is corrected, and shows both', async () => {
    const night = await sealed();
    const said = await night.ok(
      'correct 60ml dry-gin --what poured --why',
      'a ticket was found',
      '--by',
      'Tom',
    );
    expect(said).toContain('240 ml missing');
    expect(said).toContain('as sealed 300 ml missing');
    await night.ok('correct -40ml dry-gin --what lost --why', 'it was water');
    const gin = itemOf(await night.json<Report>('report'), 'dry-gin');
    expect([gin.missing, gin.corrected?.missing]).toEqual([300, 280]);
    expect(gin.corrected?.corrections).toMatchObject([
      { what: 'poured', amount: 60, why: 'a ticket was found', by: 'Tom' },
      { what: 'lost', amount: -40, why: 'it was water', by: null },
    ]);
    // Stock and the next night begin from the count, as before.
    expect(
      (await night.json<{ item: string; expected: number }[]>('levels')).find((row) => row.item === 'dry-gin')
        ?.expected,
    ).toBe(1400);
    expect(await night.ok('report')).toContain('corrected after the seal: 280 ml missing');
  });

  it('is judged as it stands since: what was put right is nothing to do any more', async () => {
    const night = await sealed();
    expect(await night.ok('report')).toContain('Weigh Dry gin before and after');
    await night.ok('correct 290ml dry-gin --what poured --why', 'a ticket was found');
    const after = await night.ok('report');
    expect(after).not.toContain('Weigh Dry gin');
    expect(after).toContain('corrected after the seal');
  });

  it.each([
    ['received', 700, 1000],
    ['poured', 60, 240],
    ['lost', 60, 240],
    ['counted', 140, 160],
  ])('more %s by %d ml makes the 300 ml missing %d', async (what, amount, missing) => {
    const night = await sealed();
    await night.ok(`correct ${amount}ml dry-gin --what ${what} --why found`);
    expect(itemOf(await night.json<Report>('report'), 'dry-gin').corrected?.missing).toBe(missing);
  });

  it('a correction can be taken back, and leaves no trace in the figures', async () => {
    const night = await sealed();
    const before = await night.json<Report>('report');
    await night.ok('correct 60ml dry-gin --what poured --why found');
    await night.ok('undo');
    expect(await night.json<Report>('report')).toEqual(before);
  });

  it.each([
    ['correct 60ml dry-gin --what sold --why x', 64, 'needs --what'],
    ['correct 60ml rye --what poured --why x', 65, 'was not counted in that shift'],
    ['correct 60ml dry-gin --what poured', 65, 'needs its reason'],
    ['correct 900l dry-gin --what poured --why x', 65, 'is not a change'],
    ['correct 2 dry-gin --what poured --why x', 65, 'is kept in ml'],
    ['correct 60ml nothing --what poured --why x', 65, 'No item is called'],
    ['correct 60ml dry-gin --what poured --why x --shift 2020-01-01', 65, 'No shift is known'],
  ])('%s is refused', async (line, exit, message) => {
    const night = await sealed();
    const before = night.store((store) => [...store.allEvents()].length);
    const outcome = await night.run(line);
    expect([outcome.exit, outcome.err]).toEqual([exit, expect.stringContaining(message)]);
    expect(night.store((store) => [...store.allEvents()].length)).toBe(before);
  });

  it('an open shift needs no correction', async () => {
    const night = await sealed();
    await night.ok('open');
    const outcome = await night.run('correct 60ml dry-gin --what poured --why x');
    expect([outcome.exit, outcome.err]).toEqual([65, expect.stringContaining('still open')]);
  });

  it('a correction of a count reaches the night it closes and the night it opens, and cancels over both', async () => {
    const night = await furnished();
    await night.ok('count dry-gin 3.0');
    for (const [date, reading] of [
      ['2026-11-20', '2.5'],
      ['2026-11-21', '3.0'],
    ] as const) {
      night.at(`${date}T18:00:00.000Z`);
      await night.ok('open');
      night.later(60);
      await night.ok('count dry-gin', reading);
      await night.ok('close --seal');
    }
    night.later(60);
    await night.ok('correct 350ml dry-gin --what counted --why seen --shift 2026-11-20');
    const gin = async (...words: string[]) => itemOf(await night.json<Report>('report', ...words), 'dry-gin');
    expect((await gin('2026-11-20')).corrected?.missing).toBe(0);
    expect((await gin('2026-11-21')).corrected?.missing).toBe(0);
    expect((await gin('--from', '2026-11-20', '--to', '2026-11-21')).corrected).toBeNull();
  });
});
