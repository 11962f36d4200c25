// The Close room's sentences: the totals above the list, and why under it.

import type { Books } from '../../domain/ledger/books.ts';
import { type Lead, nextSteps, stepFor } from '../../domain/report/lead.ts';
import { isBeyond } from '../../domain/report/looks.ts';
import type { Report, ReportItem } from '../../domain/report/report.ts';
import {
  amountIn,
  cameAfterLines,
  correctionText,
  costWords,
  kindsText,
  looksText,
  lossText,
  missingIn,
  reasonText,
  slipText,
  totalMissingText,
  unpricedText,
  wentText,
} from '../../domain/report/words.ts';
import { clockText, dateText } from '../../domain/value/clock-date.ts';
import type { Dialog } from '../dialog.ts';
import { moneyText } from '../format.ts';
import { cut, type Line, line, widthOf, wrap } from '../parts/line.ts';
import type { Size } from '../room.ts';

/** In a low window only the two lines that matter; else every purpose has its own. */
const LOW = 18;
const TALL = 30;

/** Everything of the totals that a small window has no room for: what it sold for, what it cost, what went, what to do. */
export function allTotals(report: Report, lead: Lead, books: Books, marked: ReportItem | undefined): Dialog {
  const { head, counted, costs, kinds, purposes } = totalsText(report, books);
  const blocks = [
    [counted],
    [...costs, ...(kinds === '' ? [] : [`by kind: ${kinds}`]), ...purposes],
    lostLines(report, books, TALL, report.losses.length),
    stepLines(report, lead, books),
    marked === undefined
      ? []
      : [`${marked.name}:`, ...detailTexts(report, books, marked).map((text) => `  ${text}`)],
  ];
  const lines = blocks.filter((block) => block.length > 0).flatMap((block) => ['', ...block]);
  return { kind: 'note', title: head, lines: lines.slice(1) };
}

function totalsText(report: Report, books: Books) {
  const { totals } = report;
  const drinks = report.drinks.reduce((sum, drink) => sum + drink.count, 0);
  const money = (minor: number): string => `${moneyText(minor, books)} ${books.house.currency}`;
  const others = report.purposes.filter(({ as }) => as !== 'sale');
  const purposes = others.map(({ as, count, costMinor }) => `${count} ${as}, ${money(costMinor)} at cost`);
  const costs = [
    `pour cost ${percentText(totals.pourCostPercent)}, ${costWords.pourCost}`,
    `standard ${percentText(totals.standardPercent)}, ${costWords.standard}`,
    `actual ${percentText(totals.actualPercent)}, ${costWords.actual}`,
  ];
  const counted =
    totals.counted === 0
      ? 'nothing counted yet'
      : `${looksText(report)}${JOINT}${totalMissingText(report, books.house)}`;
  const unpriced = unpricedText(report);
  const head = `${nightText(report, books.house.zone)} · ${drinks} drink${drinks === 1 ? '' : 's'} · sold ${money(totals.soldMinor)}${unpriced === '' ? '' : ` · ${unpriced}`}`;
  return { head, counted, costs, kinds: kindsText(report, books.house), purposes };
}

const percentText = (value: number | null): string =>
  value === null ? 'nothing sold' : `${value.toFixed(1)} %`;

/** Three figures on one line; what each is of stands with all the totals. */
const costsShort = ({ totals }: Report): string =>
  `pour cost ${percentText(totals.pourCostPercent)} · standard ${percentText(totals.standardPercent)} · actual ${percentText(totals.actualPercent)}`;

/** What two sentences stand on one line with, where that has room for both. */
const JOINT = ' · ';

/** What else can be done here, where there is room to say it whole. */
function withHint(head: string, columns: number): string {
  const whole = `${head} · a date typed shows another night`;
  return widthOf(whole) <= columns ? whole : head;
}

export function totalsLines(report: Report, lead: Lead, books: Books, { columns, rows }: Size): Line[] {
  const { totals } = report;
  const { head, counted, costs, kinds, purposes } = totalsText(report, books);
  const isTall = rows >= TALL;
  const isNothing = totals.counted === 0 && totals.soldMinor === 0;
  const lines = [
    withHint(head, columns),
    ...(widthOf(counted) <= columns ? [counted] : counted.split(JOINT)),
    ...(rows < LOW || isNothing ? [] : isTall ? costs : [costsShort(report)]),
    ...(rows < LOW || kinds === '' ? [] : [`by kind: ${kinds}`]),
    ...(rows < LOW || purposes.length === 0 ? [] : isTall ? purposes : [purposes.join(' · ')]),
    ...(rows < LOW ? [] : lostLines(report, books, rows, MOST_LOSSES)),
    ...cameAfterLines(report, books.house),
    ...(isTall ? stepLines(report, lead, books) : []),
  ];
  return lines.map((text) => line(cut(text, columns)));
}

