// What to do with a marked item, and how much of it.

import {
  amountFor,
  amountIn,
  piecesAmount,
  splitContainers,
} from '../../domain/catalogue/container-words.ts';
import type { House } from '../../domain/catalogue/house.ts';
import type { Item } from '../../domain/catalogue/item.ts';
import { amountOf, splitQuantity } from '../../domain/catalogue/units.ts';
import {
  intendDelivery,
  intendLoss,
  intendMove,
  intendOpenBottle,
} from '../../domain/intent/intend-stock.ts';
import type { Intent } from '../../domain/intent/intent.ts';
import { type Books, placesOf } from '../../domain/ledger/books.ts';
import { lossReasons } from '../../domain/ledger/event.ts';
import type { ItemId } from '../../domain/value/ids.ts';
import { formatMoney, parseMoney } from '../../domain/value/money.ts';
import { numberDoubt } from '../../domain/value/number.ts';
import { refuse } from '../../domain/value/problem.ts';
import type { DialogOf, StockAction } from '../../screens/dialog.ts';
import { askedLines } from '../../screens/frame/dialog-view.ts';
import { goTo } from '../keymap.ts';
import type { AppState } from '../state.ts';
import { asks, close, field, isMove, moved, noField, only, type Question, wants } from './question.ts';

const actions: readonly { readonly what: StockAction; readonly label: string }[] = [
  { what: 'open', label: 'open the next one' },
  { what: 'lose', label: 'record a loss' },
  { what: 'receive', label: 'record a delivery' },
  { what: 'move', label: 'move to another place' },
  { what: 'without', label: 'what can be poured without it' },
  { what: 'count', label: 'correct by a count' },
];
const CHOOSE = '↑↓ choose, Enter answers, Esc goes back.';

const itemName = ({ books }: AppState, id: ItemId): string => books.items.get(id)?.name ?? id;

export const stock: Question<'stock'> = {
  ask: (state, { item, place, cursor }, size) =>
    askedLines(
      {
        title: `${itemName(state, item)} at ${place}`,
        options: actions.map(({ label }) => label),
        cursor,
        foot: CHOOSE,
      },
      size,
    ),
  ...noField,
  key: (state, dialog, key) => {
    if (isMove(key)) {
      const cursor = moved(key, dialog.cursor, actions.length, 4);
      return only({ ...state, dialog: { ...dialog, cursor } });
    }
    const what = actions[dialog.cursor]?.what;
    const item = state.books.items.get(dialog.item);
    if (key !== 'enter') return only(state);
    if (what === undefined || item === undefined) return only(close(state));
    const { place } = dialog;
    // The level is wrong: a reading puts it right, at this very row.
    if (what === 'count') return goTo(close(state), dialog.recount);
    if (what === 'without')
      return only({ ...state, dialog: { kind: 'look', at: { what, item: item.id }, cursor: 0 } });
    if (what === 'open') return wants(state, (books) => intendOpenBottle(books, { by: null, item, place }));
    return only({
      ...state,
      dialog: { kind: 'amount', what, item: item.id, place, text: '', choice: 0 },
    });
  },
};

type Amount = DialogOf<'amount'>;

const asked = {
  lose: 'How much was lost, and why?',
  receive: 'How many came in?',
  move: 'How many go, and where to?',
} as const;

/** What the second line chooses between: reasons, or places. */
function amountChoices(books: Books, { what, place }: Amount): readonly string[] {
  if (what === 'lose') return lossReasons;
  return what === 'move' ? placesOf(books).filter((other) => other !== place) : [];
}

function hintOf({ books }: AppState, { what, item }: Amount): string {
  const stocked = books.items.get(item);
  if (what === 'lose')
    return stocked !== undefined && piecesAmount(stocked, 1000) !== null
      ? `2 is two of them${stocked.unit === 'each' ? '' : '; 50 ml of one'}`
      : '50 ml, or 1 bottle';
  if (what === 'move') return '1, or 1 to cellar for a new place';
  const costMinor = stocked?.costMinor ?? null;
  const last = costMinor === null ? '' : `; last ${formatMoney(costMinor, books.house.currency)}`;
  return `containers, as 6 or 2 cases, or 6 at 18.90 with the cost of one${last}`;
}

