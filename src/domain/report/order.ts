// What stands first in a report: money, with a floor; certainty stands beside it.
import type { House } from '../catalogue/house.ts';
import { isBeyond } from './looks.ts';
import type { ReportItem } from './report.ts';

/** What a row is worth, for its place; what has no cost stands at the floor, because nobody knows. */
export const worthOf = ({ missingCostMinor }: ReportItem, { moneyFloorMinor }: House): number =>
  missingCostMinor === null ? moneyFloorMinor : Math.abs(missingCostMinor);

/** What is worth less than the house's money floor is not put forward, however sure it is. */
export const matters = (row: ReportItem, house: House): boolean =>
  row.improbable || (isBeyond(row) && worthOf(row, house) >= house.moneyFloorMinor);

/** Impossible readings, then what matters, then what is beyond its ± and worth little, then what is within it, then the uncounted. */
function shelfOf(row: ReportItem, house: House): number {
  if (row.missing === null) return 4;
  if (row.improbable) return 0;
  if (!isBeyond(row)) return 3;
  return matters(row, house) ? 1 : 2;
}

/** The dearest first on each shelf; what is worth the same by its name. */
export const byWeight =
  (house: House) =>
  (a: ReportItem, b: ReportItem): number =>
    shelfOf(a, house) - shelfOf(b, house) ||
    worthOf(b, house) - worthOf(a, house) ||
    (a.name < b.name ? -1 : 1);
