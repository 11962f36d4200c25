// The Close room: what is missing, and is it real? Worst first; the marked row says why.

import { missingText } from '../../domain/catalogue/display.ts';
import { bareName } from '../../domain/catalogue/item.ts';
import type { Books } from '../../domain/ledger/books.ts';
import type { Report, ReportItem, TillRow } from '../../domain/report/report.ts';
import { clockText } from '../../domain/value/clock-date.ts';
import { amountText, moneyText } from '../format.ts';
import { blank, cut, fitText, type Line, line, piece, type Style, wrap } from '../parts/line.ts';
import { listLines, mark } from '../parts/list.ts';
import { type Room, refuse, type Scene, type Size, stay } from '../room.ts';
import { closeKeys } from './keys.ts';
import { type CloseState, closeStart, reportOf, tillOf } from './model.ts';
import { detailLines, totalsLines } from './words.ts';

const verdictWords: Record<ReportItem['verdict'], string> = {
  'within-count-error': 'within count error',
  likely: '! likely',
  real: '‼ real',
  'not-counted': 'not counted',
};
const verdictStyles: Record<ReportItem['verdict'], Style> = {
  'within-count-error': 'plain',
  likely: 'warn',
  real: 'bad',
  'not-counted': 'plain',
};

/** Below this width a row leaves its amounts to the lines under the list. */
const NARROW = 76;

function view(scene: Scene, state: CloseState, size: Size): Line[] {
  const { report, rows } = reportOf(scene);
  if (report === null)
    return [line('No shift was opened yet, so there is nothing to close. Press ^O to open one.')];
  return state.page === 'till' ? tillPage(scene, state, size) : itemsPage(scene, report, rows, state, size);
}

function itemsPage(
  scene: Scene,
  report: Report,
  rows: readonly ReportItem[],
  state: CloseState,
  size: Size,
): Line[] {
  const { books } = scene;
  const totals = totalsLines(report, books, size);
  const why = detailLines(report, books, rows[state.cursor], size);
  const listRows = Math.max(4, size.rows - totals.length - 1 - why.length - 1);
  const isNarrow = size.columns < NARROW;
  const nameWidth = Math.min(
    30,
    Math.max(12, size.columns - (isNarrow ? 45 : size.columns >= 100 ? 74 : 65)),
  );
  const head = line(
    piece(
      `  ${fitText('item', nameWidth)} ${isNarrow ? '' : `${fitText('expected', 9, 'right')} ${fitText('counted', 9, 'right')} `}${fitText('missing or extra', 21, 'right')}  ${fitText('verdict', 18)}${size.columns >= 100 ? fitText('value', 9, 'right') : ''}`,
      'under',
    ),
  );
  return [
    ...totals,
    head,
    ...listLines(rows, state.cursor, listRows, (row, on) => rowLine(books, row, on, nameWidth, size.columns)),
    blank,
    ...why,
  ];
}

function rowLine(books: Books, row: ReportItem, on: boolean, nameWidth: number, width: number): Line {
  const amount = (value: number | null): string =>
    fitText(value === null ? '' : amountText(value * 1000, row.unit, books), 9, 'right');
  const amounts = width < NARROW ? '' : `${amount(row.expected)} ${amount(row.counted)} `;
  const text = `${mark(on)}${fitText(bareName(row.name), nameWidth)} ${amounts}${fitText(missing(row, books), 21, 'right')}  `;
  const verdict = fitText(
    row.isFirstCount ? 'first count' : `${verdictWords[row.verdict]}${row.slip === null ? '' : ', slip?'}`,
    18,
  );
  const value =
    width >= 100
      ? fitText(row.missingCostMinor === null ? '' : moneyText(row.missingCostMinor, books), 9, 'right')
      : '';
  return on
    ? line(piece(text + verdict + value, 'chosen'))
    : line(text, piece(verdict, verdictStyles[row.verdict]), value);
}

/** What is missing; a star says that a later correction stands beside it. */
function missing(row: ReportItem, books: Books): string {
  if (row.missing === null || row.uncertainty === null) return '';
  const said = missingText(row.missing * 1000, row.uncertainty * 1000, row.unit, books.house);
  return row.corrected === null ? said : `* ${said}`;
}

function tillPage(scene: Scene, state: CloseState, size: Size): Line[] {
  const rows = tillOf(scene);
  const { zone } = scene.books.house;
  const from = clockText(scene.books.shift?.openedAt ?? scene.now, zone);
  const sold = rows.reduce((sum, row) => sum + row.sold, 0);
  if (rows.length === 0)
    return [
      line(piece('Till against tally', 'strong')),
      blank,
      ...wrap(
        `No lines of the till since ${from}. The till's file (time, drink, quantity) is taken in from the command line; the page fills itself.`,
        size.columns,
      ).map((text) => line(text)),
    ];
  const nameWidth = Math.max(14, Math.min(34, size.columns - 50));
  const head = line(
    piece(
      `  ${fitText('drink', nameWidth)} ${fitText('sold', 6, 'right')} ${fitText('logged', 7, 'right')} ${fitText('difference', 11, 'right')}`,
      'under',
    ),
  );
  return [
    line(cut(`Till: ${sold} sold since ${from}. Difference above zero: sold, not logged.`, size.columns)),
    head,
    ...listLines(rows, state.cursor, size.rows - 2, (row, on) => tillLine(row, on, nameWidth, size.columns)),
  ];
}

function tillLine(row: TillRow, on: boolean, nameWidth: number, width: number): Line {
  const number = (value: number | null, wide: number): string =>
    fitText(value === null ? '' : String(value), wide, 'right');
  const said =
    row.match === 'unknown'
      ? '! which spec? Enter'
      : row.match === 'not-ours'
        ? 'no spec of ours'
        : row.difference === 0
          ? ''
          : (row.difference ?? 0) > 0
            ? '! not logged'
            : '! not in the till';
  const text = `${mark(on)}${fitText(row.drink, nameWidth)} ${number(row.sold, 6)} ${number(row.logged, 7)} ${number(row.difference, 11)}  ${said}`;
  return line(piece(cut(text, width), on ? 'chosen' : said.startsWith('!') ? 'warn' : 'plain'));
}

export const closeRoom: Room<CloseState> = {
  name: 'close',
  title: 'Close',
  answers: 'what is missing, and is it real?',
  start: closeStart,
  bindings: closeKeys,
  type: (_, state) => refuse(state, 'Nothing is typed here. ↑↓ choose, Enter recounts, ^X seals.'),
  erase: (_, state) => stay(state),
  back: (_, state) => (state.cursor === 0 && state.page === 'items' ? null : stay(closeStart)),
  shows: [{ type: 'load-evidence' }],
  view,
};