export const amount: Question<'amount'> = {
  ask: (state, dialog, size) =>
    askedLines(
      {
        title: `${itemName(state, dialog.item)}: ${asked[dialog.what]}`,
        field: { text: dialog.text, hint: hintOf(state, dialog) },
        options: amountChoices(state.books, dialog),
        cursor: dialog.choice,
        foot: `Type the amount. ${CHOOSE}`,
      },
      size,
    ),
  ...field<Amount>(40),
  waits: true,
  key: (state, dialog, key) => {
    const choices = amountChoices(state.books, dialog);
    if (isMove(key)) {
      const choice = moved(key, dialog.choice, choices.length, 3);
      return only({ ...state, dialog: { ...dialog, choice } });
    }
    return key === 'enter' ? asks(state, amountIntent(dialog, choices[dialog.choice])) : null;
  },
};

/** A number alone is so many containers of a delivery or a move. */
function amountIntent(dialog: Amount, choice: string | undefined): Intent {
  return (books) => {
    const item = books.items.get(dialog.item);
    if (item === undefined) return refuse('unknown-item', 'That item is gone. Press Esc and choose another.');
    if (dialog.what === 'receive') return delivery(books, item, dialog);
    return dialog.what === 'move' ? move(books, item, dialog, choice) : loss(books, item, dialog, choice);
  };
}

function move(books: Books, item: Item, dialog: Amount, choice: string | undefined): ReturnType<Intent> {
  const [containers = '', place] = dialog.text.split(/\s+to\s+/);
  const to = place ?? choice;
  if (to === undefined)
    return refuse('no-place', 'There is no other place yet. Write where, as 1 to cellar.');
  return intendMove(books, { by: null, item, containers, from: dialog.place, to });
}

function loss(books: Books, item: Item, dialog: Amount, choice: string | undefined): ReturnType<Intent> {
  const held = splitContainers(dialog.text);
  const inContainers = held === null || held.rest !== '' ? null : amountIn(held, item);
  if (inContainers !== null && !inContainers.ok) return inContainers;
  const why = lossReasons.find((reason) => reason === choice) ?? 'spill';
  if (inContainers !== null)
    return intendLoss(books, { by: null, item, amount: inContainers.value, why, place: dialog.place });
  const amount = amountSaid(dialog.text, item, books.house);
  if (amount === null)
    return refuse(
      'bad-amount',
      numberDoubt(dialog.text) ??
        `"${dialog.text}" is not an amount of ${item.name}. Write ${exampleOf(item)}.`,
    );
  return intendLoss(books, { by: null, item, amount, why, place: dialog.place });
}

const exampleOf = (item: Item): string =>
  piecesAmount(item, 1000) === null ? `50 ${item.unit} or 1 bottle` : '2';

/** Below this a number alone might be bottles; nobody spills 2 ml and enters it (our decision). */
const LEAST_BARE = 10;

/** "50 ml", "20 g", "2", "50": a number alone is pieces of what is counted so, and ml of a liquid from ten on. Null for any other. */
function amountSaid(text: string, item: Item, house: House): number | null {
  const isBare = /^[\d.,]+$/.test(text.trim());
  const isMl =
    isBare && piecesAmount(item, 1000) === null && Number(text.trim().replace(',', '.')) >= LEAST_BARE;
  const split = splitQuantity(isMl ? `${text} ${item.unit}` : text, house);
  const read = split === null || split.rest !== '' ? null : amountOf(split.quantity, split.unit, house);
  return read === null ? null : amountFor(item, read);
}

/** "6", or "6 at 18.90" with what one costs. */
function delivery(books: Books, item: Item, { text, place }: Amount): ReturnType<Intent> {
  const [containers = '', cost] = text.split(/\s+at\s+/);
  const costMinor = cost === undefined ? null : parseMoney(cost, books.house.currency);
  if (cost !== undefined && costMinor === null)
    return refuse(
      'bad-cost',
      numberDoubt(cost) ?? `"${cost}" is not an amount of ${books.house.currency}. Write 6 at 18.90.`,
    );
  return intendDelivery(books, { by: null, item, containers, costMinor, place });
}
