// Money in integer minor units of the house's currency (ISO 4217:2015, published exponents).
import { divideRatio, multiplyRatio, parseDecimal, type Ratio, ratio } from './ratio.ts';

/**
 * Exponents that are not 2. ISO 4217:2015 list one, published, seen second-hand. An own table on purpose:
 * `Intl` says 0 for HUF where the standard says 2.
 */
const exponents: ReadonlyMap<string, number> = new Map([
  ...['BIF', 'CLP', 'DJF', 'GNF', 'ISK', 'JPY', 'KMF', 'KRW', 'PYG', 'RWF', 'UGX', 'UYI', 'VND', 'VUV'].map(
    (code) => [code, 0] as const,
  ),
  ...['XAF', 'XOF', 'XPF'].map((code) => [code, 0] as const),
  ...['BHD', 'IQD', 'JOD', 'KWD', 'LYD', 'OMR', 'TND'].map((code) => [code, 3] as const),
  ...['CLF', 'UYW'].map((code) => [code, 4] as const),
]);

/** Number of decimals of a currency; 2 unless the standard says otherwise. */
export const currencyExponent = (currency: string): number => exponents.get(currency) ?? 2;

/** "14.00" -> 1400 for EUR. Null when it is not a plain decimal or has more decimals than the currency. */
export function parseMoney(text: string, currency: string): number | null {
  const value = parseDecimal(text.trim());
  if (value === null) return null;
  const minor = multiplyRatio(value, ratio(10n ** BigInt(currencyExponent(currency))));
  if (minor.den !== 1n || minor.num > 9_999_999_999_999n) return null;
  return Number(minor.num);
}

/** 1400 -> "14.00"; the sign in front, no currency. */
export function formatMoney(minor: number, currency: string): string {
  const exponent = currencyExponent(currency);
  const digits = String(Math.abs(minor)).padStart(exponent + 1, '0');
  const sign = minor < 0 ? '-' : '';
  if (exponent === 0) return `${sign}${digits}`;
  return `${sign}${digits.slice(0, -exponent)}.${digits.slice(-exponent)}`;
}

/** Nearest integer, half away from zero: what an accountant does by hand. */
export function roundHalfUp(value: Ratio): number {
  const negative = value.num < 0n;
  const size = negative ? -value.num : value.num;
  const rounded = Number((2n * size + value.den) / (2n * value.den));
  if (!Number.isSafeInteger(rounded)) throw new RangeError('money: beyond the exact integers');
  return negative ? -rounded || 0 : rounded;
}

/** Value of an amount when a container of `size` costs `costMinor`: rounded once. */
export function valueAtCost(amount: number, costMinor: number, size: number): number {
  return roundHalfUp(ratio(BigInt(amount) * BigInt(costMinor), BigInt(size)));
}

/** The same in thousandths of a minor unit, so that a bar spoon of bitters keeps its cost until the total is rounded. */
export function valueInMillis(amount: number, costMinor: number, size: number): number {
  return roundHalfUp(ratio(BigInt(amount) * BigInt(costMinor) * 1000n, BigInt(size)));
}

export const millisToMinor = (millis: number): number => roundHalfUp(ratio(BigInt(millis), 1000n));

/** part / whole in percent, rounded to `decimals` half up; null when the whole is zero. */
export function percentOf(part: number, whole: number, decimals: number): number | null {
  if (whole === 0) return null;
  const scale = 10n ** BigInt(decimals);
  const exact = divideRatio(ratio(BigInt(part) * 100n * scale), ratio(BigInt(whole)));
  return roundHalfUp(exact) / Number(scale);
}

/**
 * Splits a whole into integer parts in proportion to weights (largest remainder, ties to the lowest index).
 * The parts always sum to the total. Checked against the 1790 US census apportionment in tests/standards.
 */
export function apportion(total: number, weights: readonly number[]): number[] {
  if (total < 0) return apportion(-total, weights).map((part) => -part || 0);
  const sum = weights.reduce((a, b) => a + BigInt(b), 0n);
  if (sum === 0n) return weights.map((_, index) => (index === 0 ? total : 0));
  const shares = weights.map((weight, index) => {
    const scaled = BigInt(total) * BigInt(weight);
    return { index, part: Number(scaled / sum), rest: scaled % sum };
  });
  let left = total - shares.reduce((a, share) => a + share.part, 0);
  const byRest = [...shares].sort((a, b) =>
    a.rest === b.rest ? a.index - b.index : a.rest > b.rest ? -1 : 1,
  );
  for (const share of byRest) {
    if (left === 0) break;
    share.part += 1;
    left -= 1;
  }
  return shares.map((share) => share.part);
}
