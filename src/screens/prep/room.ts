// The Prep room: what to make for tonight, or another night, with what it needs; what is past its date is thrown away from here.

import { dayOrHour } from '../../domain/catalogue/keeping.ts';
import { intendExpected } from '../../domain/intent/intend-house.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { lotsOf } from '../../domain/ledger/stock/in-date.ts';
import { isLate } from '../../domain/ledger/stock/lot.ts';
import { shoppingOf } from '../../domain/prep/need.ts';
import { benchLines } from '../../domain/prep/words.ts';
import { dateText } from '../../domain/value/clock-date.ts';
import { fieldLine, filterErase, filterStart, filterType, listKeys } from '../filter.ts';
import { amountText, shortName } from '../format.ts';
import { besides, blank, cut, fitText, type Line, line, piece, wrap } from '../parts/line.ts';
import { listLines, longestOf, named } from '../parts/list.ts';
import { type Binding, type Room, refuse, type Scene, type Size, stay } from '../room.ts';
import { newPrep, oldSpec } from '../writing.ts';
import {
  dateTyped,
  itemOf,
  knownDay,
  nightOf,
  type PrepRow,
  type PrepState,
  prepLines,
  prepRows,
  todayOf,
} from './model.ts';

const marked = (scene: Scene, state: PrepState): PrepRow | undefined => prepRows(scene, state)[state.cursor];

/** What stands open at a place, as the question of throwing it away knows it. */
const openOf = ({ item, place }: Extract<PrepRow, { kind: 'open' }>) => ({ item: item.id, place });

const bindings: readonly Binding<PrepState>[] = [
  {
    id: 'make',
    keys: ['enter'],
    label:
      'makes what is marked: how often, or what came out; throws away what is past its date; with a day typed shows that night',
    short: 'make',
    run: (scene, state) => {
      const day = dateTyped(state.query, scene.books, scene.now);
      if (day !== null) return stay({ query: '', cursor: 0, night: day });
      const row = marked(scene, state);
      if (row === undefined)
        return refuse(state, 'Nothing is marked. Erase a letter or two, or ^N writes a card.');
      if (row.kind !== 'make')
        return {
          state,
          dialog: { kind: 'discard', what: row.kind === 'late' ? row.lot.id : openOf(row), cursor: 0 },
        };
      const { card, times } = row.line;
      return { state, dialog: { kind: 'making', card: card.id, times: Math.max(1, times), text: '' } };
    },
  },
  {
    id: 'write-new',
    keys: ['ctrl-n'],
    label:
      'writes the marked card anew, or a new one by the name that is typed: what it makes, how long that keeps, what goes in; "sat 1.8 town feast" says that a night takes so many times the usual',
    short: 'write',
    run: (scene, state) => {
      const day = knownDay(state.query, scene.books, scene.now);
      if (day !== null)
        return {
          state: { query: '', cursor: 0, night: day.date },
          effects: [
            {
              type: 'record',
              intent: (books, now) => intendExpected(books, day, now),
              from: 'prep',
              typed: state.query,
            },
          ],
        };
      // What was put aside goes on: with nothing typed, or under its own name.
      const { draft } = scene;
      if (
        draft !== null &&
        (state.query === '' || draft.text.startsWith(newPrep(state.query.trim()).text.split('\n')[0] ?? ''))
      )
        return { state, dialog: draft };
      const row = marked(scene, state);
      const isName = state.query.trim() !== '' && dateTyped(state.query, scene.books, scene.now) === null;
      if (row?.kind === 'make') return { state, dialog: oldSpec(row.line.card, scene.books) };
      if (row !== undefined) return refuse(state, 'Mark what is made here, or type a name.');
      return isName || state.query === ''
        ? { state, dialog: newPrep(state.query.trim()) }
        : refuse(state, 'Type a name, then ^N.');
    },
  },
  ...listKeys<PrepState>((scene, state) => prepRows(scene, state).length, 8),
];

const NAME_LEAST = 12;
const MAKE = 13;
const AMOUNT = 10;
const UNTIL = 14;

function view(scene: Scene, state: PrepState, size: Size): Line[] {
  const { books } = scene;
  const rows = prepRows(scene, state);
  const wide = size.columns >= 110;
  const listWidth = wide ? Math.floor(size.columns * 0.6) : size.columns;
  const row = rows[state.cursor];
  const said = row === undefined ? [] : whyLines(scene, row, listWidth, wide);
  const short = shortLines(scene, state, size.columns);
  const nameWidth = Math.max(
    NAME_LEAST,
    Math.min(longestOf(rows.map((one) => shortName(itemOf(one)))), listWidth - 3 - MAKE - 2 * AMOUNT - UNTIL),
  );
  const night = nightOf(scene, state);
  const isOther = night !== todayOf(scene.books, scene.now);
  const other = isOther ? `For ${dateText(night)}${knownText(books, night)}` : '';
  const head = `  ${fitText('item', nameWidth)} ${fitText('make', MAKE)}${fitText('needed', AMOUNT, 'right')}${fitText('in date', AMOUNT, 'right')}  good until`;
  const why = isOther ? [line(piece(cut(other, listWidth), 'strong')), ...said] : said;
  const listRows = Math.max(3, size.rows - 2 - why.length - 1 - short.length);
  const list = [
    line(piece(fitText(head, listWidth), 'under')),
    ...listLines(rows, state.cursor, listRows, (one, on) => rowLine(books, one, on, nameWidth)),
    ...(why.length === 0 ? [] : [blank, ...why]),
  ];
  const detail = row === undefined || !wide ? [] : detailLines(scene, row, size.columns - listWidth - 2);
  return [
    fieldLine(state.query, hintOf(scene, state), size.columns),
    ...(rows.length === 0
      ? emptyLines(scene, state, size.columns)
      : wide
        ? besides(list, detail, listWidth)
        : list),
    ...short,
  ];
}

