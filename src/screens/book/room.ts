// The Book room: what we stock, what we pour, who works here, how the house is set. ^N writes each of them anew, or a new one.

import { supplierText } from '../../domain/card/supplier-card.ts';
import { retiredName } from '../../domain/catalogue/catalogue.ts';
import type { Item } from '../../domain/catalogue/item.ts';
import { keepsText } from '../../domain/catalogue/keeping.ts';
import type { Spec } from '../../domain/catalogue/spec.ts';
import { kinOf } from '../../domain/drink/kin/kin.ts';
import { differenceText } from '../../domain/drink/kin/kin-text.ts';
import { type Books, expectedOf, placesOf } from '../../domain/ledger/books.ts';
import { dateText } from '../../domain/value/clock-date.ts';
import { foldText } from '../../domain/value/text.ts';
import type { DialogOf } from '../dialog.ts';
import {
  type FilterState,
  fieldLine,
  filterBack,
  filterErase,
  filterRoom,
  filterType,
  listKeys,
} from '../filter.ts';
import { amountText, moneyText } from '../format.ts';
import { besides, fitText, type Line, line, piece, wrap } from '../parts/line.ts';
import { listLines, named } from '../parts/list.ts';
import { specCard } from '../parts/spec-card.ts';
import { type Binding, type Room, refuse, type Scene, type Size, stay } from '../room.ts';
import {
  freshSupplier,
  newItem,
  newPerson,
  newSpec,
  oldItem,
  oldPerson,
  oldPlace,
  oldSetting,
  oldSpec,
  oldSupplier,
} from '../writing.ts';
import { EMPTY_PART, type Page, pagesOf, partNamed } from './pages.ts';

type BookState = FilterState & {
  /** The marked page has the room to itself; how many pages of it are turned. */
  readonly open: number | null;
};
const bookStart: BookState = { ...filterRoom.start, open: null };

/** What is to be written by the word before its name. */
const newOf = ([, word = '', name = '']: readonly string[], books: Books): DialogOf<'write'> =>
  word.toLowerCase() === 'item'
    ? newItem(name)
    : word.toLowerCase() === 'person'
      ? newPerson(name)
      : freshSupplier(name, books);

const NO_SUCH_PLACE =
  'A place is there as soon as something stands there: write it as the place of an item, or receive or move something to it.';

