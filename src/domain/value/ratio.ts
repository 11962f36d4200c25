// Exact rationals, so that "1 1/2 oz" becomes microlitres with one rounding and no float on the way.

export type Ratio = { readonly num: bigint; readonly den: bigint };

export function ratio(num: bigint | number, den: bigint | number = 1n): Ratio {
  const n = BigInt(num);
  const d = BigInt(den);
  if (d === 0n) throw new RangeError('ratio: denominator is zero');
  const sign = d < 0n ? -1n : 1n;
  const divisor = greatestCommonDivisor(n < 0n ? -n : n, d < 0n ? -d : d) || 1n;
  return { num: (sign * n) / divisor, den: (sign * d) / divisor };
}

function greatestCommonDivisor(a: bigint, b: bigint): bigint {
  let [x, y] = [a, b];
  while (y !== 0n) [x, y] = [y, x % y];
  return x;
}

export const addRatio = (a: Ratio, b: Ratio): Ratio => ratio(a.num * b.den + b.num * a.den, a.den * b.den);
export const multiplyRatio = (a: Ratio, b: Ratio): Ratio => ratio(a.num * b.num, a.den * b.den);
export const divideRatio = (a: Ratio, b: Ratio): Ratio => ratio(a.num * b.den, a.den * b.num);
export const ratioToNumber = (a: Ratio): number => Number(a.num) / Number(a.den);

/** Nearest integer, ties to even (IEEE 754-2019, 4.3.1, roundTiesToEven). Throws beyond the safe integers. */
export function roundRatio(a: Ratio): number {
  const floor = a.num >= 0n ? a.num / a.den : -((-a.num + a.den - 1n) / a.den);
  const twice = 2n * (a.num - floor * a.den);
  const up = twice > a.den || (twice === a.den && floor % 2n !== 0n);
  const rounded = Number(up ? floor + 1n : floor);
  if (!Number.isSafeInteger(rounded)) throw new RangeError('ratio: beyond the exact integers');
  return rounded;
}

const vulgar: ReadonlyMap<string, Ratio> = new Map(
  Object.entries({
    '¼': [1, 4],
    '½': [1, 2],
    '¾': [3, 4],
    '⅓': [1, 3],
    '⅔': [2, 3],
    '⅛': [1, 8],
    '⅜': [3, 8],
    '⅝': [5, 8],
    '⅞': [7, 8],
    '⅕': [1, 5],
    '⅖': [2, 5],
    '⅗': [3, 5],
    '⅘': [4, 5],
    '⅙': [1, 6],
    '⅚': [5, 6],
  }).map(([sign, [num, den]]) => [sign, ratio(num as number, den as number)]),
);

const decimalPattern = /^(\d{1,9})(?:[.,](\d{1,6}))?$/;
const fractionPattern = /^(\d{1,4})\/(\d{1,4})$/;

/** A plain decimal, never negative, exponents and signs refused; a decimal comma is read as a point. */
export function parseDecimal(text: string): Ratio | null {
  const match = decimalPattern.exec(text);
  if (match === null) return null;
  const digits = match[2] ?? '';
  return ratio(BigInt(`${match[1]}${digits}`), 10n ** BigInt(digits.length));
}

/** An amount as people write it: `2`, `0.75`, `3/4`, `¾`, `1½`, `1 1/2`. Null when it is none of these. */
export function parseQuantity(text: string): Ratio | null {
  const words = text.trim().split(/\s+/);
  if (words.length > 2 || words[0] === undefined) return null;
  const parts = words.flatMap(splitVulgar).map(parsePart);
  if (parts.some((part) => part === null) || parts.length > 2) return null;
  const [whole, fraction] = parts as Ratio[];
  if (whole === undefined) return null;
  if (fraction === undefined) return whole;
  return whole.den === 1n && fraction.den !== 1n ? addRatio(whole, fraction) : null;
}

function splitVulgar(word: string): string[] {
  const last = word.slice(-1);
  return word.length > 1 && vulgar.has(last) ? [word.slice(0, -1), last] : [word];
}

function parsePart(word: string): Ratio | null {
  const sign = vulgar.get(word);
  if (sign !== undefined) return sign;
  const fraction = fractionPattern.exec(word);
  if (fraction === null) return parseDecimal(word);
  const den = BigInt(fraction[2] ?? '0');
  return den === 0n ? null : ratio(BigInt(fraction[1] ?? '0'), den);
}
