// The report on a strip of paper: 42 characters wide, only what is to be known at a glance.

import type { Books } from '../../domain/ledger/books.ts';
import { leadOf } from '../../domain/report/lead.ts';
import type { Report } from '../../domain/report/report.ts';
import {
  cameAfterLines,
  looksText,
  missingIn,
  rowMissing,
  totalMissingText,
  verdictText,
} from '../../domain/report/words.ts';
import { clockText, dateText } from '../../domain/value/clock-date.ts';
import { formatMoney } from '../../domain/value/money.ts';
import { clean } from '../../domain/value/text.ts';
import { fitCells, widthOfText } from './table-text.ts';

const WIDTH = 42;
const MOST_ITEMS = 12;

const rule = '-'.repeat(WIDTH);
/** Name on the left, figure on the right edge. */
const pair = (name: string, figure: string): string =>
  `${fitCells(name, Math.max(0, WIDTH - 1 - widthOfText(figure)))} ${figure}`;

export function receiptText(report: Report, books: Books): string {
  const { house } = books;
  const { shift, totals } = report;
  const money = (minor: number): string => formatMoney(minor, house.currency);
  const drinks = report.drinks.reduce((sum, drink) => sum + drink.count, 0);
  const lead = leadOf(report, house);
  const corrected = [...lead.perhaps, ...lead.within].filter((row) => row.corrected !== null);
  const worst = [...lead.improbable, ...lead.real, ...corrected].slice(0, MOST_ITEMS);
  const others = report.purposes.filter(({ as }) => as !== 'sale');
  const percent = (value: number | null): string =>
    value === null ? 'nothing sold' : `${value.toFixed(1)} %`;
  const lines = [
    house.name,
    shift.to === undefined ? `${dateText(shift.date)} (${shift.date})` : `${shift.date} to ${shift.to}`,
    shift.closedAt === null
      ? 'still open'
      : `sealed ${clockText(shift.closedAt, house.zone)}${shift.sealedBy === null ? '' : ` by ${shift.sealedBy}`}`,
    rule,
    pair('drinks', String(drinks)),
    ...others.map(({ as, count }) => pair(`  of them ${as}`, String(count))),
    pair(`sold, ${house.currency}`, money(totals.soldMinor)),
    pair('pour cost, standard', percent(totals.standardPercent)),
    pair('pour cost, actual', percent(totals.actualPercent)),
    pair('counted', `${totals.counted} of ${totals.counted + totals.notCounted}`),
    ...wrapTo(`all together ${totalMissingText(report, house)}`),
    ...wrapTo(looksText(report)),
    rule,
    ...(worst.length === 0
      ? ['nothing missing that is sure and dear']
      : worst.flatMap((row) => [
          row.name,
          pair('', `${rowMissing(row, house)} ${verdictText(row)}`),
          ...(row.corrected === null
            ? []
            : [pair('', `corrected ${missingIn(row, row.corrected.missing, row.uncertainty ?? 0, house)}`)]),
        ])),
    ...cameAfterLines(report, house).flatMap(wrapTo),
    rule,
    ...wrapTo(
      '± is k=2. Missing may be an unlogged drink, a spill, a delivery or move not entered, a count.',
    ),
  ];
  return `${lines.map((line) => fitCells(clean(line), WIDTH).trimEnd()).join('\n')}\n`;
}

function wrapTo(text: string): string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines.at(-1);
    if (last !== undefined && widthOfText(`${last} ${word}`) <= WIDTH)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}
