// Amounts as the house shows them: ml, cl, or ounces as the nearest jigger fraction with a sign when it is not exact.

import { type Thousandths, toUnits, type Unit } from '../value/amount.ts';
import { THOUSANDS } from '../value/number.ts';
import { ratio, ratioToNumber } from '../value/ratio.ts';
import type { House } from './house.ts';
import { unitScale } from './units.ts';

const grouped = (value: number, decimals: number): string =>
  value
    .toLocaleString('en', { minimumFractionDigits: decimals, maximumFractionDigits: decimals })
    .replaceAll(',', THOUSANDS);

/** The digits of a decimal text in threes: "8540.5" -> "8 540.5". */
const inThrees = (text: string): string => text.replace(/\B(?=(\d{3})+(?!\d))(?<!\..*)/g, THOUSANDS);

/** "1 960 ml" with a narrow space, "22.5 ml", "14": whole from 100 on, one decimal below when there is one; cl and oz with one decimal. */
export function displayAmount(amount: Thousandths, unit: Unit, house: House): string {
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

/** An amount in ounces as the jiggers have them: "¾ oz", "1½ oz", "≈¾ oz" when the nearest one is not exact to a microlitre. */
export function jiggerText(amount: Thousandths, house: House): string {
  const size = ratioToNumber(unitScale('oz', house)?.perUnit ?? ratio(29574));
  const ounces = amount / size;
  const whole = Math.floor(ounces);
  const [parts, of, sign] = fractions.reduce((best, next) =>
    Math.abs(ounces - whole - next[0] / next[1]) < Math.abs(ounces - whole - best[0] / best[1]) ? next : best,
  );
  const full = parts === of && of === 1 && parts === 1 ? whole + 1 : whole;
  const nearest = (full + (full > whole ? 0 : parts / of)) * size;
  const mark = Math.abs(nearest - amount) <= 0.5 ? '' : '≈';
  const text = full === 0 && sign === '' ? '0' : `${full === 0 ? '' : full}${full > whole ? '' : sign}`;
  return `${mark}${text} oz`;
}

/**
 * "30 ml missing ±58": value and ± to the same place, in the unit of the house; never one without the other.
 * `missing` and `uncertainty` in thousandths of the unit.
 */
export function missingText(missing: Thousandths, uncertainty: number, unit: Unit, house: House): string {
  const isConverted = unit === 'ml' && house.units !== 'ml';
  const scale = isConverted ? ratioToNumber(unitScale(house.units, house)?.perUnit ?? ratio(1000)) / 1000 : 1;
  const shown = roundToUncertainty(missing / scale, uncertainty / scale);
  const name = unit === 'each' ? '' : ` ${isConverted ? house.units : unit}`;
  const word = Number(shown.missing) === 0 ? '' : missing > 0 ? ' missing' : ' extra';
  return `${inThrees(shown.missing)}${name}${word} ±${inThrees(shown.uncertainty)}`;
}

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