/** Which night it is, and whether it is closed. */
function nightText({ shift }: Report, zone: string): string {
  const by = shift.sealedBy === null ? '' : ` by ${shift.sealedBy}`;
  const status = shift.closedAt === null ? 'open' : `sealed ${clockText(shift.closedAt, zone)}${by}`;
  return shift.to === undefined
    ? `${dateText(shift.date)} ${shift.date.slice(0, 4)}, ${status}`
    : `${shift.date} to ${shift.to}, ${shift.shifts} shifts, the last one ${status}`;
}

/** What to do, the dearest first: where there is room; else the marked row says its own. */
function stepLines(report: Report, lead: Lead, { house }: Books): string[] {
  const steps = nextSteps(report, lead, house);
  return steps.length === 0 ? [] : ['what to do', ...steps.map((step) => `  ${step}`)];
}

/** What was lost and what it was worth, the dearest first: a line each in a high window, else one for all. */
function lostLines(report: Report, books: Books, rows: number, most: number): string[] {
  const { losses } = report;
  if (losses.length === 0) return [];
  const worth = (minor: number | null): string => (minor === null ? '' : ` ${moneyText(minor, books)}`);
  const each = losses.map((loss) => `${lossText(report, loss, books.house, true)}${worth(loss.costMinor)}`);
  const head = `lost ${wentText(report)}`;
  return rows >= TALL
    ? [head, ...each.slice(0, most).map((text) => `  ${text}`)]
    : [`${head}: ${each.join(' · ')}`];
}
const MOST_LOSSES = 4;

/** Why: the identity in figures, who drew on it, what else it may be; then the notes. */
export function detailLines(report: Report, books: Books, row: ReportItem | undefined, size: Size): Line[] {
  if (row === undefined) return [];
  const most = size.rows < LOW ? 4 : size.rows < TALL ? 6 : 12;
  const all = detailTexts(report, books, row).flatMap((text) => wrap(text, size.columns));
  const shown = all.length <= most ? all : [...all.slice(0, most - 1), REST];
  return shown.map((text) => line(text));
}

const REST = '  … = shows the rest';

function detailTexts(report: Report, books: Books, row: ReportItem): string[] {
  const amount = (value: number): string => amountIn(row, value, books.house);
  const flows = [
    `opening ${amount(row.opening)}`,
    row.received > 0 ? `+ received ${amount(row.received)}` : '',
    row.movedIn > 0 ? `+ moved in ${amount(row.movedIn)}` : '',
    row.movedOut > 0 ? `− moved out ${amount(row.movedOut)}` : '',
    row.made > 0 ? `+ made ${amount(row.made)}` : '',
    row.prepped > 0 ? `− used in making ${amount(row.prepped)}` : '',
    `− poured ${amount(row.poured)}`,
    row.lost > 0 ? `− lost ${amount(row.lost)}` : '',
    `= expected ${amount(row.expected)}`,
  ];
  const { zone } = books.house;
  const earlier = row.earlier.map(
    ({ from, to, missing, uncertainty }) =>
      `${clockText(from, zone)}–${clockText(to, zone)}: ${missingIn(row, missing, uncertainty, books.house)}`,
  );
  return [
    flows.filter((part) => part !== '').join(' '),
    correctionText(row, books.house),
    slipText(row, books.house),
    reasonText(row, books.house, true),
    earlier.length === 0 ? '' : `earlier ${earlier.join(', ')}`,
    row.lookedTwice ? 'its last reading was looked at twice' : '',
    isBeyond(row) || row.improbable ? stepFor(row, books.house) : '',
    isBeyond(row)
      ? 'may be an unlogged drink, a spill, a delivery or move not entered, a spec, a spout, a count'
      : '',
    ...noteLines(report, row, zone),
  ].filter((text) => text !== '');
}

/** Notes on the marked item, and on the shift as a whole. */
const noteLines = ({ notes }: Report, row: ReportItem, zone: string): string[] =>
  notes
    .filter(({ item }) => item === null || item === row.item)
    .map(({ text, by, at }) => `note ${clockText(at, zone)}${by === null ? '' : ` ${by}`}: ${text}`);
