// The Close room's sentences: the totals above the list, and why under it.

import { missingText } from '../../domain/catalogue/display.ts';
import type { Books } from '../../domain/ledger/books.ts';
import type { Report, ReportItem } from '../../domain/report/report.ts';
import {
  correctionText,
  lossText,
  reasonText,
  slipText,
  totalMissingText,
  totalVolumeText,
} from '../../domain/report/words.ts';
import { clockText } from '../../domain/value/clock-date.ts';
import { amountText, moneyText } from '../format.ts';
import { cut, type Line, line, wrap } from '../parts/line.ts';
import type { Size } from '../room.ts';

/** In a low window only the two lines that matter; else every purpose has its own. */
const LOW = 18;
const TALL = 30;

export function totalsLines(report: Report, books: Books, { columns, rows }: Size): Line[] {
  const { totals, shift } = report;
  const drinks = report.drinks.reduce((sum, drink) => sum + drink.count, 0);
  const by = shift.sealedBy === null ? '' : ` by ${shift.sealedBy}`;
  const status =
    shift.closedAt === null ? 'open' : `sealed ${clockText(shift.closedAt, books.house.zone)}${by}`;
  const money = (minor: number): string => `${moneyText(minor, books)} ${books.house.currency}`;
  const percent = (value: number | null): string =>
    value === null ? 'nothing sold' : `${value.toFixed(1)} %`;
  const others = report.purposes.filter(({ as }) => as !== 'sale');
  const purposes = others.map(({ as, count, costMinor }) => `${count} ${as}, ${money(costMinor)} at cost`);
  const cost = `pour cost standard ${percent(totals.standardPercent)}, actual ${percent(totals.actualPercent)}`;
  const counted =
    totals.counted === 0
      ? 'nothing counted yet'
      : `${totals.counted} of ${totals.counted + totals.notCounted} counted · all together ${totalMissingText(report, books.house)}`;
  const lines = [
    `${drinks} drink${drinks === 1 ? '' : 's'} · sold ${money(totals.soldMinor)} · ${rows < LOW ? `actual ${percent(totals.actualPercent)}` : `poured ${money(totals.pouredCostMinor)} at cost`}`,
    `${counted} · shift ${status}`,
    ...(rows < LOW || (totals.counted === 0 && totals.soldMinor === 0)
      ? []
      : [
          `${cost} · ${totalVolumeText(report, books.house)} in all`,
          ...(rows >= TALL ? purposes : purposes.length === 0 ? [] : [purposes.join(' · ')]),
        ]),
    ...(rows < LOW ? [] : lostLines(report, books, rows)),
  ];
  return lines.map((text) => line(cut(text, columns)));
}

/** What was lost and what it was worth, the dearest first: a line each in a high window, else one for all. */
function lostLines({ totals, losses }: Report, books: Books, rows: number): string[] {
  if (losses.length === 0) return [];
  const worth = (minor: number | null): string => (minor === null ? '' : ` ${moneyText(minor, books)}`);
  const each = losses.map((loss) => `${lossText(loss, books.house, true)}${worth(loss.costMinor)}`);
  const head = `lost ${moneyText(totals.lostCostMinor, books)} ${books.house.currency} at cost`;
  return rows >= TALL
    ? [head, ...each.slice(0, MOST_LOSSES).map((text) => `  ${text}`)]
    : [`${head}: ${each.join(' · ')}`];
}
const MOST_LOSSES = 4;

/** Why: the identity in figures, who drew on it, what else it may be; then the notes. */
export function detailLines(report: Report, books: Books, row: ReportItem | undefined, size: Size): Line[] {
  if (row === undefined) return [];
  const amount = (value: number): string => amountText(value * 1000, row.unit, books);
  const flows = [
    `opening ${amount(row.opening)}`,
    row.received > 0 ? `+ received ${amount(row.received)}` : '',
    row.movedIn > 0 ? `+ moved in ${amount(row.movedIn)}` : '',
    row.movedOut > 0 ? `− moved out ${amount(row.movedOut)}` : '',
    `− poured ${amount(row.poured)}`,
    row.lost > 0 ? `− lost ${amount(row.lost)}` : '',
    `= expected ${amount(row.expected)}`,
  ];
  const { zone } = books.house;
  const earlier = row.earlier.map(
    ({ from, to, missing, uncertainty }) =>
      `${clockText(from, zone)}–${clockText(to, zone)}: ${missingText(missing * 1000, uncertainty * 1000, row.unit, books.house)}`,
  );
  const lines = [
    flows.filter((part) => part !== '').join(' '),
    correctionText(row, books.house),
    slipText(row, books.house),
    reasonText(row, books.house, true),
    earlier.length === 0 ? '' : `earlier ${earlier.join(', ')}`,
    row.verdict === 'real' || row.verdict === 'likely'
      ? 'may be an unlogged drink, a spill, a delivery or move not entered, a spec, a spout, a count'
      : '',
    ...noteLines(report, row, zone),
  ];
  const most = size.rows < LOW ? 4 : size.rows < TALL ? 6 : 12;
  return lines
    .filter((text) => text !== '')
    .flatMap((text) => wrap(text, size.columns))
    .slice(0, most)
    .map((text) => line(text));
}

/** Notes on the marked item, and on the shift as a whole. */
const noteLines = ({ notes }: Report, row: ReportItem, zone: string): string[] =>
  notes
    .filter(({ item }) => item === null || item === row.item)
    .map(({ text, by, at }) => `note ${clockText(at, zone)}${by === null ? '' : ` ${by}`}: ${text}`);
