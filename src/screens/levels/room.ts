// The Levels room: what stands where, how full, how many drinks left; open, lose, receive and move from here.

import { type Books, stockKey } from '../../domain/ledger/books.ts';
import { itemIndex } from '../../domain/search/house-search.ts';
import { searchIndex } from '../../domain/search/search.ts';
import { type Level, LOW_DRINKS, levelsOf } from '../../domain/service/levels.ts';
import { memoBy } from '../../domain/value/memo.ts';
import { type FilterState, fieldLine, filterRoom, listKeys } from '../filter.ts';
import { AMOUNT, amountText, shortName, usableNow } from '../format.ts';
import { bar, containers } from '../parts/bar.ts';
import { fitText, type Line, line, piece } from '../parts/line.ts';
import { listLines, longestOf, named } from '../parts/list.ts';
import { type Binding, type Room, refuse, type Scene, type Size } from '../room.ts';

const allLevels = memoBy(
  (books: Books) => [books],
  (books): readonly Level[] => levelsOf(books),
);

export function levelRows(books: Books, query: string): readonly Level[] {
  const all = allLevels(books);
  if (query.trim() === '') return all;
  const found = new Map(searchIndex(itemIndex(books), query, () => 0).map((item, place) => [item.id, place]));
  return all
    .filter(({ item }) => found.has(item.id))
    .sort((a, b) => (found.get(a.item.id) ?? 0) - (found.get(b.item.id) ?? 0));
}

const bindings: readonly Binding<FilterState>[] = [
  {
    id: 'stock-actions',
    keys: ['enter'],
    label: 'opens the next one, or records a loss, a delivery or a move of the marked item',
    short: 'open, lose, receive, move',
    run: (scene, state) => {
      const level = levelRows(scene.books, state.query)[state.cursor];
      if (level === undefined) return refuse(state, 'Nothing is marked. Erase a letter or two.');
      return {
        state,
        dialog: {
          kind: 'stock',
          item: level.item.id,
          place: level.place,
          cursor: 0,
          recount: { room: 'count', at: stockKey(level.item.id, level.place) },
        },
      };
    },
  },
  ...listKeys<FilterState>((scene, state) => levelRows(scene.books, state.query).length),
];

function view(scene: Scene, state: FilterState, size: Size): Line[] {
  const rows = levelRows(scene.books, state.query);
  const wide = size.columns >= 100;
  const longest = longestOf(rows.map(({ item }) => shortName(item)));
  const places = longestOf(['place', ...rows.map(({ place }) => place)]);
  const rest = size.columns - BESIDE;
  // Names come first and whole; the place only where there is room for it after them.
  const placeWidth = rest - longest - 1 >= 5 ? Math.min(places, rest - longest - 1) : 0;
  const nameWidth = Math.min(longest, rest - (placeWidth === 0 ? 0 : placeWidth + 1));
  const head = line(
    piece(
      `  ${fitText('item', nameWidth)}${placeWidth === 0 ? '' : ` ${fitText('place', placeWidth)}`} ${fitText('expected', EXPECTED, 'right')} ${fitText('open', 6)} ${fitText('sealed', 7)} ${fitText('drinks', 7, 'right')}`,
      'under',
    ),
  );
  const body = listLines(rows, state.cursor, size.rows - 2, (level, on) =>
    levelLine(scene.books, level, on, { nameWidth, placeWidth, wide }),
  );
  return [
    fieldLine(state.query, 'type to find an item; Enter acts on the marked one', size.columns),
    head,
    ...(rows.length === 0 ? [line('Nothing is called so. Erase a letter or two.')] : body),
  ];
}

const EXPECTED = AMOUNT;
/** What stands beside name and place: the mark, the amount, two pictures, the drinks and a word. */
const BESIDE = 2 + 1 + EXPECTED + 1 + 6 + 1 + 7 + 1 + 7 + 4;

type Columns = { readonly nameWidth: number; readonly placeWidth: number; readonly wide: boolean };

function levelLine(books: Books, level: Level, on: boolean, { nameWidth, placeWidth, wide }: Columns): Line {
  const { item } = level;
  const total = usableNow(books).get(item.id) ?? 0;
  const fractions = level.open.map((amount) => amount / item.size);
  const pieces = item.unit === 'each';
  const open = pieces ? '' : bar(fractions[0] ?? 0, 5);
  const sealed = pieces ? '' : containers(level.sealed, wide ? 7 : 5);
  const left = level.drinksHere;
  const late = (books.late.get(item.id) ?? 0) > 0;
  const state =
    level.expected < 0
      ? 'below 0'
      : total <= 0
        ? late
          ? 'late'
          : 'out'
        : left === null
          ? ''
          : String(Math.min(left, 9999));
  const style = total <= 0 ? 'bad' : left !== null && left <= LOW_DRINKS ? 'warn' : 'plain';
  const place = placeWidth === 0 ? '' : ` ${fitText(level.place, placeWidth)}`;
  const expected = fitText(amountText(level.expected, item, books), EXPECTED, 'right');
  return [
    ...named(on, shortName(item), nameWidth + 2),
    piece(`${place} ${expected} ${fitText(open, 6)} ${fitText(sealed, 7)} `),
    // What runs low is marked with a word beside its colour.
    piece(
      `${fitText(state, 7, 'right')}${late && state !== 'late' ? '+old' : style === 'warn' ? ' low' : ''}`,
      late ? 'bad' : style,
    ),
  ];
}

/** A move adds a row: the mark stays on the item it stood on, so that the next Enter means the same. */
function keepMark(before: Scene, after: Scene, state: FilterState): FilterState {
  const marked = levelRows(before.books, state.query)[state.cursor];
  const cursor = levelRows(after.books, state.query).findIndex(
    ({ item, place }) => item.id === marked?.item.id && place === marked.place,
  );
  return cursor < 0 ? state : { ...state, cursor };
}

export const levelsRoom: Room<FilterState> = {
  name: 'levels',
  title: 'Levels',
  answers: 'what stands where, how full, and how many drinks is that?',
  ...filterRoom,
  bindings,
  settled: keepMark,
  view,
};
