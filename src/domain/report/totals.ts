// What a report adds up to: money and its ±, purposes, hours.

import type { House } from '../catalogue/house.ts';
import type { Tally } from '../ledger/books.ts';
import { purposes } from '../ledger/event.ts';
import { costOfTally } from '../ledger/tally.ts';
import { millisToMinor, percentOf } from '../value/money.ts';
import { beyondOf } from './looks.ts';
import type { PurposeRow, Report, ReportItem, Totals } from './report.ts';

/** All money of a report, from its items and its tallies. */
export function totalsOf(all: readonly ReportItem[], tallies: readonly Tally[], lostMillis: number): Totals {
  // What can't be is in no sum, until somebody says that it is so.
  const items = all.filter(({ improbable }) => !improbable);
  const sum = (pick: (item: ReportItem) => number): number =>
    items.reduce((total, item) => total + pick(item), 0);
  const rootOf = (pick: (item: ReportItem) => number): number => Math.sqrt(sum((item) => pick(item) ** 2));
  const costs = items.map((item) => item.missingCostMinor ?? 0);
  const pouredMillis = tallies.reduce((total, tally) => total + costOfTally(tally), 0);
  const poured = millisToMinor(pouredMillis);
  const sold = tallies.reduce((total, tally) => total + tally.soldMinor, 0);
  const standardMillis = tallies.reduce((total, tally) => total + tally.costAs.sale, 0);
  const standard = millisToMinor(standardMillis);
  const missing = costs.reduce((total, cost) => total + cost, 0);
  const lost = millisToMinor(lostMillis);
  const earlier = sum((item) =>
    item.earlier.reduce((total, { missingCostMinor }) => total + (missingCostMinor ?? 0), 0),
  );
  const actual = poured + lost + missing + earlier;
  const ml = items.filter((item) => item.unit === 'ml');
  return {
    missingCostMinor: missing,
    missingCostUncertaintyMinor: Math.round(rootOf((item) => item.missingCostUncertaintyMinor ?? 0)),
    missingMl: Math.round(ml.reduce((total, item) => total + (item.missing ?? 0), 0) * 1000) / 1000,
    missingMlUncertainty:
      Math.round(Math.sqrt(ml.reduce((total, item) => total + (item.uncertainty ?? 0) ** 2, 0)) * 10) / 10,
    missingAloneMinor: costs.filter((cost) => cost > 0).reduce((total, cost) => total + cost, 0),
    extraAloneMinor: -costs.filter((cost) => cost < 0).reduce((total, cost) => total + cost, 0) || 0,
    pouredCostMinor: poured,
    soldMinor: sold,
    // Of costs before they are rounded to money.
    pourCostPercent: percentOf(pouredMillis, sold * 1000, 2),
    standardCostMinor: standard,
    standardPercent: percentOf(standardMillis, sold * 1000, 2),
    actualCostMinor: actual,
    actualPercent: percentOf(pouredMillis + lostMillis + (missing + earlier) * 1000, sold * 1000, 2),
    lostCostMinor: lost,
    earlierCostMinor: earlier,
    counted: all.filter((item) => item.counted !== null).length,
    notCounted: all.filter((item) => item.counted === null && !item.isFirstCount).length,
    firstCounted: all.filter((item) => item.isFirstCount).length,
    ...beyondOf(items),
  };
}

/** What was poured as what, and what that took at cost; purposes nobody used fall away. */
export function purposeRows(tallies: readonly Tally[]): PurposeRow[] {
  return purposes
    .map((as) => ({
      as,
      count: tallies.reduce((sum, tally) => sum + tally.as[as], 0),
      costMinor: millisToMinor(tallies.reduce((sum, tally) => sum + tally.costAs[as], 0)),
    }))
    .filter(({ count }) => count > 0);
}

/** Hours in the order of a night that begins at the cut-off. */
export function hourRows(byHour: ReadonlyMap<string, number>, house: House): Report['hours'] {
  const place = (hour: string): number => (Number(hour) - house.cutOffHour + 24) % 24;
  return [...byHour]
    .map(([hour, count]) => ({ hour, count }))
    .filter(({ count }) => count > 0)
    .sort((a, b) => place(a.hour) - place(b.hour));
}
