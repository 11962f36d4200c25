// What a drink is: volume, alcohol, dilution, sugar, cost, allergens, cautions.

import type { Catalogue } from '../catalogue/catalogue.ts';
import type { Spec } from '../catalogue/spec.ts';
import { millisToMinor, percentOf, valueInMillis } from '../value/money.ts';
import { done, type Result } from '../value/problem.ts';
import { type Dilution, dilute } from './dilution.ts';
import { type Line, specLines } from './measures.ts';

export type DrinkFigures = {
  readonly lines: readonly Line[];
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

/** Kinds that may be taken as free of alcohol, or of sugar, when the card says nothing. */
const dryKinds = new Set(['juice', 'syrup', 'egg', 'herb', 'fruit', 'mixer', 'garnish', 'dairy', 'other']);
const plainKinds = new Set(['spirit', 'bitters', 'egg', 'herb', 'fruit', 'garnish', 'wine']);

/** All figures of a spec by the items as they are now. Refused when a measure cannot be read. */
export function drinkFigures(spec: Spec, catalogue: Catalogue): Result<DrinkFigures> {
  const read = specLines(spec, catalogue);
  if (!read.ok) return read;
  const lines = read.value;
  const liquid = lines.filter((line) => line.item.unit === 'ml');
  const sum = (pick: (line: Line) => number): number => liquid.reduce((total, line) => total + pick(line), 0);
  const volume = sum((line) => line.amount);
  const ethanolMl = sum((line) => (line.amount * (line.item.abvPercent ?? 0)) / 100) / 1000;
  const sugarGrams = sum((line) => (line.amount * (line.item.sugarGramsPerLitre ?? 0)) / 1_000_000);
  const cost = costOf(lines);
  return done({
    lines,
    volumeMl: volume / 1000,
    ethanolMl,
    abvPercent: volume === 0 ? null : (ethanolMl / (volume / 1000)) * 100,
    dilution: dilute(spec, liquid),
    sugarGrams,
    ...acidOf(lines),
    standardDrinks: standardDrinks(ethanolMl),
    costMinor: cost,
    priceMinor: spec.priceMinor,
    pourCostPercent: cost === null || spec.priceMinor === null ? null : percentOf(cost, spec.priceMinor, 2),
    allergens: allergensOf(lines, catalogue),
    cautions: cautionsOf(spec, lines, ethanolMl),
    unknownStrength: named(liquid.filter(({ item }) => item.abvPercent === null && !dryKinds.has(item.kind))),
    unknownSugar: named(
      liquid.filter(({ item }) => item.sugarGramsPerLitre === null && !plainKinds.has(item.kind)),
    ),
  });
}

/**
 * Acid per litre of a juice that does not say: lemon and lime 6.0 % w/v by bar convention (Arnold 2014, p. 136, seen second-hand);
 * orange 9.1 and grapefruit 25.0 g citric acid per litre (Penniston et al. 2008).
 */
const juiceAcids: readonly (readonly [RegExp, number, number])[] = [
  [/\b(lemon|lime)s?\b/i, 60, 0.25],
  [/\borange\b/i, 9.1, 0.15],
  [/\bgrapefruit\b/i, 25, 0.15],
];

function acidOf(lines: readonly Line[]): { acidGrams: number; acidUncertaintyGrams: number } {
  let [acid, spread] = [0, 0];
  for (const line of lines) {
    const { item } = line;
    // A wedge of the same fruit is squeezed by the guest, if at all.
    const isPart =
      item.yields?.some((entry) => entry.unit === 'each' && entry.of === line.measure.unit) ?? false;
    const fruit =
      item.unit === 'each' && !isPart ? item.yields?.find((entry) => entry.unit === 'ml') : undefined;
    const ml =
      item.unit === 'ml'
        ? line.amount / 1000
        : fruit === undefined
          ? 0
          : (line.amount * fruit.amount) / 1_000_000;
    const known = juiceAcids.find(
      ([name]) => (item.kind === 'juice' || fruit !== undefined) && name.test(item.name),
    );
    const perLitre = item.acidGramsPerLitre ?? known?.[1] ?? 0;
    acid += (ml * perLitre) / 1000;
    spread += (ml * perLitre * (item.acidGramsPerLitre === undefined ? (known?.[2] ?? 0) : 0.15)) / 1000;
  }
  return { acidGrams: acid, acidUncertaintyGrams: spread };
}

const named = (lines: readonly Line[]): string[] => [...new Set(lines.map((line) => line.item.name))];

/** Cost of one drink, rounded once; null when an item has no cost. */
function costOf(lines: readonly Line[]): number | null {
  if (lines.some((line) => line.item.costMinor === null)) return null;
  const millis = lines.reduce(
    (sum, { item, amount }) => sum + valueInMillis(amount, item.costMinor ?? 0, item.size),
    0,
  );
  return millisToMinor(millis);
}

/** US: FALCPA 2004 with the FASTER Act 2021. EU and UK: Regulation (EU) 1169/2011, Annex II. */
export const allergenLists = {
  us: ['milk', 'eggs', 'fish', 'crustaceans', 'tree nuts', 'peanuts', 'wheat', 'soybeans', 'sesame'],
  eu: [
    'gluten',
    'crustaceans',
    'eggs',
    'fish',
    'peanuts',
    'soybeans',
    'milk',
    'nuts',
    'celery',
    'mustard',
    'sesame',
    'sulphites',
    'lupin',
    'molluscs',
  ],
} as const;

const allergenWords: ReadonlyMap<string, { us?: string; eu?: string }> = new Map([
  ['egg', { us: 'eggs', eu: 'eggs' }],
  ['nut', { us: 'tree nuts', eu: 'nuts' }],
  ['nuts', { us: 'tree nuts', eu: 'nuts' }],
  ['tree nuts', { us: 'tree nuts', eu: 'nuts' }],
  ['almond', { us: 'tree nuts', eu: 'nuts' }],
  ['wheat', { us: 'wheat', eu: 'gluten' }],
  ['barley', { eu: 'gluten' }],
  ['sulphites', { eu: 'sulphites' }],
  ['sulfites', { eu: 'sulphites' }],
  ['soy', { us: 'soybeans', eu: 'soybeans' }],
  ['soya', { us: 'soybeans', eu: 'soybeans' }],
]);

/** Allergens of the items by the list the house keeps. An empty list never means "free from". */
function allergensOf(lines: readonly Line[], catalogue: Catalogue): string[] {
  const list = catalogue.house.allergens;
  const known: readonly string[] = allergenLists[list];
  const found = new Set<string>();
  for (const { item } of lines) {
    for (const word of item.allergens) {
      const name = known.includes(word) ? word : allergenWords.get(word)?.[list];
      if (name !== undefined) found.add(name);
    }
  }
  return known.filter((name) => found.has(name));
}

function cautionsOf(spec: Spec, lines: readonly Line[], ethanolMl: number): string[] {
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
