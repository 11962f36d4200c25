// Control charts: tabular CUSUM, EWMA, individuals with moving range. NIST/SEMATECH e-Handbook 6.3.2.2 to 6.3.2.4.

/** One-sided tabular CUSUM of how far values lie above `target + k`: S = max(0, S + x − target − k), from 0. */
export function cusumAbove(values: readonly number[], target: number, k: number): number[] {
  let sum = 0;
  return values.map((value) => {
    sum = Math.max(0, sum + value - target - k);
    return sum;
  });
}

/** EWMA from a start: E = λ x + (1 − λ) E. */
export function ewma(values: readonly number[], start: number, lambda: number): number[] {
  let last = start;
  return values.map((value) => {
    last = lambda * value + (1 - lambda) * last;
    return last;
  });
}

/** Half-width of EWMA limits at step t (1, 2, …): L s √(λ/(2−λ) (1 − (1−λ)^2t)); the asymptotic one without t. */
export function ewmaHalfWidth(limit: number, deviation: number, lambda: number, t?: number): number {
  const early = t === undefined ? 1 : 1 - (1 - lambda) ** (2 * t);
  return limit * deviation * Math.sqrt((lambda / (2 - lambda)) * early);
}

/**
 * Benjamini–Hochberg adjusted p-values in the order they came (J. R. Stat. Soc. B 57:289–300, 1995): the smallest false
 * discovery rate at which each would still be named.
 */
export function adjustFalseDiscovery(p: readonly number[]): number[] {
  const order = p.map((value, index) => ({ value, index })).sort((a, b) => a.value - b.value);
  const adjusted = new Array<number>(p.length);
  let least = 1;
  for (let rank = order.length; rank >= 1; rank -= 1) {
    const entry = order[rank - 1] as { value: number; index: number };
    least = Math.min(least, (entry.value * p.length) / rank);
    adjusted[entry.index] = least;
  }
  return adjusted;
}
