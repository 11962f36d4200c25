// Many looks: of fifty items some are beyond their ± by chance alone. What is put forward as real must stand against that.
import { adjustFalseDiscovery } from '../standard/charts.ts';
import { normalTail } from '../standard/normal.ts';
import type { ReportItem } from './report.ts';

/** The largest q of what is put forward as real. */
export const LARGEST_Q = 0.1;

/** Of exact rows nothing is by chance. */
const byChance = ({ missing, uncertainty }: ReportItem): number => {
  const u = (uncertainty ?? 0) / 2;
  if (u === 0) return missing === 0 ? 1 : 0;
  return Math.min(1, 2 * normalTail(Math.abs(missing ?? 0) / u));
};

/** The rows with their q. Two-sided, because extra is looked at as missing is: the upper tail of |missing| ÷ u, doubled. */
export function manyLooks(rows: readonly ReportItem[]): ReportItem[] {
  // What can't be is no look at anything.
  const counted = rows.filter(({ missing, improbable }) => missing !== null && !improbable);
  const q = new Map(
    adjustFalseDiscovery(counted.map(byChance)).map((value, index) => [counted[index], value]),
  );
  return rows.map((row) => ({ ...row, q: rounded(q.get(row) ?? null) }));
}

/** So small that more digits say nothing. */
const rounded = (q: number | null): number | null => (q === null ? null : Number(q.toPrecision(4)));

export const isBeyond = ({ missing, uncertainty }: ReportItem): boolean =>
  missing !== null && Math.abs(missing) > (uncertainty ?? 0);

/** How many are beyond their ±, and how many of those that have one would be by chance: P(|Z| > 2) of each. */
export function beyondOf(rows: readonly ReportItem[]): { beyond: number; beyondByChance: number } {
  const inexact = rows.filter(({ uncertainty }) => uncertainty !== null && uncertainty > 0);
  return {
    beyond: rows.filter(isBeyond).length,
    beyondByChance: Math.round(inexact.length * 2 * normalTail(2) * 100) / 100,
  };
}
