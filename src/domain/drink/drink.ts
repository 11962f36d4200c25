// What a drink is: volume, alcohol, dilution, sugar, cost, allergens, cautions.

import type { Catalogue } from '../catalogue/catalogue.ts';
import { type House, isBritishZone } from '../catalogue/house.ts';
import { isPrepCard, type Spec } from '../catalogue/spec.ts';
import { millisToMinor, percentOf, valueInMillis } from '../value/money.ts';
import { done, type Result } from '../value/problem.ts';
import { allergensOf } from './allergens.ts';
import { type Dilution, dilute } from './dilution.ts';
import {
  acidOf,
  acidOfSolid,
  ethanolOf,
  isStrengthUnknown,
  liquidsOf,
  solidsOf,
  sugarOf,
  sugarOfSolid,
  totalMl,
} from './liquid.ts';
import { type Measured, specLines } from './measures.ts';

export type DrinkFigures = {
  readonly lines: readonly Measured[];
  readonly volumeMl: number;
  readonly ethanolMl: number;
  /** Strength of what is measured, before ice; null when nothing is measured by volume. */
  readonly abvPercent: number | null;
  /** Null where no published formula fits the method. */
  readonly dilution: Dilution | null;
  readonly sugarGrams: number;
  readonly acidGrams: number;
  /** How far the acid may be off: fruit varies ±15 % (Penniston et al., J. Endourol. 22(3), 2008), the 6 % convention more. */
  readonly acidUncertaintyGrams: number;
  readonly standardDrinks: { readonly us: number; readonly uk: number; readonly au: number };
  readonly costMinor: number | null;
  readonly priceMinor: number | null;
  readonly pourCostPercent: number | null;
  readonly allergens: readonly string[];
  readonly cautions: readonly string[];
  /** Names of items whose strength is not known and was taken as none. */
  readonly unknownStrength: readonly string[];
  readonly unknownSugar: readonly string[];
};

/** Density of ethanol at 20 °C in g/ml as the standard-drink definitions use it. */
const ETHANOL_GRAMS_PER_ML = 0.789;

/**
 * Standard drinks of an amount of ethanol: USA 14 g (NIAAA), UK unit 10 ml, Australia and New Zealand 10 g; the mass
 * definitions by 0.789 g/ml.
 */
export const standardDrinks = (ethanolMl: number): { us: number; uk: number; au: number } => ({
  us: (ethanolMl * ETHANOL_GRAMS_PER_ML) / 14,
  uk: ethanolMl / 10,
  au: (ethanolMl * ETHANOL_GRAMS_PER_ML) / 10,
});

/** The same in the measure of where the house is: units in the United Kingdom, 10 g in Australia and New Zealand, else the US drink. */
export function standardDrinksText({ us, uk, au }: DrinkFigures['standardDrinks'], { zone }: House): string {
  if (isBritishZone(zone)) return `${uk.toFixed(1)} UK units`;
  if (/^(Australia\/|Pacific\/(Auckland|Chatham)$)/.test(zone))
    return `${au.toFixed(1)} standard drinks of 10 g`;
  return `${us.toFixed(1)} US standard drinks`;
}

/** Kinds that bring no sugar worth a figure to one drink, when the card says nothing. */
const plainKinds = new Set(['spirit', 'bitters', 'egg', 'herb', 'fruit', 'garnish', 'wine']);

/** All figures of a spec by the items as they are now. Refused when a measure cannot be read. */
export function drinkFigures(spec: Spec, catalogue: Catalogue): Result<DrinkFigures> {
  const read = specLines(spec, catalogue);
  if (!read.ok) return read;
  const lines = read.value;
  const liquids = liquidsOf(lines, catalogue.house);
  const solids = solidsOf(lines);
  const volumeMl = totalMl(liquids);
  const ethanolMl = ethanolOf(liquids);
  const cost = costOf(lines);
  return done({
    lines,
    volumeMl,
    ethanolMl,
    abvPercent: volumeMl === 0 ? null : (ethanolMl / volumeMl) * 100,
    // What is made here meets no ice on the way.
    dilution: isPrepCard(spec) ? null : dilute(spec, liquids),
    sugarGrams:
      liquids.reduce((sum, liquid) => sum + (sugarOf(liquid) ?? 0), 0) +
      solids.reduce((sum, solid) => sum + (sugarOfSolid(solid) ?? 0), 0),
    ...withSolids(acidOf(liquids), solids),
    standardDrinks: standardDrinks(ethanolMl),
    costMinor: cost === null ? null : millisToMinor(cost),
    priceMinor: spec.priceMinor,
    // Of the cost before it is rounded to money: on one drink that rounding would show.
    pourCostPercent:
      cost === null || spec.priceMinor === null ? null : percentOf(cost, spec.priceMinor * 1000, 2),
    allergens: allergensOf(
      lines.map(({ item }) => item),
      catalogue,
    ),
    cautions: cautionsOf(spec, lines, isPrepCard(spec) ? 0 : ethanolMl),
    unknownStrength: named(liquids.filter(isStrengthUnknown)),
    unknownSugar: named([
      ...liquids.filter((liquid) => sugarOf(liquid) === null && !plainKinds.has(liquid.item.kind)),
      ...solids.filter((solid) => sugarOfSolid(solid) === null && !plainKinds.has(solid.item.kind)),
    ]),
  });
}

function withSolids(acid: ReturnType<typeof acidOf>, solids: readonly Measured[]): ReturnType<typeof acidOf> {
  const more = solids.reduce((sum, solid) => sum + acidOfSolid(solid), 0);
  return { ...acid, acidGrams: acid.acidGrams + more };
}

const named = (lines: readonly Measured[]): string[] => [...new Set(lines.map((line) => line.item.name))];

/** Cost of one drink in thousandths of a minor unit; null when an item has no cost. */
function costOf(lines: readonly Measured[]): number | null {
  if (lines.some((line) => line.item.costMinor === null)) return null;
  return lines.reduce(
    (sum, { item, amount }) => sum + valueInMillis(amount, item.costMinor ?? 0, item.size),
    0,
  );
}

function cautionsOf(spec: Spec, lines: readonly Measured[], ethanolMl: number): string[] {
  const cautions: string[] = [];
  const egg = lines.some(
    ({ item }) => item.kind === 'egg' && !/pasteuri[sz]ed/i.test(`${item.name} ${item.caution}`),
  );
  if (egg)
    cautions.push(
      'raw egg: tell the guest; raw egg may carry illness, pasteurised egg does not need the notice',
    );
  if (/muddle/i.test(spec.method) && /flute|coupe|wine|thin|stem/i.test(spec.glass)) {
    cautions.push('muddling in thin glass: muddle in the tin, then pour');
  }
  const { us } = standardDrinks(ethanolMl);
  if (us >= 2)
    cautions.push(
      `strong: ${us.toFixed(1)} US standard drinks in one glass; serve with care, local law decides`,
    );
  for (const { item } of lines) if (item.caution !== '') cautions.push(`${item.name}: ${item.caution}`);
  return [...new Set(cautions)];
}
