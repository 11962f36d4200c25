// The report on a strip of paper, 42 characters wide.
import { expect, it } from 'vitest';
import { closingReport } from '../../../src/domain/report/closing.ts';
import type { Report, ReportItem } from '../../../src/domain/report/report.ts';
import { receiptText } from '../../../src/exchange/print/receipt-text.ts';
import { widthOfText } from '../../../src/exchange/print/table-text.ts';
import { anItem } from '../../support/shelf.ts';
import { at, counts, joins, opens, pours, type Step, seals, sets, stocks } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const night = (...more: readonly Step[]) =>
  booksAfter(
    sets('name', 'Oddtide'),
    joins('Ines'),
    stocks(anItem('gin', { name: 'Dry gin' }), anItem('rye', { name: 'Straight rye' })),
    counts('gin', 1400, { deviation: 20_000 }),
    counts('rye', 700),
    at('2026-11-20T19:00:00.000Z', opens()),
    pours('quay', 10, [['gin', 600, 1_800_000]], { price: 900 }),
    pours('quay', 1, [['gin', 60, 180_000]], { as: 'comp', price: 900 }),
    more,
  );
const countedGin = counts('gin', 440, { deviation: 20_000 });
const closed = night(countedGin, at('2026-11-21T01:30:00.000Z', seals('ines')));
const lines = (books = closed, change: (report: Report) => Report = (report) => report): string[] =>
  receiptText(change(closingReport(books) as Report), books).split('\n');

/** A name at the left edge of the paper and a figure at the right one. */
const pair = (name: string, figure: string): string => `${name}${figure.padStart(42 - name.length)}`;

it('says at a glance what there is to know', () => {
  const strip = lines();
  expect(strip.slice(0, 3)).toEqual(['Oddtide', 'Fri 20 Nov (2026-11-20)', 'sealed 01:30 by Ines']);
  // Eleven glasses, one of them a comp; ten sold at 9.00. Ten cost 18.00: 20 %.
  expect(strip).toContain(pair('drinks', '11'));
  expect(strip).toContain(pair('  of them comp', '1'));
  expect(strip).toContain(pair('sold, EUR', '90.00'));
  expect(strip).toContain(pair('pour cost, standard', '20.0 %'));
  expect(strip).toContain(pair('counted', '1 of 2'));
});

it('names what is beyond count error, and only that', () => {
  // 1400 − 660 = 740 expected, 440 counted: 300 missing, U = 2√(2 × 20² + 11 × 1.5²) = 57.4.
  const strip = lines();
  expect(strip).toContain('Dry gin');
  expect(strip).toContain(pair('', '300 ml missing ±57 real'));
  expect(strip).not.toContain('Straight rye');
  const fine = night(counts('gin', 735, { deviation: 20_000 }));
  expect(lines(fine)).toContain('nothing missing that is sure and dear');
});

it('shows a later correction under the sealed figure', () => {
  const corrected = {
    missing: 10,
    missingCostMinor: 30,
    verdict: 'within-count-error' as const,
    corrections: [],
  };
  const strip = lines(closed, (report) => ({
    ...report,
    items: report.items.map((row) => (row.item === 'gin' ? { ...row, corrected } : row)),
  }));
  const sealed = strip.indexOf(pair('', '300 ml missing ±57 real'));
  expect(strip[sealed + 1]?.trim()).toBe('corrected 10 ml missing ±57');
});

it('says that a shift is still open, and that nothing was sold', () => {
  expect(lines(night())).toContain('still open');
  const quiet = booksAfter(stocks(anItem('gin')), opens());
  expect(lines(quiet)).toContain(pair('pour cost, standard', 'nothing sold'));
});

it('lists twelve items at most', () => {
  const [row] = (closingReport(closed) as Report).items;
  const strip = lines(closed, (report) => ({
    ...report,
    items: Array.from({ length: 30 }, (_, n) => ({ ...(row as ReportItem), name: `Item ${n}` })),
  }));
  expect(strip.filter((line) => line.startsWith('Item '))).toHaveLength(12);
});

it('is never wider than the paper and never ends a line in spaces, whatever the names', () => {
  const long = '焼酎と梅酒とジンとライウイスキーの長い名前とその続き';
  const strip = lines(closed, (report) => ({
    ...report,
    items: report.items.map((row) => ({ ...row, name: `${long}\u001b[31m` })),
    shift: { ...report.shift, sealedBy: 'x'.repeat(60) },
  }));
  for (const line of strip) {
    expect(widthOfText(line), line).toBeLessThanOrEqual(42);
    expect(line).toBe(line.trimEnd());
    expect(line).not.toContain('\u001b');
  }
  expect(strip.some((line) => line.endsWith('…'))).toBe(true);
  expect(strip.at(-1)).toBe('');
});
