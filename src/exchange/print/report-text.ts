// The closing report as plain text: for the terminal, for a printer, for pinning up.

import { displayAmount } from '../../domain/catalogue/display.ts';
import type { House } from '../../domain/catalogue/house.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { byWeight } from '../../domain/report/order.ts';
import type { Report, ReportItem } from '../../domain/report/report.ts';
import {
  correctionText,
  lossText,
  noteText,
  reasonText,
  rowMissing,
  slipText,
  totalMissingText,
  totalVolumeText,
  verdictText,
} from '../../domain/report/words.ts';
import { clockText, dateText } from '../../domain/value/clock-date.ts';
import { formatMoney } from '../../domain/value/money.ts';
import { clean } from '../../domain/value/text.ts';
import { layTable } from './table-text.ts';

const amountIn =
  (house: House) =>
  (value: number | null, row: ReportItem): string =>
    value === null ? '' : displayAmount(value * 1000, row.unit, house);

export function reportText(report: Report, books: Books, people = false): string {
  const { shift, house, totals } = report;
  const { zone } = books.house;
  const money = (minor: number): string => `${formatMoney(minor, house.currency)} ${house.currency}`;
  const percent = (value: number | null): string =>
    value === null ? 'nothing sold' : `${value.toFixed(2)} %`;
  const by = shift.sealedBy === null ? '' : ` by ${shift.sealedBy}`;
  const until = shift.closedAt === null ? 'still open' : `sealed ${clockText(shift.closedAt, zone)}${by}`;
  const rows = [...report.items].sort(byWeight(books.house));
  const counted = rows.filter((row) => row.counted !== null);
  const lines = [
    headText(report, `opened ${clockText(shift.openedAt, zone)}, ${until}`),
    '',
    drinksText(report),
    '',
    counted.length === 0 ? 'Nothing was counted in this shift.' : countedTable(counted, books.house),
    notCountedText(rows),
    ...earlierText(rows, books.house),
    ...besideText(rows, books.house, people),
    ...tillText(report),
    ...notesText(report, books.house),
    '',
    `counted        ${totals.counted} of ${totals.counted + totals.notCounted} items`,
    `missing        ${money(totals.missingAloneMinor)} at cost, over all counted items`,
    `extra          ${money(totals.extraAloneMinor)}`,
    `poured         ${money(totals.pouredCostMinor)} at cost`,
    `sold           ${money(totals.soldMinor)}`,
    `all together   ${totalMissingText(report, books.house)}, ${totalVolumeText(report, books.house)} of liquid`,
    ...(totals.earlierCostMinor === 0
      ? []
      : [
          `earlier        ${money(Math.abs(totals.earlierCostMinor))} ${totals.earlierCostMinor > 0 ? 'missing' : 'extra'} in stretches that ended before the last counts`,
        ]),
    ...(totals.lostCostMinor === 0 ? [] : [`lost           ${money(totals.lostCostMinor)} at cost`]),
    ...lossLines(report, books.house, people),
    `pour cost      ${percent(totals.pourCostPercent)}`,
    `  standard     ${percent(totals.standardPercent)}, what was sold at the cost of its specs`,
    `  actual       ${percent(totals.actualPercent)}, all that left, counted where it was counted`,
    '',
    '± is k=2, about 95 in 100. Missing may be an unlogged drink, a spill, a move or delivery not entered, a spec, a spout, a count.',
  ];
  return `${lines
    .map((line) =>
      line
        .split('\n')
        .map((part) => clean(part))
        .join('\n'),
    )
    .join('\n')}\n`;
}

/** Loss by loss, the dearest first. */
const lossLines = ({ losses, house: { currency } }: Report, house: House, people: boolean): string[] =>
  losses.map((loss) => {
    const worth = loss.costMinor === null ? '' : formatMoney(loss.costMinor, currency);
    return `  ${worth.padStart(9)}    ${lossText(loss, house, people)}`;
  });

function headText({ house, shift }: Report, times: string): string {
  if (shift.to === undefined)
    return `${house.name} · closing report of ${dateText(shift.date)} (${shift.date}), ${times}`;
  return `${house.name} · report from ${shift.date} to ${shift.to}, ${shift.shifts} shifts`;
}

