// How much liquid a measure brings into the glass: what is measured by volume, the juice of a fruit, an egg that goes in whole.
import type { House } from '../catalogue/house.ts';
import { type Item, itemNames } from '../catalogue/item.ts';
import { amountOf } from '../catalogue/units.ts';
import { storedQuantity } from '../value/number.ts';
import type { Measured } from './measures.ts';

export type Liquid = Measured & {
  /** Millilitres it adds to the drink. */
  readonly ml: number;
  /** Squeezed from a piece: its sugar and acid are those of the juice. */
  readonly isJuice: boolean;
};

/** A wedge or a leaf of something goes in as it is; it is squeezed by the guest, if at all. */
const isPart = ({ measure, item }: Measured): boolean =>
  item.yields?.some((entry) => entry.unit === 'each' && entry.of === measure.unit) ?? false;

/** Everything of a drink that is liquid, with its millilitres. */
export const liquidsOf = (lines: readonly Measured[], house: House): Liquid[] =>
  lines.flatMap((line) => liquidOf(line, house) ?? []);

function liquidOf(line: Measured, house: House): Liquid | null {
  const { item, amount, measure } = line;
  if (item.unit === 'ml') return { ...line, ml: amount / 1000, isJuice: false };
  if (item.unit !== 'each' || isPart(line)) return null;
  const juice = item.yields?.find((entry) => entry.unit === 'ml');
  if (juice !== undefined) {
    // "22.5 ml lime juice" is so much; "1 lime" is what one gives.
    const quantity = storedQuantity(measure.quantity);
    const said = quantity === null ? null : amountOf(quantity, measure.unit, house);
    const ml = said?.unit === 'ml' ? said.amount / 1000 : (amount * juice.amount) / 1_000_000;
    return { ...line, ml, isJuice: true };
  }
  const size = eggSize(item, house);
  return size === null ? null : { ...line, ml: (amount / 1000) * size, isJuice: false };
}

/**
 * Millilitres of an egg, its white or its yolk, as the house has it. The defaults: a large egg's white is 33 g and its yolk
 * 17 g (USDA FoodData Central, from memory), at about 1.04 and 1.03 g/ml (from memory); bars reckon a white as 30 ml.
 */
function eggSize(item: Item, { eggs }: House): number | null {
  if (item.kind !== 'egg') return null;
  const names = itemNames(item).join(' ');
  if (/\bwhites?\b|albumen/.test(names)) return eggs.white;
  return /\byolks?\b/.test(names) ? eggs.yolk : eggs.white + eggs.yolk;
}

/** Per litre of a fruit's juice, where the item does not say. */
export type JuiceTable = readonly (readonly [name: RegExp, perLitre: number, spread: number])[];

/**
 * Acid of a juice: lemon and lime 6.0 % w/v by bar convention (Arnold 2014, p. 136, seen second-hand); orange 9.1 and grapefruit
 * 25.0 g citric acid per litre (Penniston et al., J. Endourol. 22(3), 2008).
 */
const juiceAcids: JuiceTable = [
  [/\b(lemon|lime)s?\b/i, 60, 0.25],
  [/\borange\b/i, 9.1, 0.15],
  [/\bgrapefruit\b/i, 25, 0.15],
];
/** Sugar of lemon and lime: 1.6 % w/v by the same convention. */
const juiceSugars: JuiceTable = [[/\b(lemon|lime)s?\b/i, 16, 0.25]];

const byTable = (table: JuiceTable, { item, isJuice }: Liquid) =>
  item.kind === 'juice' || isJuice ? table.find(([name]) => name.test(item.name)) : undefined;

/** Grams of acid, and how far they may be off. */
export function acidOf(liquids: readonly Liquid[]): { acidGrams: number; acidUncertaintyGrams: number } {
  let [acid, spread] = [0, 0];
  for (const liquid of liquids) {
    const known = byTable(juiceAcids, liquid);
    const own = liquid.item.acidGramsPerLitre;
    const grams = (liquid.ml * (own ?? known?.[1] ?? 0)) / 1000;
    acid += grams;
    spread += grams * (own === undefined ? (known?.[2] ?? 0) : 0.15);
  }
  return { acidGrams: acid, acidUncertaintyGrams: spread };
}

/** Grams of sugar of what says its own, and of lemon and lime by the table; null where nobody knows. */
export function sugarOf(liquid: Liquid): number | null {
  const perLitre = liquid.item.sugarGramsPerLitre ?? byTable(juiceSugars, liquid)?.[1] ?? null;
  return perLitre === null ? null : (liquid.ml * perLitre) / 1000;
}

/** Grams of sugar of what is weighed: sugar is all of it; else what its card says a kilogram; null where nobody knows. */
export function sugarOfSolid({ item, amount }: Measured): number | null {
  const perKilogram =
    item.sugarGramsPerLitre ?? (/\bsugar\b/i.test(`${item.kind} ${item.name}`) ? 1000 : null);
  return perKilogram === null ? null : ((amount / 1000) * perKilogram) / 1000;
}

/** The same of acid; what is no acid by its name and says nothing has none. */
export function acidOfSolid({ item, amount }: Measured): number {
  const isAcid = /\b(citric|malic|tartaric|lactic)\b/i.test(`${item.kind} ${item.name}`);
  return ((amount / 1000) * (item.acidGramsPerLitre ?? (isAcid ? 1000 : 0))) / 1000;
}

export const solidsOf = (lines: readonly Measured[]): Measured[] =>
  lines.filter(({ item }) => item.unit === 'g');

/** Kinds that hold no alcohol where nobody says so. */
const softKinds = new Set([
  'juice',
  'syrup',
  'egg',
  'herb',
  'fruit',
  'mixer',
  'garnish',
  'dairy',
  'water',
  'sugar',
]);

/** What may well hold alcohol, and does not say how much. */
export const isStrengthUnknown = ({ item }: Pick<Liquid, 'item'>): boolean =>
  item.abvPercent === null && !softKinds.has(item.kind);

/** What is sour by its kind, and of which neither its card nor a table says how much. */
export const isAcidUnknown = (liquid: Liquid): boolean =>
  /^(juice|fruit|cordial|shrub|vinegar)$/.test(liquid.item.kind) &&
  liquid.item.acidGramsPerLitre === undefined &&
  byTable(juiceAcids, liquid) === undefined;

export const totalMl = (liquids: readonly Liquid[]): number => liquids.reduce((sum, { ml }) => sum + ml, 0);
export const ethanolOf = (liquids: readonly Liquid[]): number =>
  liquids.reduce(
    (sum, { ml, item, isJuice }) => sum + (isJuice ? 0 : (ml * (item.abvPercent ?? 0)) / 100),
    0,
  );
