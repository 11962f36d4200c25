// A scripted night through the commands, and the reports the arithmetic demands.
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { intendHandover } from '../../src/domain/intent/intend-shift.ts';
import type { Report } from '../../src/domain/report/report.ts';
import type { PersonId } from '../../src/domain/value/ids.ts';
import { writeText } from '../../src/shell/disk/files.ts';
import { furnished, openNight, stocked } from '../support/night.ts';

describe('the worked bar example (our own, computed by hand)', () => {
  it('opening 1,960, received 4,200, out 700, poured 2,920, lost 50, counted 2,310: 180 ml missing, real', async () => {
    const night = openNight();
    const items = join(night.folder, 'i.csv');
    const specs = join(night.folder, 's.txt');
    writeText(
      items,
      'id,name,kind,size,cost,place\nspirit-x,Spirit X,spirit,700 ml,18.90,bar\nsoda,Soda,mixer,1 l,1.00,bar\n',
    );
    writeText(
      specs,
      '# X Straight\nprice: 6.50\n40 ml spirit x\ndo: pour\n\n# X Long\n20 ml spirit x\n100 ml soda\ndo: build\n',
    );
    await night.ok('import', items, specs);
    await night.ok('count', 'spirit x', '2.8');
    night.later(30);
    await night.ok('open');
    await night.ok('receive 6', 'spirit x', '--cost', '18.90');
    await night.ok('move 1', 'spirit x', '--from', 'bar', '--to', 'store');
    for (let pours = 0; pours < 70; pours += 1) {
      night.later(1);
      await night.ok('pour', 'x straight');
    }
    for (let pours = 0; pours < 6; pours += 1) await night.ok('pour', 'x long', '--as', 'staff');
    await night.ok('lose 50ml', 'spirit x', '--why', 'spill');
    night.later(60);
    await night.ok('count', 'spirit x', '3.3');
    const report = await night.json<Report>('close');
    const row = report.items.find(({ item }) => item === 'spirit-x');
    expect(row).toMatchObject({
      unit: 'ml',
      opening: 1960,
      received: 4200,
      movedIn: 0,
      movedOut: 700,
      poured: 2920,
      lost: 50,
      expected: 2490,
      counted: 2310,
      used: 3150,
      missing: 180,
      uncertainty: 62.9,
      missingPercent: 6.164,
      missingCostMinor: 486,
      verdict: 'real',
    });
    expect(report.totals).toMatchObject({ missingCostMinor: 486, soldMinor: 45500 });
    // 7,884 of Spirit X as the example says, and 6 × 100 ml of soda at 0.1 cents a ml.
    expect(report.totals.pouredCostMinor).toBe(7884 + 60);
  });
});