const bindings: readonly Binding<BookState>[] = [
  {
    id: 'open-page',
    keys: ['enter'],
    label: 'opens the marked page over the whole room, PgDn turns it; Enter or Esc goes back to the list',
    short: 'open',
    run: (scene, state) =>
      pagesOf(scene.books, state.query)[state.cursor] === undefined
        ? refuse(state, 'Nothing is marked. Erase a letter or two.')
        : stay({ ...state, open: state.open === null ? 0 : null }),
  },
  {
    id: 'write-new',
    keys: ['ctrl-n'],
    label:
      'writes the marked card anew, or what is typed and not there as a new drink; "item fino" as a new item, "person Tom" or "supplier Quay Drinks" somebody new, "import prices.xlsx" a spreadsheet',
    short: 'write',
    run: (scene, state) => {
      const { books, draft } = scene;
      const file = /^(?:import|file)\s+(\S.*)$/i.exec(state.query.trim());
      if (file !== null) return { state: bookStart, effects: [{ type: 'read-sheet', file: file[1] ?? '' }] };
      const asked = /^(item|person|supplier)\s+(\S.*)$/i.exec(state.query.trim());
      const place = /^place\s+(\S.*)$/i.exec(state.query.trim())?.[1]?.toLowerCase();
      if (place !== undefined && placesOf(books).includes(place)) return { state, dialog: oldPlace(place) };
      if (place !== undefined) return refuse(state, NO_SUCH_PLACE);
      // The name alone stays in the field, so that what is written is marked.
      if (asked !== null)
        return { state: { ...state, query: asked[2] ?? '', cursor: 0 }, dialog: newOf(asked, books) };
      if (draft !== null && state.query === '' && state.open === null) return { state, dialog: draft };
      const page = pagesOf(books, state.query)[state.cursor];
      const gone = goneText(books, state.query);
      if (gone !== '' && page !== undefined && !foldText(page.name).includes(foldText(state.query)))
        return refuse(state, gone);
      if (page === undefined && partNamed(state.query) !== undefined) return refuse(state, EMPTY_PART);
      if (page === undefined) return { state, dialog: newSpec(state.query.trim(), null) };
      if (page.kind === 'spec') return { state, dialog: oldSpec(page.spec, books) };
      if (page.kind === 'item') return { state, dialog: oldItem(page.item, books) };
      if (page.kind === 'supplier') return { state, dialog: oldSupplier(page.supplier, books) };
      if (page.kind === 'place') return { state, dialog: oldPlace(page.name) };
      return {
        state,
        dialog: page.kind === 'person' ? oldPerson(page.person) : oldSetting(page.name, page.value),
      };
    },
  },
  {
    id: 'kin',
    keys: ['ctrl-k'],
    label: 'the marked drink beside its kin, one measure apart; when it is out, what comes nearest',
    short: 'kin',
    run: (scene, state) => {
      const page = pagesOf(scene.books, state.query)[state.cursor];
      if (page?.kind !== 'spec') return refuse(state, 'Mark a spec first.');
      return { state, dialog: { kind: 'look', at: { what: 'kin', spec: page.spec.id }, cursor: 0 } };
    },
  },
  ...listKeys<BookState>((scene, state) => pagesOf(scene.books, state.query).length).map((binding) => ({
    ...binding,
    run: (scene: Scene, state: BookState) => {
      const [key] = binding.keys;
      if (state.open !== null && (key === 'pgdn' || key === 'pgup'))
        return stay({ ...state, open: Math.max(0, state.open + (key === 'pgdn' ? 1 : -1)) });
      const step = binding.run(scene, state);
      return stay({ ...step.state, open: state.open === null ? null : 0 });
    },
  })),
];

/** All of one page, turned where it is longer than the window. */
function openPage(books: Books, page: Page, turned: number, size: Size): Line[] {
  const lines = pageLines(books, page, Math.min(96, size.columns));
  if (lines.length <= size.rows) return lines;
  const step = size.rows - 1;
  const last = Math.ceil(lines.length / step) - 1;
  const at = Math.min(turned, last);
  const shown = lines.slice(at * step, (at + 1) * step);
  const below = lines.length - at * step - shown.length;
  return [...shown, line(below > 0 ? `  ↓ ${below} more, PgDn` : '  ↑ PgUp goes back')];
}

function view(scene: Scene, state: BookState, size: Size): Line[] {
  const pages = pagesOf(scene.books, state.query);
  const opened = pages[state.cursor];
  if (state.open !== null && opened !== undefined) return openPage(scene.books, opened, state.open, size);
  const wide = size.columns >= 76;
  const listWidth = wide ? Math.min(44, Math.floor(size.columns * 0.45)) : size.columns;
  const list = listLines(pages, state.cursor, size.rows - 2, (page, on) =>
    named(on, `${fitText(page.kind, 9)}${page.name}`, listWidth),
  );
  const page = pages[state.cursor];
  const detail =
    page === undefined
      ? []
      : pageLines(scene.books, page, Math.min(72, size.columns - listWidth - 2)).slice(0, size.rows - 2);
  const head = [
    fieldLine(
      state.query,
      'type a name, or: specs, items, people, suppliers, places, settings, retired',
      size.columns,
    ),
    line(goneText(scene.books, state.query) || ' '),
  ];
  if (pages.length === 0 && partNamed(state.query) !== undefined) return [...head, line(EMPTY_PART)];
  if (pages.length === 0) {
    const text = /^place\s/i.test(state.query) ? NO_SUCH_PLACE : 'Nothing is called so; ^N writes it.';
    return [...head, ...wrap(text, size.columns).map((row) => line(row))];
  }
  return [...head, ...(wide ? besides(list, detail, listWidth) : list)];
}

/** What is called so and out of use is named, also beside what only comes near. */
function goneText(books: Books, query: string): string {
  const gone = retiredName(books, query);
  return gone === null ? '' : `${gone} is out of use: "retired" brings it back.`;
}

