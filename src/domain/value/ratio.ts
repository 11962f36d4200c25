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

/** The integer at or above. */
export const ceilRatio = ({ num, den }: Ratio): number =>
  Number(num >= 0n ? (num + den - 1n) / den : num / den);

/** Nearest integer, ties to even (IEEE 754-2019, 4.3.1, roundTiesToEven). Throws beyond the safe integers. */
export function roundRatio(a: Ratio): number {
  const floor = a.num >= 0n ? a.num / a.den : -((-a.num + a.den - 1n) / a.den);
  const twice = 2n * (a.num - floor * a.den);
  const up = twice > a.den || (twice === a.den && floor % 2n !== 0n);
  const rounded = Number(up ? floor + 1n : floor);
  if (!Number.isSafeInteger(rounded)) throw new RangeError('ratio: beyond the exact integers');
  return rounded;
}
