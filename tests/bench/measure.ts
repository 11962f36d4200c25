// Small statistics for benches.

export const quantile = (values: readonly number[], share: number): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? 0;
};
export const median = (values: readonly number[]): number => quantile(values, 0.5);
export const round = (value: number, digits = 3): number => Number(value.toPrecision(digits));

export const figure = (name: string, value: number, unit: string, floor: number | null = null) => ({
  name,
  value: round(value, 4),
  unit,
  floor: floor === null ? null : round(floor, 4),
  ratio: floor === null || floor === 0 ? null : round(value / floor),
});
