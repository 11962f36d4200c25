// Amounts of stock are exact integers: thousandths of the item's unit. A millilitre item is kept in microlitres,
// a piece item in thousandths of a piece, a gram item in milligrams. Floats never enter the books.

import { type Ratio, ratioToNumber, roundRatio } from './ratio.ts';

/** What an item is measured in. */
export type Unit = 'ml' | 'each' | 'g';

/** An integer number of thousandths of a unit: µl, thousandths of a piece, or mg. */
export type Thousandths = number;

/** No single event moves more than this: 1,000 litres, a million pieces or 1,000 kg. */
export const LARGEST_AMOUNT: Thousandths = 1_000_000_000;

/**
 * Nearest whole thousandth, ties to even, of what somebody typed. Whatever is more than any event can have comes back as one more than
 * that: it is refused where amounts are checked, in the words of what was typed.
 */
export const roundAmount = (a: Ratio): Thousandths =>
  ratioToNumber(a) > LARGEST_AMOUNT ? LARGEST_AMOUNT + 1 : roundRatio(a);

/** As a number of units (ml, pieces, g) with at most three decimals, for JSON and for statistics. */
export const toUnits = (amount: Thousandths): number => amount / 1000;

/** Exact decimal text of an amount in its unit, without trailing zeros: 22500 -> "22.5". */
export function exactText(amount: Thousandths): string {
  const sign = amount < 0 ? '-' : '';
  const size = Math.abs(amount);
  const whole = Math.floor(size / 1000);
  const rest = String(size % 1000)
    .padStart(3, '0')
    .replace(/0+$/, '');
  // Three decimals could be read as a thousand: a fourth makes them plain.
  const plain = rest.length === 3 && whole > 0 && whole < 1000 ? `${rest}0` : rest;
  return rest === '' ? `${sign}${whole}` : `${sign}${whole}.${plain}`;
}
