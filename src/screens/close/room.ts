// The Close room: what is missing, and is it real? Worst first; the marked row says why.
import type { Books } from '../../domain/books.ts';
import { isOpen, stockKey } from '../../domain/books.ts';
import { clockText } from '../../domain/clock-date.ts';
import { missingText } from '../../domain/display.ts';
import { byWeight, closingReport, type Report, type ReportItem } from '../../domain/report.ts';
import { amountText, bareName, moneyText } from '../format.ts';
import { listKeys } from '../parts/filter.ts';
import { blank, cut, fitText, type Line, line, piece, type Style, wrap } from '../parts/line.ts';
import { listLines, mark } from '../parts/list.ts';
import { type Binding, type Room, refuse, type Scene, type Size, stay } from '../room.ts';

export type CloseState = { readonly cursor: number };

const kept = new WeakMap<
  Books,
  { report: Report; rows: readonly ReportItem[] } | { report: null; rows: readonly [] }
>();

function reportOf(books: Books): { report: Report | null; rows: readonly ReportItem[] } {
  const known = kept.get(books);
  if (known !== undefined) return known;
  const report = closingReport(books);
  const made =
    report === null
      ? { report, rows: [] as const }
      : { report, rows: [...report.items].sort(byWeight(books.house)) };
  kept.set(books, made);
  return made;
}

const bindings: readonly Binding<CloseState>[] = [
  {
    id: 'recount',
    keys: ['enter'],
    label: 'counts the marked item again, in the Count room',
    short: 'recount',
    run: (scene, state) => {
      const row = reportOf(scene.books).rows[state.cursor];
      if (row === undefined) return refuse(state, 'There is nothing to recount yet.');
      return {
        state,
        go: 'count',
        message: { text: `Recount ${row.name}: type the reading.`, tone: 'plain' },
      };
    },
  },
  {
    id: 'seal',
    keys: ['ctrl-x'],
    label: 'seals the shift for good, after the word is typed',
    short: 'seal',
    when: (scene) =>
      isOpen(scene.books.shift)
        ? true
        : 'No shift is open, so there is nothing to seal. Press ^O to open one.',
    run: (_, state) => ({ state, dialog: { kind: 'seal', text: '' } }),
  },
  ...listKeys<CloseState>((scene) => reportOf(scene.books).rows.length, 12),
];

/** The key of the row to recount, for the Count room. */
export function recountKey(books: Books, state: CloseState): string | null {
  const row = reportOf(books).rows[state.cursor];
  return row === undefined ? null : stockKey(row.item as never, row.places[0] ?? '');
}

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

function view(scene: Scene, state: CloseState, size: Size): Line[] {
  const { report, rows } = reportOf(scene.books);
  if (report === null)
    return [line('No shift was opened yet, so there is nothing to close. Press ^O to open one.')];
  const why = detailLines(scene.books, rows[state.cursor], size.columns);
  const listRows = Math.max(4, size.rows - 3 - why.length - 1);
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
    ...totalsLines(report, scene.books, size.columns),
    head,
    ...listLines(rows, state.cursor, listRows, (row, on) =>
      rowLine(scene.books, row, on, nameWidth, size.columns),
    ),
    blank,
    ...why,
  ];
}

function totalsLines(report: Report, books: Books, width: number): Line[] {
  const { totals, shift } = report;
  const drinks = report.drinks.reduce((sum, drink) => sum + drink.count, 0);
  const status = shift.closedAt === null ? 'open' : `sealed ${clockText(shift.closedAt, books.house.zone)}`;
  const money = (minor: number): string => `${moneyText(minor, books)} ${books.house.currency}`;
  const cost = totals.pourCostPercent === null ? '' : ` · pour cost ${totals.pourCostPercent.toFixed(1)} %`;
  return [
    line(
      cut(
        `${drinks} drink${drinks === 1 ? '' : 's'} · sold ${money(totals.soldMinor)} · poured ${money(totals.pouredCostMinor)} at cost${cost}`,
        width,
      ),
    ),
    line(
      cut(
        `${totals.counted} of ${totals.counted + totals.notCounted} counted · missing ${money(totals.missingAloneMinor)}, extra ${money(totals.extraAloneMinor)} at cost · shift ${status}`,
        width,
      ),
    ),
  ];
}

/** Below this width a row leaves its amounts to the lines under the list. */
const NARROW = 76;

function rowLine(books: Books, row: ReportItem, on: boolean, nameWidth: number, width: number): Line {
  const amount = (value: number | null): string =>
    fitText(value === null ? '' : amountText(value * 1000, row.unit, books), 9, 'right');
  const amounts = width < NARROW ? '' : `${amount(row.expected)} ${amount(row.counted)} `;
  const text = `${mark(on)}${fitText(bareName(row.name), nameWidth)} ${amounts}${fitText(missing(row, books), 21, 'right')}  `;
  const verdict = fitText(verdictWords[row.verdict], 18);
  const value =
    width >= 100
      ? fitText(row.missingCostMinor === null ? '' : moneyText(row.missingCostMinor, books), 9, 'right')
      : '';
  return on
    ? line(piece(text + verdict + value, 'chosen'))
    : line(text, piece(verdict, verdictStyles[row.verdict]), value);
}

function missing(row: ReportItem, books: Books): string {
  if (row.missing === null || row.uncertainty === null) return '';
  return missingText(row.missing * 1000, row.uncertainty * 1000, row.unit, books.house);
}

/** Why: the identity in figures, who drew on it, what else it may be. */
function detailLines(books: Books, row: ReportItem | undefined, width: number): Line[] {
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
  const drawn = row.drawnBy
    .slice(0, 4)
    .map(({ name, amount: drew }) => `${name === '' ? 'straight' : name} ${amount(drew)}`);
  const earlier = row.earlier.map(
    (stretch) =>
      `${clockText(stretch.from, books.house.zone)}–${clockText(stretch.to, books.house.zone)}: ${missing({ ...row, missing: stretch.missing, uncertainty: stretch.uncertainty }, books)}`,
  );
  const lines = [
    flows.filter((part) => part !== '').join(' '),
    drawn.length === 0 ? 'no drink drew on it this shift' : `drawn this shift by ${drawn.join(', ')}`,
    ...(earlier.length === 0 ? [] : [`earlier ${earlier.join(', ')}`]),
    row.verdict === 'real' || row.verdict === 'likely'
      ? 'may be an unlogged drink, a spill, a delivery or move not entered, a spec, a spout, a count'
      : '',
  ];
  return lines
    .filter((text) => text !== '')
    .flatMap((text) => wrap(text, width))
    .slice(0, 5)
    .map((text) => line(text));
}

export const closeRoom: Room<CloseState> = {
  name: 'close',
  title: 'Close',
  answers: 'what is missing, and is it real?',
  start: { cursor: 0 },
  bindings,
  type: (_, state) => refuse(state, 'Nothing is typed here. ↑↓ choose, Enter recounts, ^X seals.'),
  erase: (_, state) => stay(state),
  back: (_, state) => (state.cursor === 0 ? null : stay({ cursor: 0 })),
  view,
};
