// The Count room: along the shelves, one or two keys a bottle. Blind: what the books expect is shown only beside a
// reading that is in.

import { missingText, shownIn } from '../../domain/catalogue/display.ts';
import { eyeError } from '../../domain/count/eye-error.ts';
import { eyeSentence } from '../../domain/count/eye-words.ts';
import type { Judged } from '../../domain/count/variance.ts';
import { type Books, type CountMark, personName, stockKey } from '../../domain/ledger/books.ts';
import type { Event, EventOf } from '../../domain/ledger/event.ts';
import { AMOUNT, amountText, shortName } from '../format.ts';
import { cut, fitText, type Line, line, piece, type Style } from '../parts/line.ts';
import { listLines, longestOf, named } from '../parts/list.ts';
import { type Room, refuse, type Scene, type Size, type Step, stay } from '../room.ts';
import { barredText, countKeys, emptyText } from './keys.ts';
import {
  agrees,
  type CountRow,
  type CountState,
  countAt,
  countingOf,
  countStart,
  cursorOf,
  firstUncounted,
  isCounted,
  isDoubtful,
  isName,
  judgeRow,
  markedKey,
  rowNamed,
  scopeWords,
  walkedRows,
  walkOver,
} from './model.ts';

/** The reading is on disk: on to the next, unless it is so far off that a second look is worth it. */
function recorded(scene: Scene, state: CountState, events: readonly Event[]): Step<CountState> {
  const rows = walkedRows(scene.books, state);
  if (events[0]?.kind === 'readings-compared') return compared(scene, state, events[0]);
  const row = rows[cursorOf(scene.books, state)];
  if (row === undefined) return stay(state);
  const counted = row.stock?.counted;
  if (counted && isDoubtful(scene.books, row) && !agrees(state, row)) {
    const doubt = { key: row.key, amount: counted.amount, spread: counted.deviation };
    return { state: { ...state, text: '', doubt }, message: { text: doubtText(counted), tone: 'plain' } };
  }
  const done = rows.every((each) => isCounted(scene.books, each));
  return {
    state: { ...state, cursor: nextRow(scene.books, state), text: '', doubt: null, walk: null, mends: false },
    ...(done ? { message: { text: doneText(state), tone: 'done' as const } } : {}),
  };
}

const doubtText = ({ improbable, reading }: CountMark): string =>
  improbable === true
    ? `Recorded, but more than was ever there with what came in: read it again. Enter keeps it as improbable; ${reading}! says that it is so.`
    : 'Recorded, but far from what could be there: read it again, or Enter keeps it as looked at twice.';

/** On with the walk: after a mend where it was, else after this row. */
function nextRow(books: Books, state: CountState): number {
  const rows = walkedRows(books, state);
  const walk = state.mends ? rows.findIndex(({ key }) => key === state.walk) : -1;
  const from = walk >= 0 ? walk : Math.min(rows.length - 1, state.cursor + 1);
  return firstUncounted(books, state, from);
}

const doneText = ({ scope }: CountState): string =>
  scope === 'all'
    ? 'All is counted. The Close room says what is missing.'
    : `Counted: ${scopeWords[scope]}. The Close room says what is missing; ^F walks the rest.`;

/** The pair is on disk: what the two readings said, and on to the next bottle. */
function compared(scene: Scene, state: CountState, event: EventOf<'readings-compared'>): Step<CountState> {
  const rows = walkedRows(scene.books, state);
  const { books } = scene;
  const off = event.eye - event.weighed;
  const said =
    off === 0 ? 'the same' : `${amountText(Math.abs(off), 'ml', books)} too ${off > 0 ? 'much' : 'little'}`;
  const who = countingOf(books, state);
  return {
    state: { ...state, cursor: Math.min(rows.length - 1, state.cursor + 1), text: '', drill: { eye: null } },
    message: {
      text: `By eye ${said}, ^U takes it back. ${eyeSentence(eyeError(books, who), who, books)}`,
      tone: 'done',
    },
  };
}

