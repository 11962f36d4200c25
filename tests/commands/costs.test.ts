// Costs of a stretch: the textbook identity, weighted averages, and first counts as the opening.
import { describe, expect, it } from 'vitest';
import type { Bookkeeping } from '../../src/domain/report/course/bookkeeping.ts';
import { furnished } from '../support/night.ts';

describe('costs', () => {
  it('the textbook identity over storeroom and bar, in a stretch of two nights', async () => {
    const night = await furnished();
    await night.ok('receive 10 dry-gin --cost 18.90 --place store');
    await night.ok('count dry-gin 2.0');
    await night.ok('open --by Ines');
    await night.ok('pour 10 gin-straight');
    await night.ok('close --seal');
    night.later(24 * 60);
    await night.ok('open --by Ines');
    await night.ok('receive 2 dry-gin --cost 20.00 --place store');
    await night.ok('move 3 dry-gin --from store --to bar');
    await night.ok('pour 20 gin-straight');
    await night.ok('pour 2 gin-straight --as staff');
    const own = await night.json<Bookkeeping>('costs --from 2026-11-21');
    // By the weighted average: (8 000 ml for 216.00 and 1 400 ml for 40.00) ÷ 9 400 ml. Storeroom 10 -> 9 bottles.
    const average = (21_600 + 4_000) / 9_400;
    expect(own).toMatchObject({
      storeroomOpeningMinor: 18_900,
      purchasesMinor: 4_000,
      storeroomClosingMinor: Math.round(6_300 * average),
      // 1,400 - 400 ml at 18.90; then 1,000 + 2,100 - 880 ml.
      barOpeningMinor: 2_700,
      barClosingMinor: Math.round(2_220 * average),
      salesMinor: 20 * 650,
      // Two staff drinks of 40 ml at 20.00 for 700 ml.
      staffMinor: 229,
    });
    // So the cost is what was poured, and the dearer delivery is no gain on what stood there before.
    expect(Math.abs(own.cost.cost - 880 * average)).toBeLessThan(2);
    expect(own.cost.issued).toBe(18_900 + 4_000 - own.storeroomClosingMinor);
    expect(own.cost.cost).toBe(own.cost.issued + 2_700 - own.barClosingMinor);
    expect(own.cost.adjustedCost).toBe(own.cost.cost - 229);
    expect(own.turnover).toBeCloseTo(
      own.cost.cost / ((18_900 + 2_700 + own.storeroomClosingMinor + own.barClosingMinor) / 2),
      10,
    );
    // Weighted average: (8 000 ml x 27/ml/1000 ... = 21,600 + 4,000) / (8,000 + 1 400 ml) x 8 520 ml left.
    expect(own.closingAverageMinor).toBe(Math.round(average * 8_520));
    expect(own.closingLatestMinor).toBe(Math.round((8_520 * 2_000) / 700));
    expect(own.stock.reduce((sum, row) => sum + row.latestMinor, 0)).toBe(own.closingLatestMinor);
    expect(own.stock.reduce((sum, row) => sum + row.averageMinor, 0)).toBe(own.closingAverageMinor);
  });
});

it('a first night has what was counted first as its opening, not a negative cost', async () => {
  const night = await furnished();
  await night.ok('open --by Ines');
  await night.ok('count dry-gin 2.0');
  await night.ok('pour 10 gin-straight');
  await night.ok('close --seal');
  const own = await night.json<Bookkeeping>('costs');
  // 400 of 1 400 ml at 18.90 for 700 ml.
  expect([own.barOpeningMinor, own.barClosingMinor, own.cost.cost]).toEqual([3780, 2700, 1080]);
});
