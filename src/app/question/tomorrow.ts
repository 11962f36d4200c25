// Questions of what is made, thrown away, ordered and taken in.

import { amountFor } from '../../domain/catalogue/container-words.ts';
import { displayAmount, shownIn } from '../../domain/catalogue/display.ts';
import type { Item } from '../../domain/catalogue/item.ts';
import { dayOrHour } from '../../domain/catalogue/keeping.ts';
import { isPrepCard, type PrepCard } from '../../domain/catalogue/spec.ts';
import { splitSigned } from '../../domain/catalogue/units.ts';
import { intendLoss } from '../../domain/intent/intend-stock.ts';
import type { Intent } from '../../domain/intent/intent.ts';
import { intendOrder, intendReceived } from '../../domain/intent/order/intend-order.ts';
import { cameWords, movedByCame, readCame } from '../../domain/intent/order/read-came.ts';
import { intendDiscard, intendMaking } from '../../domain/intent/prep/intend-prep.ts';
import type { Books } from '../../domain/ledger/books.ts';
import type { EventOf } from '../../domain/ledger/event.ts';
import { lateOpen, lotById } from '../../domain/ledger/stock/in-date.ts';
import { sentLines } from '../../domain/order/words.ts';
import { benchLines } from '../../domain/prep/words.ts';
import type { ItemId, SpecId } from '../../domain/value/ids.ts';
import { formatMoney } from '../../domain/value/money.ts';
import { numberDoubt } from '../../domain/value/number.ts';
import { refuse, saidInRooms } from '../../domain/value/problem.ts';
import type { DialogOf } from '../../screens/dialog.ts';
import { askedLines } from '../../screens/frame/dialog-view.ts';
import { wrap } from '../../screens/parts/line.ts';
import { close, field, isMove, moved, noField, only, type Question, wants } from './question.ts';

type Making = DialogOf<'making'>;

/** A prep card and what it makes. */
function madeBy(books: Books, id: SpecId): { readonly card: PrepCard; readonly item: Item } | null {
  const card = books.specs.get(id);
  const item = card === undefined || !isPrepCard(card) ? undefined : books.items.get(card.makes.item);
  return card === undefined || !isPrepCard(card) || item === undefined ? null : { card, item };
}

/** "3", "950 ml", "3 = 2850 ml", or nothing for what is proposed; null for anything else. */
function readMaking(
  books: Books,
  { card: id, times, text }: Making,
): { times: number; amount: number | null } | null {
  const made = madeBy(books, id);
  if (text.trim() === '' || made === null) return { times, amount: null };
  const [, many, rest = ''] = /^\s*(?:(\d{1,3})\s*(?:=\s*(?=\S)|$))?(.*)$/.exec(text) ?? [];
  const often = many === undefined ? times : Number(many);
  if (rest.trim() === '') return often > 0 ? { times: often, amount: null } : null;
  const split = splitSigned(rest, books.house);
  const amount = split === null || split.rest !== '' ? null : amountFor(made.item, split);
  return amount === null || amount <= 0 ? null : { times: often, amount };
}

export const making: Question<'making'> = {
  ask: ({ books }, dialog, size) => {
    const made = madeBy(books, dialog.card);
    if (made === null) return [];
    const { card, item } = made;
    const read = readMaking(books, dialog);
    const bench = benchLines(books, card, read?.times ?? dialog.times);
    const usual = displayAmount(
      card.makes.amount * (read?.times ?? dialog.times),
      shownIn(item),
      books.house,
    );
    return askedLines(
      {
        title: `${card.name}: how much came out?`,
        field: { text: dialog.text, hint: `Enter for ${usual}; 3 is three times; 950 ml is what came out` },
        options: bench.slice(1).map((text) => text.trim()),
        cursor: -1,
        foot: 'Enter records it, Esc goes back.',
      },
      size,
    );
  },
  ...field<Making>(40),
  waits: true,
  key: (state, dialog, key) =>
    isMove(key)
      ? only(state)
      : key === 'enter'
        ? { state, effects: [{ type: 'record', intent: makingIntent(dialog), from: 'prep' }] }
        : null,
};

const makingIntent =
  (dialog: Making): Intent =>
  (books, now) => {
    const card = books.specs.get(dialog.card);
    const read = readMaking(books, dialog);
    if (card === undefined) return refuse('unknown-spec', 'That card is gone. Press Esc and choose another.');
    if (read === null)
      return refuse(
        'bad-amount',
        numberDoubt(dialog.text) ??
          `"${dialog.text.trim()}" is neither how often nor what came out. Write 3, or 950 ml, or 3 = 2850 ml.`,
      );
    return intendMaking(books, { by: null, card, ...read }, now);
  };

const THROW = ['leave it', 'throw it away'];

/** No Enter by itself throws anything away. */
export const discard: Question<'discard'> = {
  ask: ({ books, now }, dialog, size) =>
    askedLines(
      {
        title: thrown(books, dialog, now),
        options: THROW,
        cursor: dialog.cursor,
        foot: 'y or ↓ Enter throws it away, n or Esc leaves it.',
      },
      size,
    ),
  ...noField,
  key: (state, dialog, key) => {
    if (isMove(key))
      return only({ ...state, dialog: { ...dialog, cursor: moved(key, dialog.cursor, THROW.length, 2) } });
    if (key === 'y' || (key === 'enter' && dialog.cursor === 1)) return wants(state, discardIntent(dialog));
    return key === 'n' || key === 'enter' ? only(close(state)) : only(state);
  },
};

