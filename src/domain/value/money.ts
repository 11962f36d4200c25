// Money in integer minor units of the house's currency (ISO 4217:2015, published exponents).
import { joinThousands, parseDecimal } from './number.ts';
import { divideRatio, multiplyRatio, type Ratio, ratio } from './ratio.ts';

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

/** Worked out once for each currency a program meets: one, as a rule. */
function perCurrency<T>(make: (currency: string) => T): (currency: string) => T {
  const known = new Map<string, T>();
  return (currency) => {
    const value = known.get(currency) ?? make(currency);
    known.set(currency, value);
    return value;
  };
}

/** What a currency is written with: its code and its signs, as "EUR" and "€". */
const signsOf = perCurrency((currency) => {
  const part = (display: 'narrowSymbol' | 'symbol'): string =>
    new Intl.NumberFormat('en', { style: 'currency', currency, currencyDisplay: display })
      .formatToParts(0)
      .find(({ type }) => type === 'currency')?.value ?? currency;
  return [currency, part('symbol'), part('narrowSymbol')].map((sign) => sign.toLowerCase());
});

/** The number of a price as it is written: without the sign or the code of the house's currency, in front or behind. */
function withoutSign(text: string, currency: string): string {
  const plain = text.trim().toLowerCase();
  for (const sign of signsOf(currency)) {
    if (plain.startsWith(sign)) return plain.slice(sign.length).trim();
    if (plain.endsWith(sign)) return plain.slice(0, -sign.length).trim();
  }
  return plain;
}

/**
 * "14.00", "£14" or "14 EUR" -> 1400. Null when it is not a plain decimal, has more decimals than the currency, is of another
 * currency, or could be a thousand or one. A currency without decimals has thousands only: "1,200" yen.
 */
export function parseMoney(text: string, currency: string): number | null {
  const exponent = currencyExponent(currency);
  // A money cell holds nothing else, so a plain space between its digits parts thousands, too.
  const spaced = withoutSign(text, currency).replace(/(?<=\d) (?=\d{3}(?!\d))/g, '');
  const plain = joinThousands(spaced);
  const grouped = /^[1-9]\d{0,2}[.,]\d{3}$/.test(plain);
  const digits = grouped && exponent === 0 ? plain.replace(/[.,]/, '') : plain;
  const decimals = /[.,](\d+)$/.exec(digits)?.[1]?.length ?? 0;
  // What this program prints of a currency with three decimals has a point and three decimals.
  const isPrinted = grouped && exponent === 3 && plain.includes('.');
  const value = decimals > exponent ? null : parseDecimal(digits, isPrinted ? 0 : undefined);
  if (value === null) return null;
  const minor = multiplyRatio(value, ratio(10n ** BigInt(exponent)));
  if (minor.den !== 1n || minor.num > BigInt(LARGEST_MONEY)) return null;
  return Number(minor.num);
}

/**
 * The dearest bottle, or the largest sum of one line, in minor units: ten thousand million. A hundred such bottles in thousandths
 * of a minor unit are still an exact integer.
 */
export const LARGEST_MONEY = 10_000_000_000;

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
