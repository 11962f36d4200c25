// The normal distribution. Tail: Marsaglia's series below 3.5 (J. Stat. Software 11(4), 2004) and a continued fraction above;
// quantile: Wichura, AS 241 PPND16, Appl. Statist. 37, 1988 (both from memory, checked against published values in tests).
// biome-ignore-all lint/correctness/noPrecisionLoss: the coefficients are kept as the source prints them

/** Upper tail Q(x) = P(Z > x), relative error below 1e-12 up to 8. */
export function normalTail(x: number): number {
  if (x < 0) return 1 - normalTail(-x);
  const density = Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI);
  if (x < 3.5) {
    let [term, sum, step] = [x, x, 1];
    while (sum + term !== sum) {
      step += 2;
      term *= (x * x) / step;
      sum += term;
    }
    return 0.5 - sum * density;
  }
  let fraction = 0;
  for (let step = 60; step >= 1; step -= 1) fraction = step / (x + fraction);
  return density / (x + fraction);
}

const horner = (c: readonly number[], r: number): number => c.reduceRight((sum, next) => sum * r + next, 0);

const middle = {
  top: [
    3.387132872796366608, 133.14166789178437745, 1971.5909503065514427, 13731.693765509461125,
    45921.953931549871457, 67265.770927008700853, 33430.575583588128105, 2509.0809287301226727,
  ],
  low: [
    1, 42.313330701600911252, 687.1870074920579083, 5394.1960214247511077, 21213.794301586595867,
    39307.89580009271061, 28729.085735721942674, 5226.495278852854561,
  ],
};
const side = {
  top: [
    1.42343711074968357734, 4.6303378461565452959, 5.7694972214606914055, 3.64784832476320460504,
    1.27045825245236838258, 0.24178072517745061177, 0.0227238449892691845833, 7.7454501427834140764e-4,
  ],
  low: [
    1, 2.05319162663775882187, 1.6763848301838038494, 0.68976733498510000455, 0.14810397642748007459,
    0.0151986665636164571966, 5.475938084995344946e-4, 1.05075007164441684324e-9,
  ],
};
const far = {
  top: [
    6.6579046435011037772, 5.4637849111641143699, 1.7848265399172913358, 0.29656057182850489123,
    0.026532189526576123093, 0.0012426609473880784386, 2.71155556874348757815e-5, 2.01033439929228813265e-7,
  ],
  low: [
    1, 0.59983220655588793769, 0.13692988092273580531, 0.0148753612908506148525, 7.868691311456132591e-4,
    1.8463183175100546818e-5, 1.4215117583164458887e-7, 2.04426310338993978564e-15,
  ],
};

/** z with P(Z < z) = p. @throws RangeError outside 0 < p < 1 */
export function normalQuantile(p: number): number {
  if (!(p > 0 && p < 1)) throw new RangeError('a probability lies between 0 and 1');
  const q = p - 0.5;
  if (Math.abs(q) <= 0.425) {
    const r = 0.180625 - q * q;
    return (q * horner(middle.top, r)) / horner(middle.low, r);
  }
  const r = Math.sqrt(-Math.log(Math.min(p, 1 - p)));
  const z =
    r <= 5
      ? horner(side.top, r - 1.6) / horner(side.low, r - 1.6)
      : horner(far.top, r - 5) / horner(far.low, r - 5);
  return Math.sign(q) * z;
}