const discardIntent =
  ({ what }: DialogOf<'discard'>): Intent =>
  (books, now) => {
    if (typeof what === 'string') return intendDiscard(books, what, { by: null });
    const open = openLate(books, what, now);
    return open === undefined
      ? refuse('unknown-lot', 'Nothing stands open there any more.')
      : intendLoss(books, {
          by: null,
          item: open.item,
          amount: open.amount,
          why: 'expired',
          place: open.place,
        });
  };

function thrown(books: Books, { what }: DialogOf<'discard'>, now: string): string {
  const lot = typeof what === 'string' ? lotById(books, what) : undefined;
  const open = typeof what === 'string' ? undefined : openLate(books, what, now);
  const item = lot === undefined ? open?.item : books.items.get(lot.item);
  const until = lot === undefined ? (open?.until ?? null) : lot.discardAt;
  if (item === undefined) return 'Nothing is left of that.';
  return `Throw away ${displayAmount(lot?.left ?? open?.amount ?? 0, shownIn(item), books.house)} ${item.name}${until === null ? '' : `, good until ${dayOrHour(until, books.house)}`}? It is recorded as lost, expired.`;
}

/** What stands open too long of an item at a place. */
const openLate = (books: Books, at: { readonly item: ItemId; readonly place: string }, now: string) =>
  lateOpen(books, now).find(({ item, place }) => item.id === at.item && place === at.place);

/** What is sent, to be copied or read out; Enter says that it is. */
export const order: Question<'order'> = {
  ask: ({ books }, { lines, supplier, deliveryAt }, size) =>
    askedLines(
      {
        title: `Order of ${supplier === null ? 'whom nobody is named for' : (books.suppliers.get(supplier)?.name ?? supplier)}${contactOf(books, supplier)}: this is what is sent.`,
        options: sentLines({ deliveryAt, lines }, books),
        cursor: -1,
        foot: 'Enter records that it is sent, Esc goes back.',
      },
      size,
    ),
  ...noField,
  waits: true,
  key: (state, { lines, supplier, deliveryAt }, key) => {
    if (key !== 'enter') return only(state);
    const wish = {
      supplier,
      deliveryAt,
      lines: lines.map(({ item, containers }) => ({ item: item.id, containers, costMinor: item.costMinor })),
    };
    return {
      state,
      effects: [{ type: 'record', intent: (books) => intendOrder(books, wish, { by: null }), from: 'order' }],
    };
  },
};

const contactOf = (books: Books, supplier: DialogOf<'order'>['supplier']): string => {
  const contact = supplier === null ? '' : (books.suppliers.get(supplier)?.contact ?? '');
  return contact === '' ? '' : ` (${contact})`;
};

type Arrival = DialogOf<'arrival'>;

/** As ordered, but for what is typed; a new price says which cards it moves. */
export const arrival: Question<'arrival'> = {
  ask: ({ books }, dialog, size) => {
    const event = books.orders.get(dialog.order);
    if (event === undefined)
      return askedLines(
        { title: 'That order is not open any more.', options: [], cursor: -1, foot: 'Esc goes back.' },
        size,
      );
    return askedLines(
      {
        title: 'What came? Enter for all as ordered.',
        field: { text: dialog.text, hint: 'else what came otherwise: dry gin=4@19.50, rye=0' },
        options: arrivalLines(books, event, dialog.text).flatMap((text) => wrap(text, size.columns - 4)),
        cursor: -1,
        foot: 'Enter takes it in, Esc goes back.',
      },
      size,
    );
  },
  ...field<Arrival>(300),
  waits: true,
  key: (state, dialog, key) => {
    if (isMove(key)) return only(state);
    if (key !== 'enter') return null;
    const intent: Intent = (books) => {
      const came = readCame(books, cameWords(dialog.text));
      return came.ok ? intendReceived(books, dialog.order, came.value, { by: null }) : came;
    };
    return { state, effects: [{ type: 'record', intent, from: 'order' }] };
  },
};

function arrivalLines(books: Books, event: EventOf<'order-placed'>, text: string): string[] {
  const { currency } = books.house;
  const came = readCame(books, cameWords(text));
  const named = new Map((came.ok ? came.value : []).map((one) => [one.item.id, one]));
  const ordered = event.lines.map(({ item, containers }) => {
    const name = books.items.get(item)?.name ?? item;
    const other = named.get(item);
    if (other === undefined) return `${containers} × ${name}`;
    const price = other.costMinor === null ? '' : `, ${formatMoney(other.costMinor, currency)} each`;
    return `${other.containers} × ${name}, ordered ${containers}${price}`;
  });
  const more = [...named.values()]
    .filter(({ item }) => !event.lines.some((line) => line.item === item.id))
    .map(({ item, containers }) => `${containers} × ${item.name}, not ordered`);
  const moves = came.ok ? movedByCame(books, came.value) : '';
  const doubt =
    came.ok || text.trim() === '' ? '' : saidInRooms(came.problems[0] ?? { code: '', message: '', exit: 65 });
  return [...ordered, ...more, ...[moves, doubt].filter((said) => said !== '')];
}
