// The report as CSV: one line an item, the dearest first, exact figures, money as money, safe to open in a spreadsheet.
import type { House } from '../../domain/catalogue/house.ts';
import { byWeight } from '../../domain/report/order.ts';
import type { Report } from '../../domain/report/report.ts';
import { formatMoney } from '../../domain/value/money.ts';
import { writeCsv } from '../file/csv.ts';

const columns = [
  'date',
  'item',
  'name',
  'unit',
  'from',
  'to',
  'opening',
  'received',
  'moved_in',
  'moved_out',
  'poured',
  'lost',
  'expected',
  'counted',
  'used',
  'missing',
  'uncertainty_k2',
  'missing_percent',
  'missing_cost',
  'verdict',
  'missing_cost_uncertainty',
  'currency',
  'unlogged',
  'corrected_missing',
  'corrected_verdict',
  'q',
  'improbable',
  'made',
  'prepped',
  'came_after_missing',
  'came_after_uncertainty_k2',
];

export function reportCsv(report: Report, house: House): string {
  const text = (value: string | number | null): string => (value === null ? '' : String(value));
  const money = (minor: number | null): string | null =>
    minor === null ? null : formatMoney(Math.round(minor), report.house.currency);
  const after = new Map(report.cameAfter?.items.map((row) => [row.item, row]));
  return writeCsv(
    columns,
    // What matters first, as everywhere.
    [...report.items]
      .sort(byWeight(house))
      .map((row) =>
        [
          report.shift.date,
          row.item,
          row.name,
          row.unit,
          row.from,
          row.to,
          row.opening,
          row.received,
          row.movedIn,
          row.movedOut,
          row.poured,
          row.lost,
          row.expected,
          row.counted,
          row.used,
          row.missing,
          row.uncertainty,
          row.missingPercent,
          money(row.missingCostMinor),
          row.verdict,
          money(row.missingCostUncertaintyMinor),
          report.house.currency,
          row.unlogged,
          row.corrected?.missing ?? null,
          row.corrected?.verdict ?? null,
          row.q,
          row.improbable ? 'improbable' : null,
          row.made,
          row.prepped,
          after.get(row.item)?.missingThen ?? null,
          after.get(row.item)?.uncertaintyThen ?? null,
        ].map(text),
      ),
  );
}
