// Robust weights: what lies far out counts less, so that no single figure decides.
// Huber, Ann. Math. Statist. 35:73–101, 1964; the tuning constant 1.345 gives 95 % efficiency on normal errors (from memory).

export const HUBER = 1.345;

/** Weight of a residual in units of its deviation: 1 within k, then k/|z|. */
export const huberWeight = (z: number, k: number = HUBER): number => {
  const size = Math.abs(z);
  return size <= k ? 1 : k / size;
};

/** A score cut at ±limit: a single night moves a chart by no more than this. */
export const cutScore = (z: number, limit: number): number => Math.max(-limit, Math.min(limit, z));

export function medianOf(values: readonly number[]): number {
  if (values.length === 0) return 0;
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1
    ? (sorted[middle] as number)
    : ((sorted[middle - 1] as number) + (sorted[middle] as number)) / 2;
}
