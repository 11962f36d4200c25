// Ethanol and water. OIML R 22 (1975), International Alcoholometric Tables; the formula also in Council Directive 76/766/EEC,
// Annex section 4. Values published, seen second-hand, unless marked computed. Tolerance 0.01 kg/m³ where not said.
import { describe, expect, it } from 'vitest';
import { newHouse } from '../../src/domain/catalogue/house.ts';
import type { Item } from '../../src/domain/catalogue/item.ts';
import {
  containerDensity,
  densityByMass,
  densityByStrength,
  densityWithSugar,
  massFraction,
  volumeFraction,
} from '../../src/domain/standard/density.ts';
import { items } from '../support/events.ts';
import { near } from '../support/near.ts';
import { furnished } from '../support/night.ts';

describe('density by mass, published values', () => {
  it.each([
    ['water, 20 °C (76/766/EEC Annex 4)', 0, 20, 998.2],
    ['ethanol, 20 °C', 1, 20, 789.24],
    ['p = 0.31 at 13 °C (R 22, p. 12)', 0.31, 13, 956.42],
    ['p = 0.88 at −10 °C (R 22, p. 12)', 0.88, -10, 848.57],
    ['Table I: 0.30, −20', 0.3, -20, 974.91],
    ['Table I: 0.10, 0', 0.1, 0, 984.75],
    ['Table I: 1, 0', 1, 0, 806.22],
    ['Table I: 0.50, 20', 0.5, 20, 913.77],
    ['Table IIIa: 0.20', 0.2, 20, 968.61],
    ['pure ethanol, 40 °C', 1, 40, 771.93],
  ])('%s', (_, p, t, rho) => near(densityByMass(p, t), rho, 0.0101));
  it('10 % mass: 981.84 (Perry, 7th ed.; the formula gives 981.85)', () =>
    near(densityByMass(0.1), 981.84, 0.02));
});

describe('density by strength', () => {
  it.each([
    [36, -20, 975.08],
    [10, 0, 987.12],
    [50, 20, 930.14],
    [20, 20, 973.56],
  ])('Tables II and IVa: %f %%vol at %f °C', (abv, t, rho) => near(densityByStrength(abv, t), rho, 0.0101));

  // Computed from the formula; neighbours of 40 % in the same table are published.
  const at20 = [
    998.2, 991.06, 984.71, 978.97, 973.56, 968.1, 962.21, 955.59, 948.05, 939.54, 930.14, 919.96, 909.11,
    897.65, 885.56, 872.79, 859.27, 844.85, 829.18, 811.38, 789.24,
  ];
  const at4 = [
    999.97, 992.93, 987.07, 982.22, 978.06, 974.09, 969.75, 964.56, 958.22, 950.64, 941.89, 932.16, 921.63,
    910.43, 898.58, 886.02, 872.69, 858.43, 842.85, 825.08, 802.84,
  ];
  const at30 = [
    995.65, 988.41, 981.79, 975.59, 969.54, 963.33, 956.67, 949.33, 941.19, 932.22, 922.47, 912.03, 900.98,
    889.35, 877.13, 864.25, 850.62, 836.12, 820.41, 802.66, 780.65,
  ];
  it.each(at20.map((rho, index) => [index * 5, rho, at4[index] as number, at30[index] as number]))(
    'computed table: %f %%vol',
    (abv, twenty, four, thirty) => {
      near(densityByStrength(abv), twenty, 0.0101);
      near(densityByStrength(abv, 4), four, 0.0101);
      near(densityByStrength(abv, 30), thirty, 0.0101);
    },
  );
});

describe('strength and mass', () => {
  it.each([
    [0.1, 0.1244],
    [0.3, 0.3625],
    [0.5, 0.5789],
    [0.7, 0.7695],
  ])('Table IIIb: p = %f -> q = %f', (p, q) => near(volumeFraction(p), q, 0.00006));
  it.each([
    [0.1, 0.0801],
    [0.3, 0.2461],
    [0.5, 0.4243],
    [0.7, 0.6239],
  ])('Table IVb: q = %f -> p = %f', (q, p) => near(massFraction(q), p, 0.00006));
  it.each([
    [900, 0.64],
    [950, 0.3876],
    [970, 0.2329],
    [990, 0.0579],
  ])('Table Vb: %f kg/m³ -> q = %f', (rho, q) => near(densityByStrength(q * 100), rho, 0.02));
  it('40 %vol is 33.30 % mass', () => near(massFraction(0.4) * 100, 33.3, 0.005));
  it('q -> p -> q is the identity', () => {
    for (let percent = 1; percent < 100; percent += 1)
      near(volumeFraction(massFraction(percent / 100)), percent / 100, 1e-9);
  });
  it('100 l ethanol and 100 l water make 192.9 l, not 200 (older tables 192.75 l, 51.8 %vol; agrees to 0.1 %)', () => {
    const mass = 100 * densityByStrength(100) + 100 * densityByStrength(0);
    const p = (100 * densityByStrength(100)) / mass;
    near(mass / densityByMass(p), 192.93, 0.01);
    near(volumeFraction(p) * 100, 51.83, 0.01);
  });
});

describe('weighing a bottle (computed)', () => {
  const ml = (grams: number, abv: number): number => (grams / densityByStrength(abv)) * 1000;
  it('net 447.5 g at 40 % is 472.0 ml', () => near(ml(447.5, 40), 472.02, 0.02));
  it('net 250 g at 50 % is 268.8 ml', () => near(ml(250, 50), 268.8, 0.1));
  it('net 500 g at 43 % is 530.2 ml', () => near(ml(500, 43), 530.2, 0.1));
  it('a full 700 ml of 40 % weighs 663.6 g net, 750 ml 711.0', () => {
    near(0.7 * densityByStrength(40), 663.6, 0.05);
    near(0.75 * densityByStrength(40), 711, 0.05);
  });
  it('a count in grams is within 0.1 % of the formula', async () => {
    const night = await furnished();
    const event = await night.json<{ amount: number }>('count', 'dry gin', '927.5g');
    near(event.amount / 1000, 472.02, 0.4);
  });
});

describe('traps', () => {
  it('volume-weighted density is 3.5 % low and not what we use', () =>
    expect(densityByStrength(40) - (0.4 * 789.24 + 0.6 * 998.2)).toBeGreaterThan(33));
  it('outside the range is refused, never clamped', () => {
    for (const bad of [
      () => densityByStrength(101),
      () => densityByStrength(-1),
      () => densityByStrength(40, 41),
      () => densityByStrength(40, -21),
      () => densityByMass(Number.NaN),
      () => densityWithSugar(40, -1),
      () => densityWithSugar(60, 900),
    ])
      expect(bad).toThrow(RangeError);
  });
  it('an unknown strength or sugar is said and widens the ±; it is never used in silence', () => {
    const gin = { ...(items[0] as Item), abvPercent: null };
    const liqueur = { ...gin, kind: 'liqueur', abvPercent: 40 };
    const known = containerDensity({ ...gin, abvPercent: 40 }, newHouse);
    expect(known.assumed).toBeNull();
    expect(containerDensity(gin, newHouse)).toMatchObject({ assumed: '40 % and no sugar' });
    expect(containerDensity(gin, newHouse).halfWidth).toBeGreaterThan(3 * known.halfWidth);
    expect(containerDensity(liqueur, newHouse).assumed).toContain('250 g');
    expect(containerDensity(liqueur, newHouse).halfWidth).toBeGreaterThan(50);
  });
});