function view(scene: Scene, state: CountState, size: Size): Line[] {
  const { books } = scene;
  const rows = walkedRows(books, state);
  const cursor = cursorOf(books, state);
  const counted = rows.filter((row) => isCounted(books, row)).length;
  const row = rows[cursor];
  const nameWidth = nameWidthOf(books, rows, size.columns);
  const field = line(
    piece('▸ ', 'strong'),
    piece(state.text),
    piece(' ', 'chosen'),
    '  ',
    cut(row === undefined ? '' : hintOf(books, row, state), size.columns - 8 - state.text.length),
  );
  const head = line(cut(headText(books, state, counted, rows.length, row), size.columns));
  const body = listLines(rows, cursor, size.rows - 3, (each, on) =>
    state.drill === null
      ? rowLine(books, each, on, nameWidth, size.columns)
      : [...named(on, `  ${shortName(each.item)}`, nameWidth + 4), piece(` ${each.place}`)],
  );
  return [
    field,
    head,
    columnsLine(nameWidth, size.columns),
    ...(rows.length === 0 ? [line(emptyText(state))] : body),
  ];
}

function headText(
  books: Books,
  state: CountState,
  counted: number,
  total: number,
  row: CountRow | undefined,
): string {
  const who = personName(books, countingOf(books, state));
  const where = row === undefined ? '' : ` · ${shortName(row.item)} at ${row.place}`;
  if (state.drill !== null)
    return `drill${who === null ? '' : `, ${who}'s eye`}${state.drill.eye === null ? '' : ` · by eye ${state.drill.eye}, now the scale`}${where}`;
  const over = state.scope === 'all' ? '' : `, ${scopeWords[state.scope]}`;
  return `${counted} of ${total} counted${over}${where}${who === null ? '' : ` · ${who} counting`}`;
}

function hintOf(books: Books, row: CountRow, state: CountState): string {
  if (!isName(state)) return readingHint(row, state);
  const named = rowNamed(books, state);
  const found = named === null ? undefined : walkedRows(books, state)[named];
  return found === undefined
    ? 'nothing is called that'
    : `Enter goes to ${shortName(found.item)} at ${found.place}`;
}

const readingHint = (row: CountRow, state: CountState): string =>
  state.barred === null
    ? howTo(row, state)
    : `not recorded: ${state.barred}  (Backspace mends it, Esc gives it up)`;

function howTo(row: CountRow, { drill }: CountState): string {
  if (drill !== null)
    return drill.eye === null ? 'by eye: 7 is 0.7' : 'on the scale, grams with the bottle: 812';
  if (row.item.unit === 'each') return 'how many pieces, as 14';
  if (row.item.count === 'pieces') return 'how many, as 14';
  const examples = {
    tenths: '7 is 0.7 · 2.7 is two sealed and 0.7 · 2+0 none open',
    ml: '350ml · 2+350ml with two sealed',
    grams: '812g with its container · 2+812g',
  };
  return examples[row.item.count];
}

/** In a narrow window an item that stands at several places says which this is. */
function rowName(books: Books, { item, place }: CountRow, width: number): string {
  return width < WITH_PLACE && place !== item.place && books.items.has(item.id)
    ? `${shortName(item)}, ${place}`
    : shortName(item);
}

/** What can't matter is not red, however sure it is. */
function styleOf({ house }: Books, { missing, verdict, improbable }: Judged, { item }: CountRow): Style {
  if (improbable) return 'bad';
  const worth =
    item.costMinor === null ? house.moneyFloorMinor : Math.abs((missing / item.size) * item.costMinor);
  if (verdict === 'within-count-error' || worth < house.moneyFloorMinor) return 'plain';
  return verdict === 'real' ? 'bad' : 'warn';
}

const READING = 10;
const EXPECTED = AMOUNT;
const MISSING = 22;
/** From this width on the place has a column of its own. */
const WITH_PLACE = 100;

/** The longest name, as far as the figures leave room for it. */
function nameWidthOf(books: Books, rows: readonly CountRow[], columns: number): number {
  const names = rows.map((row) => rowName(books, row, columns));
  const beside =
    4 + (columns >= WITH_PLACE ? 10 : 0) + 1 + READING + 1 + (columns < 76 ? 0 : EXPECTED + 2) + MISSING;
  return Math.max(12, Math.min(longestOf(names), columns - beside));
}

function columnsLine(nameWidth: number, columns: number): Line {
  const place = columns >= WITH_PLACE ? ` ${fitText('place', 9)}` : '';
  const expected = columns < 76 ? '' : `${fitText('expected', EXPECTED, 'right')}  `;
  return line(
    piece(
      fitText(
        `    ${fitText('item', nameWidth)}${place} ${fitText('reading', READING)} ${expected}missing or extra`,
        columns,
      ),
      'under',
    ),
  );
}

