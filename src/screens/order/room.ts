// The Order room: what to order of whom, each line with its arithmetic and changed by a digit; what is on its way, to be taken in.

import { ENOUGH_NIGHTS } from '../../domain/order/demand.ts';
import { knowsTooLittle } from '../../domain/order/past.ts';
import { headText, supplierName } from '../../domain/order/words.ts';
import { dateText } from '../../domain/value/clock-date.ts';
import { fieldLine, filterErase, filterStart, filterType, listKeys } from '../filter.ts';
import { moneyText, shortName } from '../format.ts';
import { blank, cut, fitText, type Line, line, piece, wrap } from '../parts/line.ts';
import { listLines, longestOf, named } from '../parts/list.ts';
import { type Binding, type Room, refuse, type Scene, type Size, stay } from '../room.ts';
import { type OrderRow, type OrderState, orderRows, wantedBy } from './model.ts';

const start: OrderState = { ...filterStart, edits: new Map(), typing: null };
const marked = (scene: Scene, state: OrderState): OrderRow | undefined =>
  orderRows(scene, state)[state.cursor];

const bindings: readonly Binding<OrderState>[] = [
  {
    id: 'order',
    keys: ['enter'],
    label:
      'on a supplier shows what is sent, and places it; on an order that is on its way takes it in; on a line goes to the next',
    short: 'send, receive',
    run: (scene, state) => {
      const row = marked(scene, state);
      if (row === undefined) return refuse(state, 'Nothing is marked. Erase a letter or two.');
      if (row.kind === 'order') {
        const { supplier, deliveryAt, lines } = row.order;
        const some = lines.filter(({ containers }) => containers > 0);
        if (some.length === 0) return refuse(state, 'Nothing is left on that list. Type a number on a line.');
        return { state, dialog: { kind: 'order', supplier: supplier?.id ?? null, deliveryAt, lines: some } };
      }
      if (row.kind === 'open') return { state, dialog: { kind: 'arrival', order: row.event.id, text: '' } };
      if (row.kind === 'add') return added(scene, state, row);
      const last = orderRows(scene, state).length - 1;
      return stay({ ...state, cursor: Math.min(last, state.cursor + 1), typing: null });
    },
  },
  ...listKeys<OrderState>((scene, state) => orderRows(scene, state).length, 8).map((binding) => ({
    ...binding,
    run: (scene: Scene, state: OrderState) => {
      const step = binding.run(scene, state);
      return { ...step, state: { ...step.state, typing: null } };
    },
  })),
];

/** One case more of it than the list has; the mark stands on its line. */
function added(
  scene: Scene,
  state: OrderState,
  { line: { item, cases } }: Extract<OrderRow, { kind: 'add' }>,
) {
  const many = wantedBy(state.query).cases ?? (state.edits.get(item.id) ?? cases) + 1;
  const edits = new Map([...state.edits, [item.id, many]]);
  const next = { ...state, edits, query: '', typing: null };
  const cursor = orderRows(scene, next).findIndex(
    (row) => row.kind === 'line' && row.line.item.id === item.id,
  );
  return stay({ ...next, cursor: Math.max(0, cursor) });
}

const MOST_CASES = 999;

/** Digits are the cases of the marked line; letters find what is not on the list. */
function typed(scene: Scene, state: OrderState, text: string) {
  const row = marked(scene, state);
  if (!/^\d+$/.test(text) || state.query !== '') return filterType(scene, { ...state, typing: null }, text);
  if (row?.kind !== 'line')
    return refuse(state, 'A number is the cases of a line. Mark one, or type a name to add it.');
  const { item } = row.line;
  const before = state.typing === item.id ? String(state.edits.get(item.id) ?? '') : '';
  const cases = Number(`${before}${text}`);
  if (cases > MOST_CASES) return refuse(state, `An order is at most ${MOST_CASES} cases of one thing.`);
  return stay({ ...state, edits: new Map([...state.edits, [item.id, cases]]), typing: item.id });
}

/** Backspace takes a digit, then what was typed: the line is as it was worked out again. */
function erased(scene: Scene, state: OrderState) {
  const row = marked(scene, state);
  if (state.query !== '' || row?.kind !== 'line') return filterErase(scene, state);
  const { id } = row.line.item;
  const edits = new Map(state.edits);
  const rest = String(edits.get(id) ?? '').slice(0, -1);
  if (rest === '') edits.delete(id);
  else edits.set(id, Number(rest));
  return stay({ ...state, edits, typing: rest === '' ? null : id });
}

