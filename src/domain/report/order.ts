// What stands first in a report: sure and costly before unsure and cheap.
import type { House } from '../catalogue/house.ts';
import type { ReportItem } from './report.ts';

/** What matters first: sure and costly before unsure and cheap; uncounted ones last. */
export const byWeight =
  (house: House) =>
  (a: ReportItem, b: ReportItem): number =>
    weightOf(b, house) - weightOf(a, house) || (a.name < b.name ? -1 : 1);

/**
 * |value| × how many times its own ± it is; items without a cost weigh by certainty alone. What is worth less than the
 * house's money floor is not put forward, however sure it is.
 */
export function weightOf(row: ReportItem, house: House): number {
  if (row.missing === null) return -1;
  const exact = row.uncertainty === null || row.uncertainty === 0;
  const certainty = exact ? (row.missing === 0 ? 0 : 4) : Math.abs(row.missing) / (row.uncertainty ?? 1);
  const value = row.missingCostMinor === null ? house.moneyFloorMinor : Math.abs(row.missingCostMinor);
  const isSmall = value < house.moneyFloorMinor;
  return certainty <= 1 || isSmall ? certainty / 1000 : Math.min(certainty, 4) * Math.max(value, 1);
}