function rowLine(books: Books, row: CountRow, on: boolean, nameWidth: number, width: number): Line {
  const done = isCounted(books, row);
  const left = named(on, `${done ? '✓' : ' '} ${rowName(books, row, width)}`, nameWidth + 4);
  const place = width >= WITH_PLACE ? ` ${fitText(row.place, 9)}` : '';
  if (!done) return [...left, piece(place)];
  const judged = judgeRow(books, row);
  const result =
    judged === null ? { text: 'first count', style: 'plain' as Style } : resultOf(books, judged, row, width);
  const reading = fitText(row.stock?.counted?.reading ?? '', READING);
  return [...left, piece(`${place} ${reading} `), piece(result.text, result.style)];
}

function resultOf(
  books: Books,
  judged: Judged,
  row: CountRow,
  width: number,
): { text: string; style: Style } {
  const said = missingText(judged.missing, judged.uncertainty, shownIn(row.item), books.house);
  const style = styleOf(books, judged, row);
  const sign = judged.verdict === 'real' ? '‼ ' : judged.verdict === 'likely' ? '! ' : '';
  const expected =
    width < 76 ? '' : `${fitText(amountText(judged.expected, row.item, books), EXPECTED, 'right')}  `;
  const looked = judged.improbable ? '‼ improbable, ' : sign;
  return { text: `${expected}${judged.missing === 0 ? 'even, ' : ''}${looked}${said}`, style };
}

/** A walk begins at the first row that is not counted; one that is under way goes on where it was. */
function beginOrGoOn(books: Books, before: CountState): CountState {
  const state = renewed(books, before);
  const row = walkedRows(books, state)[cursorOf(books, state)];
  const isUnderWay = state.cursor >= 0 && row !== undefined && !isCounted(books, row);
  const isBegun = walkedRows(books, state).some((each) => isCounted(books, each));
  return isUnderWay && isBegun
    ? state
    : { ...state, cursor: firstUncounted(books, state, 0), text: '', barred: null, doubt: null };
}

/** Who comes back to a short walk finds what has moved since on it, and the mark where it was. */
function renewed(books: Books, state: CountState): CountState {
  if (state.scope === 'all') return state;
  const key = markedKey(books, state);
  const next = { ...state, keys: walkOver(books, state.scope, state.keys) };
  const cursor = state.cursor < 0 ? -1 : walkedRows(books, next).findIndex((row) => row.key === key);
  return { ...next, cursor };
}

/** What is typed goes first, then the eye's reading, then the drill itself. */
function stepBack(state: CountState): Step<CountState> | null {
  if (state.text !== '' || state.doubt !== null || state.barred !== null)
    return stay({ ...state, text: '', doubt: null, barred: null });
  if (state.drill === null) return null;
  return stay({ ...state, drill: state.drill.eye === null ? null : { eye: null } });
}

export const countRoom: Room<CountState> = {
  name: 'count',
  title: 'Count',
  answers: 'what is really there?',
  start: countStart,
  bindings: countKeys,
  type: (scene, state, text) => {
    if (state.barred !== null) return refuse(state, barredText(state.barred));
    const typed = [...text].filter((char) => /[\d.,+!\p{L}\p{M}' -]/u.test(char)).join('');
    return stay({
      ...state,
      cursor: cursorOf(scene.books, state),
      text: (state.text + typed).trimStart().slice(0, 40),
    });
  },
  erase: (_, state) =>
    stay(
      state.barred === null
        ? { ...state, text: state.text.slice(0, -1) }
        : { ...state, text: state.barred, barred: null },
    ),
  refused: (_, state, typed) => ({ ...state, text: '', barred: typed ?? state.barred }),
  back: (_, state) => stepBack(state),
  enter: (scene, state, at) =>
    stay(at !== null ? countAt(scene.books, at, state) : beginOrGoOn(scene.books, state)),
  recorded,
  // A count taken back is to be counted again: its row is the marked one.
  tookBack: ({ books }, state, event) => {
    if (event.kind !== 'stock-counted') return state;
    const walk = state.walk ?? markedKey(books, state);
    return { ...countAt(books, stockKey(event.item, event.place), state), walk, mends: true };
  },
  view,
};
