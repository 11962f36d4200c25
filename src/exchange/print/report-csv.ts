// The report as CSV: one line an item, exact figures, safe to open in a spreadsheet.
import type { Report } from '../../domain/report/report.ts';
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
  'missing_cost_minor',
  'verdict',
  'missing_cost_uncertainty_minor',
  'unlogged',
  'corrected_missing',
  'corrected_verdict',
];

export function reportCsv(report: Report): string {
  const text = (value: string | number | null): string => (value === null ? '' : String(value));
  return writeCsv(
    columns,
    report.items.map((row) =>
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
        row.missingCostMinor,
        row.verdict,
        row.missingCostUncertaintyMinor,
        row.unlogged,
        row.corrected?.missing ?? null,
        row.corrected?.verdict ?? null,
      ].map(text),
    ),
  );
}
