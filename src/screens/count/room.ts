// The Count room: along the shelves, one or two keys a bottle. Blind: what the books expect is shown only beside a
// reading that is in.
import type { Books } from '../../domain/books.ts';
import { missingText } from '../../domain/display.ts';
import type { Judged } from '../../domain/variance.ts';
import { amountText, shortName } from '../format.ts';
import { listKeys } from '../parts/filter.ts';
import { cut, fitText, type Line, line, piece, type Style } from '../parts/line.ts';
import { listLines, mark } from '../parts/list.ts';
import { type Binding, type Room, refuse, type Scene, type Size, type Step, stay } from '../room.ts';
import {
  type CountRow,
  type CountState,
  countIntent,
  countRows,
  countStart,
  cursorOf,
  firstUncounted,
  isCounted,
  isDoubtful,
  judgeRow,
} from './model.ts';

function enter(scene: Scene, state: CountState): Step<CountState> {
  const rows = countRows(scene.books);
  const cursor = cursorOf(scene.books, state);
  const row = rows[cursor];
  if (row === undefined) return refuse(state, 'Nothing is stocked yet. Import an items file first.');
  if (state.text === '')
    return stay({ cursor: Math.min(rows.length - 1, cursor + 1), text: '', doubt: null });
  return {
    state: { ...state, cursor },
    effects: [{ type: 'record', intent: countIntent(row, state.text, scene), from: 'count' }],
  };
}

/** The reading is on disk: on to the next, unless it is so far off that a second look is worth it. */
function recorded(scene: Scene, state: CountState): Step<CountState> {
  const rows = countRows(scene.books);
  const row = rows[cursorOf(scene.books, state)];
  if (row === undefined) return stay(state);
  if (state.doubt !== row.key && isDoubtful(scene.books, row)) {
    const text = 'Recorded, but far from what could be there: read it again, or Enter keeps it.';
    return { state: { ...state, text: '', doubt: row.key }, message: { text, tone: 'plain' } };
  }
  const next = firstUncounted(scene.books, Math.min(rows.length - 1, state.cursor + 1));
  const done = rows.every((each) => isCounted(scene.books, each));
  return {
    state: { cursor: next, text: '', doubt: null },
    ...(done
      ? { message: { text: 'All is counted. The Close room says what is missing.', tone: 'done' as const } }
      : {}),
  };
}

const bindings: readonly Binding<CountState>[] = [
  {
    id: 'count',
    keys: ['enter'],
    label: 'records the reading and moves on; with nothing typed, moves on',
    short: 'record, next',
    run: enter,
  },
  {
    id: 'next-uncounted',
    keys: ['ctrl-n'],
    label: 'goes to the next one not counted yet',
    short: 'next uncounted',
    run: (scene, state) =>
      stay({ cursor: firstUncounted(scene.books, cursorOf(scene.books, state) + 1), text: '', doubt: null }),
  },
  ...listKeys<CountState>((scene) => countRows(scene.books).length).map((binding) => ({
    ...binding,
    run: (scene: Scene, state: CountState) => {
      const step = binding.run(scene, { ...state, cursor: cursorOf(scene.books, state) });
      return stay({ ...step.state, text: '', doubt: null });
    },
  })),
];

function view(scene: Scene, state: CountState, size: Size): Line[] {
  const { books } = scene;
  const rows = countRows(books);
  const cursor = cursorOf(books, state);
  const counted = rows.filter((row) => isCounted(books, row)).length;
  const row = rows[cursor];
  const nameWidth = Math.min(34, Math.max(14, size.columns - (size.columns >= 100 ? 70 : 58)));
  const field = line(
    piece('▸ ', 'strong'),
    piece(state.text),
    piece(' ', 'chosen'),
    '  ',
    cut(row === undefined ? '' : howTo(row), size.columns - 8 - state.text.length),
  );
  const head = line(
    `${counted} of ${rows.length} counted${row === undefined ? '' : ` · ${shortName(row.item)} at ${row.place}`}`,
  );
  const body = listLines(rows, cursor, size.rows - 2, (each, on) =>
    rowLine(books, each, on, nameWidth, size.columns),
  );
  return [
    field,
    head,
    ...(rows.length === 0 ? [line('Nothing is stocked yet. Import an items file first.')] : body),
  ];
}

function howTo(row: CountRow): string {
  if (row.item.unit === 'each') return 'how many pieces, as 14';
  if (row.item.count === 'pieces') return 'how many, as 14';
  const examples = {
    tenths: '7 is 0.7 · 2.7 is two sealed and 0.7',
    ml: '350ml · 2+350ml with two sealed',
    grams: '812g with its container · 2+812g',
  };
  return examples[row.item.count];
}

function rowLine(books: Books, row: CountRow, on: boolean, nameWidth: number, width: number): Line {
  const done = isCounted(books, row);
  const left = `${mark(on)}${done ? '✓' : ' '} ${fitText(shortName(row.item), nameWidth)} ${width >= 100 ? `${fitText(row.place, 9)} ` : ''}${fitText(done ? (row.stock?.counted?.reading ?? '') : '', 10)}`;
  if (!done) return line(piece(left, on ? 'chosen' : 'plain'));
  const judged = judgeRow(books, row);
  const result =
    judged === null ? { text: 'first count', style: 'plain' as Style } : resultOf(books, judged, row, width);
  return line(piece(left, on ? 'chosen' : 'plain'), ' ', piece(result.text, result.style));
}

function resultOf(
  books: Books,
  judged: Judged,
  row: CountRow,
  width: number,
): { text: string; style: Style } {
  const said = missingText(judged.missing, judged.uncertainty, row.item.unit, books.house);
  const style: Style = judged.verdict === 'real' ? 'bad' : judged.verdict === 'likely' ? 'warn' : 'plain';
  const sign = judged.verdict === 'real' ? '‼ ' : judged.verdict === 'likely' ? '! ' : '';
  const expected = width < 76 ? '' : `expected ${amountText(judged.expected, row.item.unit, books)} · `;
  return { text: `${expected}${judged.missing === 0 ? 'even, ' : ''}${sign}${said}`, style };
}

export const countRoom: Room<CountState> = {
  name: 'count',
  title: 'Count',
  answers: 'what is really there?',
  start: countStart,
  bindings,
  type: (scene, state, text) => {
    const typed = [...text].filter((char) => /[\d.,+a-z ]/i.test(char)).join('');
    return stay({
      ...state,
      cursor: cursorOf(scene.books, state),
      text: (state.text + typed).trimStart().slice(0, 40),
    });
  },
  erase: (_, state) => stay({ ...state, text: state.text.slice(0, -1) }),
  back: (_, state) =>
    state.text === '' && state.doubt === null ? null : stay({ ...state, text: '', doubt: null }),
  enter: (scene, state) =>
    stay(state.cursor < 0 ? { ...state, cursor: firstUncounted(scene.books, 0) } : state),
  recorded,
  view,
};
