// The cost of beverages by the textbook identity. Dittmer & Keefe, Principles of Food, Beverage, and Labor Cost Controls,
// 9th ed. 2009, chapter 16 (published, seen second-hand). All amounts in integer minor units.
import { roundHalfUp } from '../value/money.ts';
import { divideRatio, multiplyRatio, type Ratio, ratio, ratioToNumber } from '../value/ratio.ts';

export type CostInput = {
  readonly storeroomOpening: number;
  readonly purchases: number;
  readonly storeroomClosing: number;
  readonly barOpening: number;
  readonly barClosing: number;
  /** Food to bar, storeroom issues, mixers. */
  readonly adds: readonly number[];
  /** Managers' drinks, promotions, cooking liquor. */
  readonly subtracts: readonly number[];
  readonly sales: number;
};

export type BeverageCost = {
  readonly issued: number;
  readonly differential: number;
  readonly cost: number;
  readonly costPercent: number | null;
  readonly adjustedCost: number;
  readonly adjustedPercent: number | null;
};

const sum = (list: readonly number[]): number => list.reduce((total, value) => total + value, 0);
const percent = (part: number, whole: number): number | null =>
  whole === 0 ? null : ratioToNumber(divideRatio(ratio(BigInt(part) * 100n), ratio(whole)));

/** issued = opening + purchases − closing; cost = issued + (bar opening − bar closing); adjusted = cost + adds − subtracts. */
export function beverageCost(input: CostInput): BeverageCost {
  const issued = input.storeroomOpening + input.purchases - input.storeroomClosing;
  const differential = input.barOpening - input.barClosing;
  const cost = issued + differential;
  const adjustedCost = cost + sum(input.adds) - sum(input.subtracts);
  return {
    issued,
    differential,
    cost,
    costPercent: percent(cost, input.sales),
    adjustedCost,
    adjustedPercent: percent(adjustedCost, input.sales),
  };
}

/**
 * What a container sells for when all of it goes out in drinks of one portion: drinks × price (chapter 16, sales-value
 * method). `lostShare` is the allowance for spillage. Minor units, rounded once, half up.
 */
export function potentialSales(
  size: number,
  portion: number,
  priceMinor: number,
  lostShare: Ratio = ratio(0),
): { readonly drinks: number; readonly salesMinor: number } {
  const kept = ratio((lostShare.den - lostShare.num) * BigInt(size), lostShare.den);
  const drinks = divideRatio(kept, ratio(portion));
  return { drinks: ratioToNumber(drinks), salesMinor: roundHalfUp(multiplyRatio(drinks, ratio(priceMinor))) };
}

/** Turnover = cost of beverages ÷ average stock (chapter 16). Null when nothing was in stock. */
export function turnover(cost: number, opening: number, closing: number): number | null {
  const average = (opening + closing) / 2;
  return average === 0 ? null : cost / average;
}
