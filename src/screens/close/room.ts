// The Close room: what is missing, and is it real? Dearest first, certainty beside it; the marked row says why and what to do.

import { bareName } from '../../domain/catalogue/item.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { restLines } from '../../domain/report/lead.ts';
import { matters } from '../../domain/report/order.ts';
import type { ReportItem } from '../../domain/report/report.ts';
import { amountIn, rowMissing } from '../../domain/report/words.ts';
import { AMOUNT, moneyText } from '../format.ts';
import { blank, fitText, type Line, line, piece, type Style } from '../parts/line.ts';
import { listLines, named } from '../parts/list.ts';
import { type Room, type Scene, type Size, stay } from '../room.ts';
import { closeKeys } from './keys.ts';
import { type CloseRow, type CloseState, closeRows, closeStart, reportOf } from './model.ts';
import { tillPage } from './till-page.ts';
import { detailLines, totalsLines } from './words.ts';

const verdictWords: Record<ReportItem['verdict'], string> = {
  'within-count-error': 'within count error',
  likely: '! likely',
  real: '‼ real',
  'not-counted': 'not counted',
};

/** What can't matter is not red, however sure it is. */
function styleOf(row: ReportItem, books: Books): Style {
  if (row.improbable) return 'bad';
  if (!matters(row, books.house)) return 'plain';
  return row.verdict === 'real' ? 'bad' : 'warn';
}

function certainty(row: ReportItem): string {
  if (row.isFirstCount) return 'first count';
  if (row.improbable) return '‼ improbable';
  return `${verdictWords[row.verdict]}${row.slip === null ? '' : ', slip?'}`;
}

/** Widths of the columns beside the name; in a narrow window the amounts stand under the list, in a very narrow one the word, too. */
const NARROW = 84;
const SMALL = 76;
const VALUE = 9;
const MISSING = 21;
const CERTAINTY = 18;

function view(scene: Scene, state: CloseState, size: Size): Line[] {
  const { report } = reportOf(scene);
  if (report === null)
    return [line('No shift was opened yet, so there is nothing to close. Press ^O to open one.')];
  return state.page === 'till' ? tillPage(scene, state, size) : itemsPage(scene, state, size);
}

function itemsPage(scene: Scene, state: CloseState, size: Size): Line[] {
  const { books } = scene;
  const { report, lead } = reportOf(scene);
  if (report === null || lead === null) return [];
  const rows = closeRows(scene, state);
  const totals = totalsLines(report, lead, books, size);
  const marked = rows[state.cursor];
  const why =
    marked !== undefined && 'folded' in marked
      ? restLines(lead).map((text) => line(fitText(text, size.columns)))
      : detailLines(report, books, marked?.item, size);
  const listRows = Math.max(3, size.rows - totals.length - 1 - why.length - 1);
  const nameWidth = Math.min(36, Math.max(12, size.columns - widthBeside(size.columns)));
  return [
    ...totals,
    headLine(nameWidth, size.columns),
    ...listLines(rows, state.cursor, listRows, (row, on) => rowLine(books, row, on, nameWidth, size.columns)),
    blank,
    ...why,
  ];
}

const widthBeside = (columns: number): number =>
  2 + MISSING + 1 + VALUE + 2 + (columns < SMALL ? 2 : CERTAINTY) + (columns < NARROW ? 0 : 2 * AMOUNT + 2);

function headLine(nameWidth: number, columns: number): Line {
  const amounts =
    columns < NARROW ? '' : ` ${fitText('expected', AMOUNT, 'right')} ${fitText('counted', AMOUNT, 'right')}`;
  const text = `  ${fitText('item', nameWidth)}${amounts} ${fitText('missing or extra', MISSING, 'right')}${fitText('worth', VALUE, 'right')}  ${columns < SMALL ? '' : 'how sure'}`;
  return line(piece(fitText(text, columns), 'under'));
}

function rowLine(books: Books, row: CloseRow, on: boolean, nameWidth: number, columns: number): Line {
  if ('folded' in row)
    return named(on, `${row.folded} more, within their ± or not counted: Enter shows them`, columns);
  const { item } = row;
  const amount = (value: number | null): string =>
    fitText(value === null ? '' : amountIn(item, value, books.house), AMOUNT, 'right');
  const amounts = columns < NARROW ? '' : ` ${amount(item.expected)} ${amount(item.counted)}`;
  const missing = item.missing === null ? '' : rowMissing(item, books.house);
  const worth = item.missingCostMinor === null ? '' : moneyText(item.missingCostMinor, books);
  const sure = certainty(item);
  const sign = columns < SMALL ? (/^[!‼]+/.exec(sure)?.[0] ?? '') : sure;
  return [
    ...named(on, bareName(item.name), nameWidth + 2),
    piece(`${amounts} `),
    piece(
      `${fitText(item.corrected === null ? missing : `* ${missing}`, MISSING, 'right')}${fitText(worth, VALUE, 'right')}  ${sign}`,
      styleOf(item, books),
    ),
  ];
}

export const closeRoom: Room<CloseState> = {
  name: 'close',
  title: 'Close',
  answers: 'what is missing, and is it real?',
  start: closeStart,
  bindings: closeKeys,
  // What is typed is a date: another night, or a stretch of them.
  type: (_, state, text) => ({
    state,
    dialog: { kind: 'nights', text: text.trim(), choice: 0 },
    effects: [{ type: 'load-nights' }],
  }),
  erase: (_, state) => stay(state),
  back: (scene, state) => {
    if (state.cursor > 0 || state.page === 'till' || state.isWhole) return stay(closeStart);
    return scene.past === null ? null : { state: closeStart, effects: [{ type: 'show-night', night: null }] };
  },
  shows: [{ type: 'load-evidence' }],
  view,
};
