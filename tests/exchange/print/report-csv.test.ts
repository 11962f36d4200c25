// The report for a spreadsheet: exact figures, one line an item.
import { expect, it } from 'vitest';
import { newHouse } from '../../../src/domain/catalogue/house.ts';
import { closingReport } from '../../../src/domain/report/closing.ts';
import type { Report, ReportItem } from '../../../src/domain/report/report.ts';
import { csvHeader, readCsv } from '../../../src/exchange/file/csv.ts';
import { reportCsv } from '../../../src/exchange/print/report-csv.ts';
import { anItem, must } from '../../support/shelf.ts';
import { counts, opens, pours, receives, stocks } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const books = booksAfter(
  stocks(anItem('gin', { name: '=SUM(A1), "dry"' }), anItem('rye', { name: '焼酎; rye', costMinor: null })),
  counts('gin', 1400),
  counts('rye', 700),
  opens('2026-11-20'),
  pours('quay', 4, [['gin', 240]]),
  receives('gin', 1, 700),
  counts('gin', 1800.5),
);
const report = closingReport(books) as Report;
function rowsOf(of: Report): Record<string, string>[] {
  const text = reportCsv(of, newHouse);
  return must(readCsv(text, csvHeader(text), [])).rows.map(({ cells }) => Object.fromEntries(cells));
}

it('says what the report says, to the last decimal', () => {
  // 1400 − 240 + 700 = 1860 expected, 1800.5 counted: 59.5 missing, 59.5 ÷ 240 = 24.792 %, at 3 a ml 178.5, half up 179.
  expect(rowsOf(report)[0]).toMatchObject({
    date: '2026-11-20',
    item: 'gin',
    unit: 'ml',
    opening: '1400',
    received: '700',
    poured: '240',
    expected: '1860',
    counted: '1800.5',
    used: '299.5',
    missing: '59.5',
    missing_percent: '24.792',
    missing_cost: '1.79',
    currency: 'EUR',
    verdict: report.items[0]?.verdict ?? '',
  });
});

it('leaves empty what is not known: no zero for what was not counted', () => {
  const rye = rowsOf(report)[1] ?? {};
  expect(rye).toMatchObject({ item: 'rye', expected: '700', verdict: 'not-counted' });
  const unknown = ['counted', 'missing', 'uncertainty_k2', 'missing_cost', 'unlogged', 'corrected_missing'];
  for (const column of unknown) expect([column, rye[column]]).toEqual([column, '']);
});

it('keeps names whole and harmless', () => {
  const text = reportCsv(report, newHouse);
  // A formula is led by an apostrophe, so a spreadsheet shows it and does not run it (OWASP, CSV Injection).
  expect(text).toContain('"\'=SUM(A1), ""dry"""');
  expect(rowsOf(report).map(({ name }) => name)).toEqual(['=SUM(A1), "dry"', '焼酎; rye']);
});

it('keeps figures below zero as numbers', () => {
  const [first] = report.items;
  const extra = { ...(first as ReportItem), missing: -30.25, missingCostMinor: -91 };
  expect(reportCsv({ ...report, items: [extra] }, newHouse)).toContain(',-30.25,');
});

it('shows a correction beside the sealed figure', () => {
  const [first] = report.items;
  const corrected = {
    missing: 10,
    missingCostMinor: 30,
    verdict: 'within-count-error' as const,
    corrections: [],
  };
  const [row] = rowsOf({ ...report, items: [{ ...(first as ReportItem), corrected, unlogged: 60 }] });
  expect(row).toMatchObject({
    missing: '59.5',
    unlogged: '60',
    corrected_missing: '10',
    corrected_verdict: 'within-count-error',
  });
});

it('shows what came after the seal beside the sealed figure', () => {
  const [first] = report.items;
  const { item, name, unit, pieces } = first as ReportItem;
  const row = {
    item,
    name,
    unit,
    pieces,
    missing: 59.5,
    uncertainty: 12,
    missingThen: 19.5,
    uncertaintyThen: 12.5,
    earlierThen: [],
  };
  const cameAfter = {
    drinks: 1,
    soldMinor: 0,
    takenBack: 0,
    counts: 0,
    sealedAgain: [],
    others: 0,
    stations: ['upstairs'],
    items: [row],
  };
  const [gin, rye] = rowsOf({ ...report, cameAfter });
  expect(gin).toMatchObject({
    missing: '59.5',
    came_after_missing: '19.5',
    came_after_uncertainty_k2: '12.5',
  });
  expect(rye).toMatchObject({ came_after_missing: '', came_after_uncertainty_k2: '' });
});

it('is its header alone when there is nothing to report', () => {
  expect(rowsOf({ ...report, items: [] })).toEqual([]);
});