/** Which night the list is for, and what was said of it. */
function hintOf(scene: Scene, state: PrepState): string {
  const date = nightOf(scene, state);
  return `for ${dateText(date)}${knownText(scene.books, date)}; type a day for another night, or a name`;
}

function knownText({ expected }: Books, date: string): string {
  const known = expected.get(date);
  return known === undefined || known.factor === 1
    ? ''
    : `, ${known.factor} × the usual${known.text === '' ? '' : ` (${known.text})`}`;
}

function emptyLines({ books }: Scene, { query }: PrepState, width: number): Line[] {
  const text =
    query === '' || books.specs.size === 0
      ? 'No card makes anything yet. Type a name and ^N: a card with makes: 1 l simple syrup, keeps: 30 days, and its measures.'
      : 'Nothing here is called so; ^N writes a card that makes it.';
  return wrap(text, width).map((row) => line(row));
}

function rowLine(books: Books, row: PrepRow, on: boolean, nameWidth: number): Line {
  const item = itemOf(row);
  const amount = (value: number): string => fitText(amountText(value, item, books), AMOUNT, 'right');
  if (row.kind !== 'make')
    return [
      ...named(on, shortName(item), nameWidth + 2),
      piece(
        ` ${fitText('throw away', MAKE)}${amount(row.kind === 'late' ? row.lot.left : row.amount)}${fitText('', AMOUNT)}  ${row.kind === 'late' ? 'past its date' : 'open too long'}`,
        'bad',
      ),
    ];
  const { times, card, need, inDate, discardAt } = row.line;
  const make = times === 0 ? 'enough' : `${times} × ${card.makes.text}`;
  return [
    ...named(on, shortName(item), nameWidth + 2),
    piece(` ${fitText(make, MAKE)}${amount(need)}${amount(inDate)}  `, times === 0 ? 'plain' : 'strong'),
    discardAt === null || times === 0 ? piece('') : piece(dayOrHour(discardAt, books.house)),
  ];
}

/** The arithmetic of the marked row; in a narrow window the card's inputs stand in the question. */
function whyLines(scene: Scene, row: PrepRow, width: number, wide: boolean): Line[] {
  const { books } = scene;
  if (row.kind !== 'make') {
    const date = row.kind === 'late' ? row.lot.discardAt : row.until;
    const until = date === null ? '' : dayOrHour(date, books.house);
    return wrap(`Good until ${until}. It is none of tonight's stock; Enter throws it away.`, width).map(
      (text) => line(text),
    );
  }
  const short = row.line.inputs.filter(({ amount, have }) => have < amount);
  const lacking =
    short.length === 0 || wide
      ? ''
      : `. Short of ${short.map(({ item, amount, have }) => `${amountText(amount - have, item, books)} ${shortName(item)}`).join(', ')}`;
  return wrap(`${row.line.why}${lacking}`, width)
    .slice(0, 3)
    .map((text) => line(text));
}

/** What has to be brought for all of the list, where that is more than the marked row says. */
function shortLines(scene: Scene, state: PrepState, width: number): Line[] {
  const short = shoppingOf(prepLines(scene, state));
  if (short.length === 0) return [];
  const text = short.map(
    ({ item, short: lacking }) => `${amountText(lacking, item, scene.books)} ${shortName(item)}`,
  );
  return [line(piece(cut(`to bring: ${text.join(', ')}`, width), 'warn'))];
}

/** Beside the list: the card of the bench, and what stands of it, lot by lot. */
function detailLines({ books, now }: Scene, row: PrepRow, width: number): Line[] {
  const item = itemOf(row);
  const bench = row.kind === 'make' ? benchLines(books, row.line.card, Math.max(1, row.line.times)) : [];
  const lots = lotsOf(books, item.id).map(
    (lot) =>
      `${amountText(lot.left, item, books)}, ${lot.discardAt === null ? 'no date' : `good until ${dayOrHour(lot.discardAt, books.house)}`}${isLate(lot, now) ? ', past its date' : ''}`,
  );
  return [
    ...bench.flatMap((text, at) =>
      wrap(text, width).map((part) =>
        line(
          piece(
            at === 0 ? part : `${/^ */.exec(text)?.[0] ?? ''}${part.trim()}`,
            at === 0 ? 'strong' : 'plain',
          ),
        ),
      ),
    ),
    ...(lots.length === 0
      ? []
      : [blank, line(piece('stands there', 'under')), ...lots.map((text) => line(cut(text, width)))]),
  ];
}

const start: PrepState = { ...filterStart, night: null };

export const prepRoom: Room<PrepState> = {
  name: 'prep',
  title: 'Prep',
  answers: 'what is to be made for tonight, and what is past its date?',
  start,
  bindings,
  type: filterType,
  erase: filterErase,
  // What is typed, then the other night.
  back: (_, state) =>
    state.query === '' && state.night === null
      ? null
      : stay(state.query === '' ? start : { ...state, query: '', cursor: 0 }),
  shows: [{ type: 'load-ahead' }],
  // What was typed for a card, or made by its name, is done with.
  recorded: (_, state) => stay({ ...state, query: '' }),
  view,
};
