// The Ready room: is the station ready? Tools, ice, glasses, garnishes and fresh things tonight's specs call for, to tick.

import { specsInUse } from '../../domain/catalogue/catalogue.ts';
import { intendMiseEdit, intendTick } from '../../domain/intent/intend-mise.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { type MiseLine, type MisePart, miseLines } from '../../domain/service/mise.ts';
import { clockText } from '../../domain/value/clock-date.ts';
import { memoBy } from '../../domain/value/memo.ts';
import { foldText } from '../../domain/value/text.ts';
import { type FilterState, fieldLine, filterRoom, listKeys } from '../filter.ts';
import { cut, fitText, type Line, line, piece } from '../parts/line.ts';
import { listLines, mark } from '../parts/list.ts';
import { type Binding, type Room, refuse, type Scene, type Size, stay } from '../room.ts';

const partNames: Readonly<Record<MisePart, string>> = {
  tool: 'tool',
  jigger: 'jigger for',
  glass: 'glass',
  ice: 'ice',
  garnish: 'garnish',
  fresh: 'fresh',
  own: 'added',
};

const linesOf = memoBy(
  (books: Books) => [books],
  (books): readonly MiseLine[] => miseLines(books),
);

export function readyRows(books: Books, query: string): readonly MiseLine[] {
  const wanted = foldText(query);
  const all = linesOf(books);
  return wanted === ''
    ? all
    : all.filter(({ text, part }) => foldText(`${partNames[part]} ${text}`).includes(wanted));
}

const marked = (scene: Scene, state: FilterState): MiseLine | undefined =>
  readyRows(scene.books, state.query)[state.cursor];
const pouring = (scene: Scene) => scene.books.shift?.pouring ?? null;

const bindings: readonly Binding<FilterState>[] = [
  {
    id: 'tick',
    keys: ['enter'],
    label: 'ticks the marked line, or takes the tick away; ticks last until the seal',
    short: 'tick',
    run: (scene, state) => {
      const row = marked(scene, state);
      if (row === undefined)
        return refuse(state, 'Nothing is marked. Erase a letter or two, or ^N adds what is typed.');
      const wish = { line: row.text, done: row.done === null, by: pouring(scene) };
      return {
        state,
        effects: [{ type: 'record', intent: (books) => intendTick(books, wish), from: 'ready' }],
      };
    },
  },
  {
    id: 'write-new',
    keys: ['ctrl-n'],
    label: 'adds what is typed as a line of its own',
    short: 'add',
    run: (scene, state) => {
      if (state.query.trim() === '') return refuse(state, 'Type what is to be added, then ^N.');
      const wish = { line: state.query, kept: true, by: pouring(scene) };
      return {
        state,
        effects: [{ type: 'record', intent: (books) => intendMiseEdit(books, wish), from: 'ready' }],
      };
    },
  },
  {
    id: 'drop-line',
    keys: ['ctrl-b'],
    label: 'leaves the marked line out of the list; adding it by name brings it back',
    short: 'leave out',
    run: (scene, state) => {
      const row = marked(scene, state);
      if (row === undefined) return refuse(state, 'Nothing is marked. Erase a letter or two.');
      const wish = { line: row.text, kept: false, by: pouring(scene) };
      return {
        state,
        effects: [{ type: 'record', intent: (books) => intendMiseEdit(books, wish), from: 'ready' }],
      };
    },
  },
  ...listKeys<FilterState>((scene, state) => readyRows(scene.books, state.query).length),
];

function view(scene: Scene, state: FilterState, size: Size): Line[] {
  const all = linesOf(scene.books);
  const rows = readyRows(scene.books, state.query);
  const ready = all.filter(({ done }) => done !== null).length;
  const head = line(
    cut(
      ready === all.length && all.length > 0
        ? `all ${all.length} ready`
        : `${ready} of ${all.length} ready, from ${specsInUse(scene.books).length} specs`,
      size.columns,
    ),
  );
  const empty =
    all.length === 0
      ? 'No spec calls for anything yet. Import spec cards first.'
      : 'Nothing on the list is called that. ^N adds it.';
  const body = listLines(rows, state.cursor, size.rows - 2, (row, on) =>
    rowLine(scene.books, row, on, size.columns),
  );
  return [
    fieldLine(state.query, 'type to find a line, or a new one and ^N', size.columns),
    head,
    ...(rows.length === 0 ? [line(empty)] : body),
  ];
}

function rowLine(books: Books, row: MiseLine, on: boolean, width: number): Line {
  const { zone } = books.house;
  const done = `${row.late ? 'past date ' : ''}${row.done === null ? '' : `ready ${clockText(row.done, zone)}`}`;
  const specs = row.specs === 0 ? '' : `${row.specs} spec${row.specs === 1 ? '' : 's'}`;
  const nameWidth = Math.max(10, Math.min(40, width - 36));
  const text = `${mark(on)}${row.done === null ? ' ' : '✓'} ${fitText(partNames[row.part], 11)}${fitText(row.text, nameWidth)} ${fitText(specs, 9)} ${done}`;
  return line(piece(cut(text, width), on ? 'chosen' : row.late ? 'bad' : 'plain'));
}

/** On to the next line that is not ready; a line that was added stands marked. */
export const readyRoom: Room<FilterState> = {
  name: 'ready',
  title: 'Ready',
  answers: 'is the station ready?',
  ...filterRoom,
  bindings,
  recorded: (scene, state, events) => {
    const [event] = events;
    const rows = readyRows(scene.books, '');
    if (event?.kind === 'mise-edited')
      return stay({
        query: '',
        cursor: Math.max(
          0,
          rows.findIndex(({ text }) => foldText(text) === foldText(event.line)),
        ),
      });
    if (event?.kind !== 'mise-ticked' || !event.done) return stay(state);
    const shown = readyRows(scene.books, state.query);
    return stay({ ...state, cursor: Math.min(shown.length - 1, state.cursor + 1) });
  },
  view,
};