function pageLines(books: Books, page: Page, width: number): Line[] {
  if (page.kind === 'spec')
    return [...specCard(books, page.spec, 1, width), ...kinLines(books, page.spec, width)];
  if (page.kind === 'item') return itemLines(books, page.item, width);
  if (page.kind === 'person')
    return [line(piece(page.name, 'strong')), line(page.person.here ? 'works here' : 'has left')];
  if (page.kind === 'place')
    return [
      line(piece(page.name, 'strong')),
      ...wrap(`${page.lives.length} live here: ${page.lives.map(({ name }) => name).join(', ')}`, width).map(
        (text) => line(text),
      ),
    ];
  if (page.kind === 'supplier')
    return supplierText(page.supplier, books).flatMap((fact) => wrap(fact, width).map((text) => line(text)));
  return [
    line(piece(page.name, 'strong')),
    line(page.value),
    ...wrap(page.says, width).map((text) => line(text)),
  ];
}

/** Specs that are this one with a single measure changed; the change is marked. */
function kinLines(books: Books, spec: Spec, width: number): Line[] {
  const kin = kinOf(spec, books);
  if (kin.length === 0) return [];
  const rows = kin.flatMap(({ spec: other, difference }) =>
    wrap(`${other.name}: ${differenceText(difference, books)}`, width).map((text) => line(text)),
  );
  return [line(' '), line(piece('one measure apart', 'strong')), ...rows];
}

const supplierFact = ({ supplier, code }: Item, { suppliers }: Books): string =>
  supplier === undefined
    ? ''
    : `from ${suppliers.get(supplier)?.name ?? supplier}${code === undefined ? '' : `, their ${code}`}`;

/** What it costs, and since when. */
function costText({ id, costMinor }: Item, books: Books): string {
  if (costMinor === null) return '';
  const since = books.bought.get(id)?.costs.at(-1)?.from;
  const when = since === undefined ? '' : ` since ${dateText(since.slice(0, 10))}`;
  return `costs ${moneyText(costMinor, books)} ${books.house.currency}${when}`;
}

function itemLines(books: Books, item: Item, width: number): Line[] {
  const facts = [
    `${item.kind}, ${item.sizeText}`,
    item.also.length === 0 ? '' : `also ${item.also.join(', ')}`,
    item.abvPercent === null ? '' : `${item.abvPercent} % by volume`,
    item.sugarGramsPerLitre === null
      ? ''
      : `${item.sugarGramsPerLitre} g sugar per ${item.unit === 'g' ? 'kilogram' : 'litre'}`,
    item.tareMilligrams === null ? '' : `empty container ${item.tareMilligrams / 1000} g`,
    item.keeps === undefined ? '' : `keeps ${keepsText(item.keeps)}`,
    item.opened === undefined ? '' : `once open ${keepsText(item.opened)}`,
    costText(item, books),
    item.retired === true ? 'retired: out of lists, search and count' : '',
    `at ${item.place}${item.shelf === '' ? '' : `, shelf ${item.shelf}`}; counted in ${item.count}`,
    `expected now ${amountText(expectedOf(books, item.id), item, books)}`,
    supplierFact(item, books),
    item.allergens.length === 0 ? '' : `contains ${item.allergens.join(', ')}`,
    item.caution === '' ? '' : `! ${item.caution}`,
  ];
  return [
    line(piece(fitText(item.name, width), 'strong')),
    ...facts
      .filter((fact) => fact !== '')
      .flatMap((fact) => wrap(fact, width))
      .map((text) => line(text)),
  ];
}

export const bookRoom: Room<BookState> = {
  name: 'book',
  title: 'Book',
  answers: 'what do we stock, what do we pour, who works here?',
  start: bookStart,
  type: (scene, state, text) => filterType(scene, { ...state, open: null }, text),
  erase: (scene, state) => filterErase(scene, { ...state, open: null }),
  back: (scene, state) => (state.open === null ? filterBack(scene, state) : stay({ ...state, open: null })),
  bindings,
  view,
};