function view(scene: Scene, state: OrderState, size: Size): Line[] {
  const rows = orderRows(scene, state);
  const row = rows[state.cursor];
  const why = row === undefined ? [] : whyLines(scene, row, state.query, size.columns);
  const listRows = Math.max(3, size.rows - 1 - why.length - 1);
  const nameWidth = Math.min(
    Math.max(12, longestOf(rows.map((one) => ('line' in one ? shortName(one.line.item) : '')))),
    size.columns - 2 - CASES - COST - 3,
  );
  return [
    fieldLine(
      state.query,
      'a number changes the marked line; a name adds what is not on a list',
      size.columns,
    ),
    ...(rows.length === 0
      ? emptyLines(scene, state, size.columns)
      : listLines(rows, state.cursor, listRows, (one, on) =>
          rowLine(scene, state, one, on, nameWidth, size.columns),
        )),
    ...(why.length === 0 ? [] : [blank, ...why]),
  ];
}

const CASES = 10;
const COST = 11;

function rowLine(
  { books }: Scene,
  state: OrderState,
  row: OrderRow,
  on: boolean,
  nameWidth: number,
  width: number,
): Line {
  if (row.kind === 'order') {
    const { orderBy, deliveryAt, costMinor } = row.order;
    const text = `${supplierName(row.order)} · ${moneyText(costMinor, books)} · order by ${dateText(orderBy)} · comes ${dateText(deliveryAt)}`;
    return line(piece(fitText(`${on ? '› ' : '  '}${text}`, width), on ? 'chosen' : 'strong'));
  }
  if (row.kind === 'open') {
    const { supplier, deliveryAt, lines } = row.event;
    const name = supplier === null ? 'nobody named' : (books.suppliers.get(supplier)?.name ?? supplier);
    const many = `${lines.length} ${lines.length === 1 ? 'thing' : 'things'}`;
    return line(
      piece(
        cut(`${on ? '› ' : '  '}on its way: ${many} of ${name}, for ${dateText(deliveryAt)}`, width),
        on ? 'chosen' : 'plain',
      ),
    );
  }
  const { item, cases, containers, costMinor } = row.line;
  const many = (item.caseOf ?? 1) > 1 ? `${cases} × ${item.caseOf}` : String(containers);
  const isByHand = state.edits.has(item.id);
  return [
    ...named(on, shortName(item), nameWidth + 2),
    piece(
      ` ${fitText(many, CASES, 'right')}${fitText(costMinor === null ? 'no price' : moneyText(costMinor, books), COST, 'right')}${isByHand ? '  by hand' : ''}`,
      containers === 0 ? 'soft' : 'plain',
    ),
  ];
}

function whyLines({ books }: Scene, row: OrderRow, query: string, width: number): Line[] {
  const text =
    row.kind === 'order'
      ? `${headText(row.order, books)}. Enter shows what is sent.`
      : row.kind === 'open'
        ? 'Enter takes it in, as ordered or as it came.'
        : row.kind === 'add'
          ? `${row.line.why}. Enter ${wantedBy(query).cases === null ? 'adds a case' : `makes it ${wantedBy(query).cases}`}.`
          : row.line.why;
  return wrap(text, width)
    .slice(0, 3)
    .map((part) => line(part));
}

function emptyLines({ books, ahead }: Scene, { query }: OrderState, width: number): Line[] {
  const nights = ahead?.uses.length ?? 0;
  const text =
    query !== ''
      ? 'Nothing stocked is called so. Erase a letter or two.'
      : knowsTooLittle(books, nights)
        ? `Nothing can be said yet: ${nights} of ${ENOUGH_NIGHTS} nights are sealed, and no item has a par. A par is written in the Book; a name typed here adds a thing by hand.`
        : 'Nothing is short of what it should be. A name typed here adds a thing by hand.';
  return wrap(text, width).map((part) => line(part));
}

export const orderRoom: Room<OrderState> = {
  name: 'order',
  title: 'Order',
  answers: 'what is to be ordered of whom, and what is on its way?',
  start,
  bindings,
  shows: [{ type: 'load-ahead' }],
  type: typed,
  erase: erased,
  back: (_, state) => {
    if (state.query !== '') return stay({ ...state, query: '', cursor: 0, typing: null });
    return state.edits.size === 0
      ? null
      : {
          state: { ...start },
          message: { text: 'What was changed by hand is as it was worked out again.', tone: 'plain' },
        };
  },
  // What was sent is on its way; its changes are done with.
  recorded: (scene, state, events) => {
    const sent = events.flatMap((event) =>
      event.kind === 'order-placed' ? event.lines.map(({ item }) => item) : [],
    );
    const edits = new Map([...state.edits].filter(([item]) => !sent.includes(item)));
    const next = { ...state, edits, typing: null };
    return stay({ ...next, cursor: Math.max(0, Math.min(next.cursor, orderRows(scene, next).length - 1)) });
  },
  view,
};
