// The close in figures: standard and actual cost, what is missing, and how well it is known.
import { describe, expect, it } from 'vitest';
import type { Report } from '../../src/domain/report/report.ts';
import { furnished, itemOf } from '../support/night.ts';

describe('standard and actual', () => {
  it('our whole-bar example (computed; reference figures 18.692 % actual)', async () => {
    // 700 ml at 18.90, opening 1 960 ml, 6 received, 1 moved out, 70 x 40 ml sold at 6.50, 6 cocktails of 20 ml, 50 ml spilled.
    const night = await furnished();
    await night.ok('count dry-gin 2.8');
    await night.ok('open --by Ines');
    await night.ok('receive 6 dry-gin --cost 18.90');
    await night.ok('move 1 dry-gin --from bar --to cellar');
    await night.ok('pour 70 gin-straight');
    for (let drink = 0; drink < 6; drink += 1) await night.ok('pour 20ml dry-gin');
    await night.ok('lose 50ml dry-gin --why spill');
    night.later(60);
    await night.ok('count dry-gin 3.3');
    const { totals, items } = await night.json<Report>('close');
    const gin = items.find((row) => row.item === 'dry-gin');
    expect([gin?.used, gin?.missing]).toEqual([3150, 180]);
    expect(totals).toMatchObject({
      actualCostMinor: 8505,
      actualPercent: 18.69,
      pouredCostMinor: 7884,
      soldMinor: 45500,
      lostCostMinor: 135,
      missingCostMinor: 486,
    });
  });

  it('the whole bar: independent items add in quadrature, so forty by eye are known to 0.36 l (k = 2)', async () => {
    // Reference: 40 open bottles of 700 ml read by eye at both ends, U = 2 x 28.577 x sqrt(40) = 361 ml (computed).
    const night = await furnished();
    const { writeFileSync } = await import('node:fs');
    const file = `${night.folder}/forty.csv`;
    const rows = Array.from(
      { length: 40 },
      (_, at) => `bottle-${at},Bottle ${at},spirit,700 ml,20.00,tenths`,
    );
    writeFileSync(file, ['id,name,kind,size,cost,count', ...rows, ''].join('\n'));
    await night.ok('import', file);
    for (let at = 0; at < 40; at += 1) await night.ok(`count bottle-${at} 0.8`);
    await night.ok('open');
    night.later(60);
    for (let at = 0; at < 40; at += 1) await night.ok(`count bottle-${at} 0.8`);
    const { totals } = await night.json<Report>('close');
    expect(totals.missingMlUncertainty).toBeCloseTo(
      2 * Math.SQRT2 * (70 / (2 * Math.sqrt(3))) * Math.sqrt(40),
      0,
    );
    // 361.5 ml of what costs 20.00 for 700 ml.
    expect(totals.missingCostUncertaintyMinor).toBe(1033);
  });
});

describe('what is missing', () => {
  it('a place that only a move made begins empty: what is gone there is missing', async () => {
    const night = await furnished();
    await night.ok('count dry-gin 4.0');
    await night.ok('open');
    await night.ok('move 3 dry-gin --from bar --to cellar');
    night.later(30);
    await night.ok('count dry-gin 1.0 --place cellar');
    await night.ok('count dry-gin 1.0 --place bar');
    expect(itemOf(await night.json<Report>('close'), 'dry-gin')).toMatchObject({
      missing: 1400,
      verdict: 'real',
    });
  });

  it('two counts in a night: what went before the last one is in the totals', async () => {
    const night = await furnished();
    await night.ok('count dry-gin 3.0');
    await night.ok('open');
    night.later(60);
    await night.ok('lose 700ml dry-gin --why breakage');
    await night.ok('count dry-gin 1.0');
    night.later(60);
    await night.ok('count dry-gin 1.0');
    const { totals } = await night.json<Report>('close');
    expect(totals).toMatchObject({
      missingCostMinor: 0,
      earlierCostMinor: 1890,
      lostCostMinor: 1890,
      actualCostMinor: 3780,
    });
  });

  it('two places on one scale: a wrong density is wrong at both', async () => {
    const night = await furnished();
    for (const place of ['bar', 'back']) await night.ok('count dry-gin 1130g --place', place);
    await night.ok('open');
    night.later(60);
    for (const place of ['bar', 'back']) await night.ok('count dry-gin 500g --place', place);
    const [row] = (await night.json<Report>('close')).items.filter(({ item: id }) => id === 'dry-gin');
    // Twice the difference of one place, not √2 times it: ±5 kg/m³ of about 948, over 664.6 ml at each.
    const density = (2 * 664.6 * 5) / Math.sqrt(3) / 948;
    expect(row?.uncertainty).toBeCloseTo(2 * Math.sqrt(4 * 1.255 ** 2 + density ** 2), 0);
  });
});
