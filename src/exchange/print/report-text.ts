// The closing report as plain text: for the terminal, for a printer, for pinning up.

import type { House } from '../../domain/catalogue/house.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { leadOf, nextSteps, restLines } from '../../domain/report/lead.ts';
import { byWeight } from '../../domain/report/order.ts';
import type { Report, ReportItem } from '../../domain/report/report.ts';
import {
  amountIn,
  cameAfterLines,
  correctionText,
  costWords,
  kindsText,
  looksText,
  lossText,
  noteText,
  reasonText,
  rowMissing,
  slipText,
  totalMissingText,
  unpricedText,
  verdictText,
  wentText,
} from '../../domain/report/words.ts';
import { clockText, dateText } from '../../domain/value/clock-date.ts';
import { formatMoney } from '../../domain/value/money.ts';
import { clean } from '../../domain/value/text.ts';
import { layTable } from './table-text.ts';

export type TextWish = {
  /** Who poured, beside the figures. */
  readonly people?: boolean;
  /** The whole table, not only what is put forward. */
  readonly all?: boolean;
};

export function reportText(report: Report, books: Books, wish: TextWish = {}): string {
  const { house } = books;
  const { shift } = report;
  const by = shift.sealedBy === null ? '' : ` by ${shift.sealedBy}`;
  const until =
    shift.closedAt === null ? 'still open' : `sealed ${clockText(shift.closedAt, house.zone)}${by}`;
  const lines = [
    headText(report, `opened ${clockText(shift.openedAt, house.zone)}, ${until}`),
    '',
    drinksText(report),
    '',
    ...leadText(report, house, wish.people === true),
    ...(wish.all === true ? ['', ...wholeText([...report.items].sort(byWeight(house)), house)] : []),
    ...tillText(report),
    ...cameAfterLines(report, house),
    ...notesText(report, house),
    '',
    ...totalsText(report, house),
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

/** What went, what is missing and real, what to do about it, and the rest as a line. */
function leadText(report: Report, house: House, people: boolean): string[] {
  const lead = leadOf(report, house);
  const put = [...lead.improbable, ...lead.real];
  const steps = nextSteps(report, lead, house);
  const rest = restLines(lead);
  return [
    `What went: ${wentText(report)}`,
    ...lossLines(report, house, people),
    '',
    `Missing or extra, and real: ${put.length === 0 ? 'nothing' : ''}`.trim(),
    ...(put.length === 0 ? [] : [leadTable(put, house), ...besideText(put, house, people)]),
    `${looksText(report)}.`,
    ...(steps.length === 0 ? [] : ['', 'What to do', ...steps.map((step) => `  ${step}`)]),
    ...(rest.length === 0 ? [] : ['', 'The rest', ...rest.map((text) => `  ${text}`)]),
    ...correctedText([...lead.perhaps, ...lead.within], house),
    ...earlierText(put, house),
  ];
}

const leadTable = (rows: readonly ReportItem[], house: House): string =>
  layTable(
    ['item', '>missing or extra', '>value', 'certainty'],
    rows.map((row) => [
      row.name,
      rowMissing(row, house),
      row.missingCostMinor === null ? '' : formatMoney(row.missingCostMinor, house.currency),
      `${verdictText(row)}${row.lookedTwice ? ', looked at twice' : ''}`,
    ]),
  );

/** What a later correction says of a row that is not put forward. */
const correctedText = (rows: readonly ReportItem[], house: House): string[] =>
  rows.flatMap((row) => (row.corrected === null ? [] : [`  ${row.name}: ${correctionText(row, house)}`]));

function wholeText(rows: readonly ReportItem[], house: House): string[] {
  const counted = rows.filter((row) => row.counted !== null);
  return [
    counted.length === 0 ? 'Nothing was counted in this shift.' : countedTable(counted, house),
    ...earlierText(rows, house),
  ];
}

function totalsText(report: Report, house: House): string[] {
  const { totals } = report;
  const money = (minor: number): string => `${formatMoney(minor, house.currency)} ${house.currency}`;
  const percent = (value: number | null): string =>
    value === null ? 'nothing sold' : `${value.toFixed(2)} %`;
  const kinds = kindsText(report, house);
  const earlier = totals.earlierCostMinor;
  const unpriced = unpricedText(report);
  return [
    `counted        ${totals.counted} of ${totals.counted + totals.notCounted} items`,
    `missing        ${money(totals.missingAloneMinor)} at cost, over all counted items`,
    `extra          ${money(totals.extraAloneMinor)}`,
    `all together   ${totalMissingText(report, house)}`,
    ...(kinds === '' ? [] : [`by kind        ${kinds}`]),
    ...(earlier === 0
      ? []
      : [
          `earlier        ${money(Math.abs(earlier))} ${earlier > 0 ? 'missing' : 'extra'} in stretches that ended before the last counts`,
        ]),
    `poured         ${money(totals.pouredCostMinor)} at cost`,
    `sold           ${money(totals.soldMinor)}${unpriced === '' ? '' : `; ${unpriced}`}`,
    `pour cost      ${percent(totals.pourCostPercent)}, ${costWords.pourCost}`,
    `  standard     ${percent(totals.standardPercent)}, ${costWords.standard}`,
    `  actual       ${percent(totals.actualPercent)}, ${costWords.actual}`,
  ];
}

/** Loss by loss, the dearest first. */
const lossLines = (report: Report, house: House, people: boolean): string[] =>
  report.losses.map((loss) => {
    const worth = loss.costMinor === null ? '' : formatMoney(loss.costMinor, report.house.currency);
    return `  ${worth.padStart(9)}    ${lossText(report, loss, house, people)}`;
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
      : ` And ${report.straight} straight measure${report.straight === 1 ? '' : 's'}, ${report.straightSoldMinor === 0 ? 'without a price' : `sold for ${formatMoney(report.straightSoldMinor, report.house.currency)} ${report.house.currency}`}.`;
  if (count === 0) return `No drinks were poured.${straight}`;
  const top = report.drinks.slice(0, 8).map((drink) => `${drink.count} ${drink.name}`);
  const more = report.drinks.length > 8 ? `, and ${report.drinks.length - 8} more specs` : '';
  const { currency } = report.house;
  const rest = report.purposes
    .filter(({ as }) => as !== 'sale')
    .map(({ as, count: number, costMinor }) => `${number} ${as} (${formatMoney(costMinor, currency)})`)
    .join(', ');
  return `${count} ${count === 1 ? 'drink' : 'drinks'}: ${top.join(', ')}${more}.${straight}${rest === '' ? '' : `\nOf all pours ${rest} ${currency} at cost; it is in the cost, not in the sales.`}`;
}

function countedTable(rows: readonly ReportItem[], house: House): string {
  const amount = (value: number | null, row: ReportItem): string =>
    value === null ? '' : amountIn(row, value, house);
  const someAmount = (value: number, row: ReportItem): string => (value === 0 ? '' : amount(value, row));
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
      someAmount(row.received + row.movedIn + row.made, row),
      someAmount(row.movedOut + row.prepped, row),
      amount(row.poured + row.lost, row),
      amount(row.expected, row),
      amount(row.counted, row),
      rowMissing(row, house),
      verdictText(row),
      row.missingCostMinor === null ? '' : formatMoney(row.missingCostMinor, house.currency),
    ]),
  );
}

/** Beside what stands out: who and what drew on it, a likely slip, a later correction. */
const besideText = (rows: readonly ReportItem[], house: House, people: boolean): string[] =>
  rows.flatMap((row) => {
    const more = [slipText(row, house), correctionText(row, house)].filter((text) => text !== '');
    return [`${row.name}: ${reasonText(row, house, people)}`, ...more.map((text) => `  ${text}`)];
  });

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
      ? `  ${drink}: ${many} sold, nobody said which drink (ullage match "${drink}" SPEC)`
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
