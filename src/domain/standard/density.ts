// Density of ethanol–water and of sugared spirits, for weighing bottles.
// Formula and coefficients: OIML R 22 (1975), International Alcoholometric Tables; the same formula stands in Council
// Directive 76/766/EEC, Annex section 4. Coefficients published, seen second-hand; public transcriptions agree.
import type { House } from '../catalogue/house.ts';
import type { Item } from '../catalogue/item.ts';
import { brixOfGramsPerLitre, sucroseDensity } from './sugar.ts';

const A = [
  998.20123, -192.9769495, 389.1238958, -1668.103923, 13522.15441, -88292.78388, 306287.4042, -613838.1234,
  747017.2998, -547846.1354, 223446.0334, -39032.85426,
];
const B = [-0.20618513, -0.0052682542, 3.6130013e-5, -3.8957702e-7, 7.169354e-9, -9.9739231e-11];
const C = [
  [
    0.1693443461530087, -10.46914743455169, 71.96353469546523, -704.7478054272792, 3924.090430035045,
    -12101.64659068747, 22486.46550400788, -26055.62982188164, 18523.73922069467, -7420.201433430137,
    1285.617841998974,
  ],
  [
    -0.0119301300505701, 0.2517399633803461, -2.170575700536993, 13.53034988843029, -50.29988758547014,
    109.635566657757, -142.2753946421155, 108.043594285623, -44.14153236817392, 7.442971530188783,
  ],
  [
    -0.0006802995733503803, 0.01876837790289664, -0.2002561813734156, 1.02299296671922, -2.895696483903638,
    4.810060584300675, -4.672147440794683, 2.458043105903461, -0.5411227621436812,
  ],
  [4.075376675622027e-6, -8.76305857347111e-6, 6.515031360099368e-6, -1.51578483698721e-6],
  [-2.788074354782409e-8, 1.345612883493354e-8],
];

const horner = (coefficients: readonly number[], x: number): number =>
  coefficients.reduceRight((sum, coefficient) => sum * x + coefficient, 0);

/**
 * Density of ethanol and water in kg/m³.
 * @param massFraction ethanol by mass, 0 to 1 (not percent)
 * @param celsius −20 to +40
 * @throws RangeError outside these ranges. OIML R 22 (1975).
 */
export function densityByMass(massFraction: number, celsius = 20): number {
  if (!(massFraction >= 0 && massFraction <= 1)) throw new RangeError('mass fraction is outside 0 to 1');
  if (!(celsius >= -20 && celsius <= 40)) throw new RangeError('temperature is outside -20 to 40 °C');
  const warmer = celsius - 20;
  let density = horner(A, massFraction);
  if (warmer === 0) return density;
  density += horner(B, warmer) * warmer;
  C.forEach((row, index) => {
    density += horner(row, massFraction) * massFraction * warmer ** (index + 1);
  });
  return density;
}

const pure20 = horner(A, 1);

/** Volume fraction at 20 °C of a mass fraction: q = p ρ(p) / ρ(1). OIML R 22 (1975). */
export const volumeFraction = (massFraction: number): number =>
  (massFraction * densityByMass(massFraction)) / pure20;

