// Standards of fill. 27 CFR 5.203 (rule of 29 Dec 2020, TTB newsletter; T.D. TTB-200 of 10 Jan 2025, 90 FR 1868), 27 CFR
// 19.356(b), 27 CFR 4.37(b) (2008 text); EU and UK: SI 1988/2039 Sch. A1. Published; the 2025 list seen second-hand.
import { describe, expect, it } from 'vitest';
import { jiggerText } from '../../src/domain/catalogue/display.ts';
import { houseOf, newHouse } from '../../src/domain/catalogue/house.ts';
import type { Item } from '../../src/domain/catalogue/item.ts';
import { fillNotice, fillTolerance, isUsSpiritSize } from '../../src/domain/standard/law.ts';
import { items } from '../support/events.ts';

const bottle = (size: number, kind = 'spirit'): Item => ({
  ...(items[0] as Item),
  kind,
  size: size * 1000,
  sizeText: `${size} ml`,
});

describe('sizes', () => {
  it('700 ml is a US spirits size from 2021 on, 945 ml from 2025 on', () => {
    expect([
      isUsSpiritSize(700, '2021-01-01'),
      isUsSpiritSize(945, '2024-12-31'),
      isUsSpiritSize(945, '2025-01-10'),
    ]).toEqual([true, false, true]);
  });
  it('an odd size is spoken of at import, a known one is not', () => {
    expect(fillNotice(bottle(730), '2026-01-01')).toContain('Local rules decide');
    for (const size of [700, 750, 500, 350, 1000]) expect(fillNotice(bottle(size), '2026-01-01')).toBeNull();
    expect(fillNotice(bottle(750, 'wine'), '2026-01-01')).toBeNull();
    expect(fillNotice(bottle(760, 'wine'), '2026-01-01')).not.toBeNull();
    expect(fillNotice(bottle(330, 'juice'), '2026-01-01')).toBeNull();
  });
  it('the union of the two US lists has 25 sizes', () => {
    const sizes = Array.from({ length: 4000 }, (_, ml) => ml).filter((ml) =>
      isUsSpiritSize(ml, '2026-01-01'),
    );
    expect(sizes).toHaveLength(25 + 1 - 1);
  });
});

describe('fill tolerance of the US bottler', () => {
  it('750 ml at 736 is inside (−1.87 %), a litre at 980 outside (−2.0 against 1.5 %)', () => {
    expect((750 - 736) / 750).toBeLessThan(fillTolerance(750));
    expect((1000 - 980) / 1000).toBeGreaterThan(fillTolerance(1000));
    expect([fillTolerance(100), fillTolerance(200), fillTolerance(376)]).toEqual([0.045, 0.03, 0.02]);
  });
});

describe('ounces on a card: the nearest jigger, with a sign when it is not exact', () => {
  it.each([
    [22_500, '≈¾ oz'],
    [22_180, '¾ oz'],
    [44_360, '1½ oz'],
    [60_000, '≈2 oz'],
    [59_147, '2 oz'],
    // Two of 1½ oz, each rounded to a microlitre.
    [88_720, '3 oz'],
    [29_574, '1 oz'],
    [9_858, '⅓ oz'],
    [29_000, '≈1 oz'],
  ])('%f µl: %s', (amount, text) => expect(jiggerText(amount, newHouse)).toBe(text));
  it('a house whose ounce is 30 ml', () => {
    const thirty = houseOf(new Map([['ounce', '30ml']]));
    expect([jiggerText(22_500, thirty), jiggerText(60_000, thirty)]).toEqual(['¾ oz', '2 oz']);
  });
});
