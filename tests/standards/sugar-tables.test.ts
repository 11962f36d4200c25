// Sugar. CRC Handbook, "Concentrative properties of aqueous solutions: sucrose" (published, seen second-hand); ICUMSA
// polynomial after Bubnik & Kadlec (published, seen second-hand). The polynomial runs 0.1 to 0.3 kg/m³ above the table up
// to 70 °Bx and 0.8 at 84.
import { describe, expect, it } from 'vitest';
import { densityByStrength, densityWithSugar } from '../../src/domain/standard/density.ts';
import {
  brixByVolume,
  brixByWeight,
  brixOfGramsPerLitre,
  gramsPerLitre,
  sucroseDensity,
} from '../../src/domain/standard/sugar.ts';
import { near } from '../support/near.ts';

describe('sucrose in water at 20 °C', () => {
  it.each([
    [0, 998.2, 0],
    [5, 1017.8, 50.9],
    [10, 1038.1, 103.8],
    [15, 1059.2, 158.9],
    [20, 1081, 216.2],
    [30, 1127, 338.1],
    [40, 1176.5, 470.6],
    [50, 1229.5, 614.8],
    [60, 1286.4, 771.9],
    [64, 1310.3, 838.6],
    [66, 1322.4, 872.8],
    [68, 1334.8, 907.6],
    [70, 1347.2, 943.1],
  ])('%f °Bx: %f kg/m³, %f g/l (table)', (brix, rho, grams) => {
    near(sucroseDensity(brix), rho, 0.31);
    near(gramsPerLitre(brix), grams, 0.21);
  });
  it.each([
    [76, 1385.5, 1053],
    [80, 1411.7, 1129.4],
    [84, 1438.3, 1208.2],
  ])('%f °Bx, where the two sources part', (brix, rho, grams) => {
    near(sucroseDensity(brix), rho, 0.9);
    near(gramsPerLitre(brix), grams, 0.8);
  });
  it('the polynomial itself (computed)', () => {
    near(sucroseDensity(50), 1229.65, 0.01);
    near(sucroseDensity(84), 1439.12, 0.01);
  });
  it('inverts', () => {
    for (let brix = 1; brix < 85; brix += 3) near(brixOfGramsPerLitre(gramsPerLitre(brix)), brix, 1e-9);
  });
});

describe('bar syrups (computed from the same)', () => {
  it('1:1 by weight: 50 °Bx, 0.615 g/ml', () => {
    near(brixByWeight(1, 1), 50, 1e-12);
    near(gramsPerLitre(50) / 1000, 0.615, 0.0005);
  });
  it('2:1 by weight: 66.67 °Bx, 1326.8 kg/m³', () => {
    near(sucroseDensity(brixByWeight(2, 1)), 1326.8, 0.3);
  });
  it('by volume (200 g a US cup): 1:1 is 45.9 °Bx, 2:1 is 62.9', () => {
    near(brixByVolume(1, 1), 45.9, 0.1);
    near(brixByVolume(2, 1), 62.9, 0.1);
  });
  it('22.5 ml of 1:1 by weight hold 13.83 g sugar (Arnold 2014: 61.5 g/100 ml)', () =>
    near(0.0225 * gramsPerLitre(50), 13.83, 0.05));
  it('trap: 50 °Bx is not 50 g in 100 ml', () => expect(gramsPerLitre(50)).toBeGreaterThan(600));
});

describe('liqueurs by the residual volume, v = 0.62 ml/g (computed; no official ternary table was found)', () => {
  it.each([
    ['orange liqueur', 40, 250, 1040.3],
    ['bitter aperitif', 25, 250, 1063.5],
    ['almond liqueur', 28, 280, 1071],
    ['coffee liqueur', 20, 390, 1122.8],
    ['cassis, legal minimum', 15, 400, 1132.2],
    ['strong green herbal', 55, 250, 1008.3],
    ['maraschino', 32, 350, 1091.2],
    ['minimum liqueur', 15, 100, 1017.3],
  ])('%s %f/%f', (_, abv, sugar, rho) => near(densityWithSugar(abv, sugar), rho, 0.06));
  it('without sugar it is OIML exactly', () => near(densityWithSugar(40, 0), densityByStrength(40), 1e-9));
  it('600 g net of 40 %, 250 g/l are 577 ml, not the 633 of a spirit without sugar', () => {
    near(600_000 / densityWithSugar(40, 250), 577, 1);
    near(600_000 / densityByStrength(40), 633, 1);
  });
  it('without alcohol it is the sucrose table', () => near(densityWithSugar(0, 614.8), 1229.5, 0.3));
  it('Tabarie over-estimates at strength (Hackbarth, J. Am. Soc. Brew. Chem. 67(3), 2009): the residual method is below it', () => {
    const tabarie = densityByStrength(55) + sucroseDensity(brixOfGramsPerLitre(250)) - 998.2;
    expect(tabarie - densityWithSugar(55, 250)).toBeGreaterThan(5);
  });
});
