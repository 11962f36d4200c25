// Legal serving measures and what measures may be off. Weights and Measures (Intoxicating Liquor) Order 1988 (SI 1988/2039),
// UK government page "Specified quantities" (published); OIML R 138 (2007), 5.1.1 (published). Information, never advice.
import { describe, expect, it } from 'vitest';
import { houseOf } from '../../src/domain/catalogue/house.ts';
import type { Item } from '../../src/domain/catalogue/item.ts';
import { servingNotice } from '../../src/domain/standard/law.ts';
import { items } from '../support/events.ts';
import { furnished } from '../support/night.ts';

const gin = { ...(items[0] as Item), name: 'Dry gin' };
const wine = { ...gin, name: 'House white wine', kind: 'wine' };
const tequila = { ...gin, name: 'Tequila' };
const in25 = houseOf(new Map([['servings', 'uk25']]));
const in35 = houseOf(new Map([['servings', 'uk35']]));

describe('UK specified quantities', () => {
  it('gin: 30 ml is spoken of, 25 and 50 in a 25 house, 35 and 70 in a 35 house are not', () => {
    expect(servingNotice(gin, 30_000, 1, in25)).toContain('local rules decide');
    for (const amount of [25_000, 50_000, 75_000]) expect(servingNotice(gin, amount, 1, in25)).toBeNull();
    for (const amount of [35_000, 70_000]) expect(servingNotice(gin, amount, 1, in35)).toBeNull();
    expect(servingNotice(gin, 25_000, 1, in35)).not.toBeNull();
  });
  it('a mixture of three or more liquids is exempt', () =>
    expect(servingNotice(gin, 30_000, 3, in25)).toBeNull());
  it('wine: 125, 175 and multiples; below 75 free; other spirits and sparkling wine have no quantity', () => {
    expect([125_000, 175_000, 250_000, 50_000].map((amount) => servingNotice(wine, amount, 1, in25))).toEqual(
      [null, null, null, null],
    );
    expect(servingNotice(wine, 150_000, 1, in25)).not.toBeNull();
    expect(servingNotice({ ...wine, name: 'Sparkling wine' }, 100_000, 1, in25)).toBeNull();
    expect(servingNotice(tequila, 30_000, 1, in25)).toBeNull();
  });
  it('nothing is said in a house that sets none', () =>
    expect(servingNotice(gin, 30_000, 1, houseOf(new Map()))).toBeNull());
  it('the pour is recorded all the same, with the notice', async () => {
    const night = await furnished();
    await night.ok('house servings uk25');
    await night.ok('open');
    const { exit, out } = await night.run('pour 30ml', 'dry gin');
    expect(exit).toBe(0);
    expect(out).toContain('local rules decide');
    expect((await night.run('pour 50ml', 'dry gin')).out).not.toContain('local rules');
  });
});
