// Amounts as the house shows them: ml, cl, or ounces as the nearest jigger fraction with a sign when it is not exact.

import { type Thousandths, toUnits, type Unit } from '../value/amount.ts';
import { THOUSANDS } from '../value/number.ts';
import { ratio, ratioToNumber } from '../value/ratio.ts';
import type { House } from './house.ts';
import type { Item } from './item.ts';
import { unitScale } from './units.ts';

const grouped = (value: number, decimals: number): string =>
  value
    .toLocaleString('en', { minimumFractionDigits: decimals, maximumFractionDigits: decimals })
    .replaceAll(',', THOUSANDS);

/** The digits of a decimal text in threes: "8540.5" -> "8 540.5". */
const inThrees = (text: string): string => text.replace(/\B(?=(\d{3})+(?!\d))(?<!\..*)/g, THOUSANDS);

/** How amounts of something are said: in its unit, or in the pieces it is counted in. */
export type Shown = {
  readonly unit: Unit;
  /** Thousandths of the unit in one, and what one is called. */
  readonly pieces?: { readonly size: Thousandths; readonly one: string } | null;
};

/** What an item's amounts are said in: a lager that is counted by the bottle is 38 bottles, not 12 540 ml. */
export function shownIn(item: Pick<Item, 'unit' | 'count' | 'size' | 'name'>): Shown {
  const isPieces = item.unit === 'ml' && item.count === 'pieces';
  return { unit: item.unit, pieces: isPieces ? { size: item.size, one: containerWord(item.name) } : null };
}

/** By its name where that says it; a bottle is the usual thing behind a bar. */
const containerWord = (name: string): string =>
  /\b(can|keg|carton|box|bag|jar|flask|cask)s?\b/i.exec(name)?.[1]?.toLowerCase() ?? 'bottle';

const several = (one: string): string => (/x$/.test(one) ? `${one}es` : `${one}s`);
const named = (number: string, one: string): string => `${number} ${number === '1' ? one : several(one)}`;

/** "1 960 ml" with a narrow space, "22.5 ml", "14": whole from 100 on, one decimal below when there is one; cl and oz with one decimal. */
export function displayAmount(amount: Thousandths, shown: Unit | Shown, house: House): string {
  const { unit, pieces } = typeof shown === 'string' ? { unit: shown, pieces: null } : shown;
  const many = pieces ? amount / pieces.size : 0;
  // Of a bottle less than half is said as what was poured from it.
  if (pieces && (Number.isInteger(many) || Math.abs(many) >= 0.5))
    return named(grouped(many, Number.isInteger(many) ? 0 : 1), pieces.one);
  if (unit === 'ml' && house.units !== 'ml') {
    const value = amount / ratioToNumber(unitScale(house.units, house)?.perUnit ?? ratio(1000));
    return `${grouped(value, 1)} ${house.units}`;
  }
  const value = amount / 1000;
  const decimals = Number.isInteger(value) || Math.abs(value) >= 100 ? 0 : 1;
  return `${grouped(value, decimals)}${unit === 'each' ? '' : ` ${unit}`}`;
}

const fractions: readonly (readonly [parts: number, of: number, sign: string])[] = [
  [0, 1, ''],
  [1, 8, '⅛'],
  [1, 4, '¼'],
  [1, 3, '⅓'],
  [3, 8, '⅜'],
  [1, 2, '½'],
  [5, 8, '⅝'],
  [2, 3, '⅔'],
  [3, 4, '¾'],
  [7, 8, '⅞'],
  [1, 1, ''],
];

/** Microlitres: each measure is rounded to one, and a batch of many adds them up. */
const HALF_A_DROP = 25;

/** An amount in ounces as the jiggers have them: "¾ oz", "1½ oz", "≈¾ oz" when the nearest one is not the same to half a drop. */
export function jiggerText(amount: Thousandths, house: House): string {
  const size = ratioToNumber(unitScale('oz', house)?.perUnit ?? ratio(29574));
  const ounces = amount / size;
  const whole = Math.floor(ounces);
  const [parts, of, sign] = fractions.reduce((best, next) =>
    Math.abs(ounces - whole - next[0] / next[1]) < Math.abs(ounces - whole - best[0] / best[1]) ? next : best,
  );
  const full = parts === of && of === 1 && parts === 1 ? whole + 1 : whole;
  const nearest = (full + (full > whole ? 0 : parts / of)) * size;
  const mark = Math.abs(nearest - amount) <= HALF_A_DROP ? '' : '≈';
  const text = full === 0 && sign === '' ? '0' : `${full === 0 ? '' : full}${full > whole ? '' : sign}`;
  return `${mark}${text} oz`;
}

/**
 * "30 ml missing ±58": value and ± to the same place, in the unit of the house; never one without the other.
 * `missing` and `uncertainty` in thousandths of the unit.
 */
export function missingText(
  missing: Thousandths,
  uncertainty: number,
  as: Unit | Shown,
  house: House,
): string {
  const { unit, pieces } = typeof as === 'string' ? { unit: as, pieces: null } : as;
  if (pieces) {
    const said = roundToUncertainty((missing / pieces.size) * 1000, (uncertainty / pieces.size) * 1000);
    return `${named(inThrees(said.missing), pieces.one)}${wordOf(said.missing, missing)} ±${inThrees(said.uncertainty)}`;
  }
  const isConverted = unit === 'ml' && house.units !== 'ml';
  const scale = isConverted ? ratioToNumber(unitScale(house.units, house)?.perUnit ?? ratio(1000)) / 1000 : 1;
  const shown = roundToUncertainty(missing / scale, uncertainty / scale);
  const name = unit === 'each' ? '' : ` ${isConverted ? house.units : unit}`;
  return `${inThrees(shown.missing)}${name}${wordOf(shown.missing, missing)} ±${inThrees(shown.uncertainty)}`;
}

const wordOf = (said: string, missing: Thousandths): string =>
  Number(said) === 0 ? '' : missing > 0 ? ' missing' : ' extra';

/** U to two significant digits and the value to the same place (GUM 7.2.6: from memory). In units, for people. */
export function roundToUncertainty(
  missing: Thousandths,
  uncertainty: number,
): { missing: string; uncertainty: string } {
  const u = uncertainty / 1000;
  const place = u > 0 ? Math.floor(Math.log10(u)) - 1 : 0;
  const decimals = Math.max(0, Math.min(2, -place));
  const step = 10 ** Math.max(-2, place);
  const round = (value: number): string => (Math.round(value / step) * step).toFixed(decimals);
  return { missing: round(toUnits(Math.abs(missing))), uncertainty: round(u) };
}