/** The inverse, by bisection: q(p) rises all the way. Exact to 1e-14. Throws RangeError outside 0 to 1. */
export function massFraction(volume: number): number {
  if (!(volume >= 0 && volume <= 1)) throw new RangeError('strength is outside 0 to 100 %');
  let [low, high] = [0, 1];
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (volumeFraction(middle) < volume) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Density in kg/m³ of a spirit of this strength (% by volume at 20 °C). */
export const densityByStrength = (abvPercent: number, celsius = 20): number =>
  densityByMass(massFraction(abvPercent / 100), celsius);

/** Apparent specific volume of sucrose in water at 20 °C, ml/g: 0.617 to 0.628 (CRC Handbook, seen second-hand). */
const SUCROSE_ML_PER_GRAM = 0.62;

/**
 * Density in kg/m³ of a liqueur by the residual-volume method: what the sugar does not fill is ethanol and water of the
 * strength that keeps the ethanol. With no sugar it is the OIML value exactly; with no alcohol it is the sucrose table's.
 * Stated error of the method ±0.5 %; of label data ±1 %.
 * @throws RangeError when strength and sugar cannot stand in one litre, or outside the tables
 */
export function densityWithSugar(abvPercent: number, sugarGramsPerLitre: number, celsius = 20): number {
  if (!(sugarGramsPerLitre >= 0)) throw new RangeError('sugar is below zero');
  if (abvPercent === 0 && sugarGramsPerLitre > 0)
    return sucroseDensity(brixOfGramsPerLitre(sugarGramsPerLitre), celsius);
  const rest = 1 - (SUCROSE_ML_PER_GRAM * sugarGramsPerLitre) / 1000;
  const strength = abvPercent / rest;
  if (!(rest > 0) || strength > 100)
    throw new RangeError('that much sugar and alcohol do not fit in one litre');
  return sugarGramsPerLitre + rest * densityByStrength(strength, celsius);
}

export type ContainerDensity = {
  readonly density: number;
  /** How far it may be off either way, kg/m³. */
  readonly halfWidth: number;
  /** What had to be assumed because the item does not say; null when nothing was. */
  readonly assumed: string | null;
};

/** What is assumed when a label is unknown, by kind, and how wide that makes the density. Judgement, no source. */
const assumptions: ReadonlyMap<string, { abv: number; sugar: number; width: number; says: string }> = new Map(
  [
    ['spirit', { abv: 40, sugar: 0, width: 20, says: '40 % and no sugar' }],
    ['bitters', { abv: 45, sugar: 0, width: 30, says: '45 % and no sugar' }],
    ['liqueur', { abv: 25, sugar: 250, width: 60, says: '25 % and 250 g sugar per litre' }],
    ['wine', { abv: 13, sugar: 10, width: 30, says: '13 % and 10 g sugar per litre' }],
    ['beer', { abv: 5, sugar: 20, width: 15, says: '5 % and 20 g sugar per litre' }],
    ['syrup', { abv: 0, sugar: 615, width: 80, says: 'a 1:1 syrup by weight' }],
    ['juice', { abv: 0, sugar: 80, width: 20, says: '80 g sugar per litre' }],
  ],
);
const anything = { abv: 0, sugar: 0, width: 60, says: 'water' };
/** Kinds that have no sugar, or no alcohol, unless their label says so. */
const noSugar = new Set(['spirit', 'bitters']);
const noAlcohol = new Set(['syrup', 'juice', 'mixer', 'dairy', 'egg', 'herb', 'fruit', 'other']);

/**
 * Density of what stands in a container of this item. A measured density wins; else strength and sugar; what the item does
 * not say is assumed by its kind, said so, and widens the ± instead of being used in silence.
 */
export function containerDensity(item: Item, house: House): ContainerDensity {
  if (item.densityKgPerM3 !== undefined)
    return { density: item.densityKgPerM3, halfWidth: item.densityKgPerM3 * MEASURED_SHARE, assumed: null };
  const guess = assumptions.get(item.kind) ?? anything;
  const abv = item.abvPercent ?? (noAlcohol.has(item.kind) ? 0 : null);
  const sugar = item.sugarGramsPerLitre ?? (noSugar.has(item.kind) ? 0 : null);
  const density = densityWithSugar(abv ?? guess.abv, sugar ?? guess.sugar);
  if (abv === null || sugar === null)
    return { density, halfWidth: Math.hypot(house.densityHalfWidth, guess.width), assumed: guess.says };
  const method = sugar > 0 && abv > 0 ? density * 0.005 : 0;
  return { density, halfWidth: Math.hypot(house.densityHalfWidth, method), assumed: null };
}

/** A density learned from a full container is as good as its fill: ±2 % of a bottle (27 CFR 19.356(b)). */
const MEASURED_SHARE = 0.02;
