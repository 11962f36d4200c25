// The false discovery rate. Benjamini & Hochberg, J. R. Statist. Soc. B 57:289–300, 1995.

/**
 * p-values to the smallest rates at which each would still be among the discoveries, in the order given: p × n ÷ rank, and no rate is
 * larger than that of a larger p. Values from 0 to 1.
 */
export function adjustedForMany(p: readonly number[]): number[] {
  const order = p.map((_, index) => index).sort((a, b) => (p[b] ?? 0) - (p[a] ?? 0));
  const adjusted = p.map(() => 1);
  let least = 1;
  order.forEach((index, place) => {
    const rank = p.length - place;
    least = Math.min(least, ((p[index] ?? 1) * p.length) / rank);
    adjusted[index] = least;
  });
  return adjusted;
}