describe('a night', () => {
  it('pours, takes back, counts and reports', async () => {
    const night = await furnished();
    await night.ok('count', 'dry gin', '2.0');
    await night.ok('count', 'egg white', '12');
    night.later(10);
    await night.ok('open --by Ines');
    await night.ok('pour 2', 'lantern sour');
    night.later(1);
    await night.ok('pour', 'lamp sour', '--by', 'Tom', '--as', 'comp');
    await night.ok('pour', 'lantern sour');
    await night.ok('undo');
    night.later(1);
    await night.ok('count', 'dry gin', '1.7');
    await night.ok('count', 'egg white', '8');
    const report = await night.json<Report>('close --seal');
    expect(report.shift.status).toBe('sealed');
    expect(report.drinks).toEqual([
      { spec: 'lantern-sour', name: 'Lantern Sour', count: 3, as: { sale: 2, comp: 1 }, soldMinor: 2800 },
    ]);
    expect(report.items.find(({ item }) => item === 'dry-gin')).toMatchObject({
      opening: 1400,
      poured: 180,
      expected: 1220,
      counted: 1190,
      missing: 30,
      verdict: 'within-count-error',
    });
    expect(report.items.find(({ item }) => item === 'egg-white')).toMatchObject({
      unit: 'each',
      expected: 9,
      counted: 8,
      missing: 1,
      uncertainty: 0,
      verdict: 'real',
    });
    expect(report.items.find(({ item }) => item === 'rye')).toBeUndefined();
    expect((await night.run('close')).exit).toBe(65);
    expect(await night.json<Report>('report 2026-11-20')).toEqual(report);
    expect(await night.ok('check')).toBe('');
  });

  it('draws what was really used when one pour is changed', async () => {
    const night = await furnished();
    await night.ok('open');
    const event = await night.json<{ draws: { item: string; amount: number }[]; changes: string[] }>(
      'pour',
      'lantern sour',
      '--with',
      'gin=45ml',
      '--with',
      '-egg white',
      '--with',
      '+15ml lemon juice',
      '--with',
      'gin->rye',
    );
    expect(event.draws.map(({ item, amount }) => [item, amount])).toEqual([
      ['rye', 45_000],
      ['lemon-juice', 35_000],
      ['simple-syrup', 10_000],
      ['aromatic-bitters', 1800],
    ]);
    expect(event.changes).toHaveLength(4);
  });

  it('never lets a later spec, cost or size touch what was poured', async () => {
    const night = await furnished();
    await night.ok('count', 'dry gin', '2.0');
    await night.ok('open');
    await night.ok('pour 10', 'gin straight');
    const before = await night.json<Report>('close');
    const specs = join(night.folder, 'new.txt');
    writeText(specs, '# Gin Straight\nprice: 9.00\n60 ml dry gin\ndo: pour\n');
    await night.ok('import', specs);
    await night.ok('receive 1', 'dry gin', '--cost', '40.00');
    const after = await night.json<Report>('close');
    expect(after.totals).toMatchObject({
      pouredCostMinor: before.totals.pouredCostMinor,
      soldMinor: before.totals.soldMinor,
    });
    expect(after.items.find(({ item }) => item === 'dry-gin')?.poured).toBe(400);
  });

  it('keeps both readings of a second look and judges the later one', async () => {
    const night = await furnished();
    await night.ok('count', 'dry gin', '2.0');
    await night.ok('open');
    await night.ok('pour 5', 'gin straight');
    await night.ok('count', 'dry gin', '0.7');
    await night.ok('count', 'dry gin', '1.7', '--again');
    const report = await night.json<Report>('close');
    expect(report.items.find(({ item }) => item === 'dry-gin')).toMatchObject({
      opening: 1400,
      poured: 200,
      counted: 1190,
      missing: 10,
    });
    expect(
      (await night.json<{ kind: string }[]>('log')).filter(({ kind }) => kind === 'stock-counted'),
    ).toHaveLength(3);
  });

  it('judges what happened between two counts even when nothing was poured', async () => {
    const night = await furnished();
    await night.ok('open');
    await night.ok('count', 'dry gin', '2.0');
    night.later(1);
    await night.ok('count', 'dry gin', '1.0');
    const report = await night.json<Report>('close');
    expect(report.items.find(({ item }) => item === 'dry-gin')).toMatchObject({
      opening: 1400,
      missing: 700,
      verdict: 'real',
      missingPercent: null,
    });
  });

  it('takes late entries where they belong, and refuses the future and the sealed', async () => {
    const night = await furnished();
    await night.ok('count', 'dry gin', '2.0');
    await night.ok('open');
    night.later(60);
    await night.ok('count', 'dry gin', '1.9');
    night.later(10);
    await night.ok('pour 2', 'gin straight', '--at', '2026-11-20T17:30:00Z');
    const row = (await night.json<Report>('close')).items.find(({ item }) => item === 'dry-gin');
    expect(row).toMatchObject({ poured: 80, expected: 1320, counted: 1330 });
    expect((await night.run('pour', 'gin straight', '--at', '2027-01-01T00:00:00Z')).err).toContain('future');
    await night.ok('close --seal');
    night.later(60);
    await night.ok('open');
    const late = await night.run('receive 1', 'dry gin', '--at', '2026-11-20T17:45:00Z');
    expect(late).toMatchObject({ exit: 65, out: '' });
    expect(late.err).toContain('seal');
  });

  it('judges an item counted weekly weekly', async () => {
    const night = await furnished();
    await night.ok('count', 'dry gin', '5.0');
    for (let day = 0; day < 3; day += 1) {
      await night.ok('open');
      await night.ok('pour 5', 'gin straight');
      night.later(300);
      if (day === 2) await night.ok('count', 'dry gin', '4.0');
      const row = (await night.json<Report>('close --seal')).items.find(({ item }) => item === 'dry-gin');
      if (day < 2)
        expect(row).toMatchObject({
          verdict: 'not-counted',
          counted: null,
          used: null,
          missing: null,
          poured: 200 * (day + 1),
        });
      else expect(row).toMatchObject({ opening: 3500, poured: 600, counted: 2800, missing: 100 });
      night.later(1140);
    }
  });
});

it('a late entry says when it was and goes to the hand of its moment, not to who pours now', async () => {
  const night = await stocked();
  night.later(60);
  await night.ok('pour 1 rye-lamp');
  const opened = night.world.now();
  night.store((store) => store.record((books) => intendHandover(books, 'tom' as PersonId)));
  night.later(30);
  const clock = (minutes: number): string => new Date(opened + minutes * 60_000).toISOString().slice(11, 16);
  expect(await night.ok('pour', '2 rye lamp 40 ago')).toContain(
    `Poured 2 Rye Lamp, at ${clock(-10)} by Ines`,
  );
  expect(await night.ok('pour', '3 rye lamp 20 ago')).toContain(`Poured 3 Rye Lamp, at ${clock(10)} by Tom`);
  expect(await night.ok('pour', '4 rye lamp 40 ago', '--by', 'Mara')).toContain('by Mara');
  expect(await night.ok('pour', '5 rye lamp')).toMatch(/^Poured 5 Rye Lamp\n/);
});