function drinksText(report: Report): string {
  const count = report.drinks.reduce((sum, drink) => sum + drink.count, 0);
  const straight =
    report.straight === 0
      ? ''
      : ` And ${report.straight} straight measure${report.straight === 1 ? '' : 's'}, without a price.`;
  if (count === 0) return `No drinks were poured.${straight}`;
  const top = report.drinks.slice(0, 8).map((drink) => `${drink.count} ${drink.name}`);
  const more = report.drinks.length > 8 ? `, and ${report.drinks.length - 8} more specs` : '';
  const { currency } = report.house;
  const rest = report.purposes
    .filter(({ as }) => as !== 'sale')
    .map(({ as, count: number, costMinor }) => `${number} ${as} (${formatMoney(costMinor, currency)})`)
    .join(', ');
  return `${count} drinks: ${top.join(', ')}${more}.${straight}${rest === '' ? '' : `\nOf all pours ${rest} ${currency} at cost; it is in the cost, not in the sales.`}`;
}

function countedTable(rows: readonly ReportItem[], house: House): string {
  const amount = amountIn(house);
  return layTable(
    [
      'item',
      '>opening',
      '>in',
      '>out',
      '>logged',
      '>expected',
      '>counted',
      '>missing or extra',
      'verdict',
      '>value',
    ],
    rows.map((row) => [
      row.name,
      amount(row.opening, row),
      row.received + row.movedIn === 0 ? '' : amount(row.received + row.movedIn, row),
      row.movedOut === 0 ? '' : amount(row.movedOut, row),
      amount(row.poured + row.lost, row),
      amount(row.expected, row),
      amount(row.counted, row),
      rowMissing(row, house),
      verdictText(row),
      row.missingCostMinor === null ? '' : formatMoney(row.missingCostMinor, house.currency),
    ]),
  );
}

function notCountedText(rows: readonly ReportItem[]): string {
  const names = (wanted: boolean): string =>
    rows
      .filter((row) => row.counted === null && row.isFirstCount === wanted)
      .map((row) => row.name)
      .join(', ');
  const [first, none] = [names(true), names(false)];
  return `${first === '' ? '' : `\ncounted for the first time, nothing to compare with yet: ${first}`}${none === '' ? '' : `\nnot counted: ${none}`}`;
}

const MOST_BESIDE = 8;

/** Beside what stands out: who and what drew on it, a likely slip, a later correction. */
function besideText(rows: readonly ReportItem[], house: House, people: boolean): string[] {
  const told = rows
    .filter((row) => row.verdict === 'real' || row.verdict === 'likely' || row.corrected !== null)
    .slice(0, MOST_BESIDE);
  return told.flatMap((row) => {
    const more = [slipText(row, house), correctionText(row, house)].filter((text) => text !== '');
    return [`${row.name}: ${reasonText(row, house, people)}`, ...more.map((text) => `  ${text}`)];
  });
}

/** Only what does not agree; the page and the JSON have all of it. */
function tillText({ till }: Report): string[] {
  if (till === null) return [];
  const off = till.filter(
    ({ match, difference }) => match === 'unknown' || (difference !== null && difference !== 0),
  );
  const sold = till.reduce((sum, row) => sum + row.sold, 0);
  if (off.length === 0) return ['', `till: ${sold} sold, and the tally agrees drink by drink`];
  const lines = off.map(({ drink, match, sold: many, logged, difference }) =>
    match === 'unknown'
      ? `  ${drink}: ${many} sold, no spec matched yet (ullage match "${drink}" SPEC)`
      : `  ${drink}: ${many} sold, ${logged} logged, ${Math.abs(difference ?? 0)} ${(difference ?? 0) > 0 ? 'not logged' : 'not in the till'}`,
  );
  return ['', `till: ${sold} sold; not the same in the tally:`, ...lines];
}

function notesText(report: Report, house: House): string[] {
  return report.notes.map((note) => `note, ${noteText(note, house)}`);
}

function earlierText(rows: readonly ReportItem[], house: House): string[] {
  const { zone } = house;
  return rows.flatMap((row) =>
    row.earlier.map((stretch) => {
      const text = rowMissing({ ...row, missing: stretch.missing, uncertainty: stretch.uncertainty }, house);
      return `earlier, ${clockText(stretch.from, zone)} to ${clockText(stretch.to, zone)}: ${row.name} ${text}`;
    }),
  );
}
