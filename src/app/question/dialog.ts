// Questions in front of a room: help, who is pouring, what to do with an item, how much, are you sure, the word to seal.

import type { Item } from '../../domain/catalogue/item.ts';
import { amountOf, splitQuantity } from '../../domain/catalogue/units.ts';
import { intendHandover, intendOpenShift, intendSeal } from '../../domain/intent/intend-shift.ts';
import {
  intendDelivery,
  intendLoss,
  intendMove,
  intendOpenBottle,
} from '../../domain/intent/intend-stock.ts';
import type { Intent } from '../../domain/intent/intent.ts';
import { type Books, isOpen, stockKey as keyOfStock, placesOf } from '../../domain/ledger/books.ts';
import { lossReasons } from '../../domain/ledger/event.ts';
import type { PersonId } from '../../domain/value/ids.ts';
import { parseMoney } from '../../domain/value/money.ts';
import { refuse } from '../../domain/value/problem.ts';
import { foldText } from '../../domain/value/text.ts';
import { type CountState, countAt } from '../../screens/count/model.ts';
import { lookRows } from '../../screens/frame/looks.ts';
import { moveCursor } from '../../screens/parts/list.ts';
import type { Dialog, Effect, StockAction } from '../../screens/room.ts';
import { goTo, sharedKeys } from '../keymap.ts';
import type { Key } from '../keys.ts';
import { roomNamed } from '../rooms.ts';
import type { AppState, Update } from '../state.ts';
import { wordsChoices, wordsIntent } from './words.ts';

/** Who may be named as the one who seals: who is pouring stands first. */
export function sealers(books: Books) {
  const pouring = isOpen(books.shift) ? books.shift.pouring : null;
  return peopleHere(books).sort((a, b) => Number(b.id === pouring) - Number(a.id === pouring));
}

/** The word that seals: typed, never a single key. */
export const SEAL_WORD = 'seal';

export type HelpRow = { readonly keys: readonly string[]; readonly label: string; readonly room: boolean };

/** Rows of the help, filtered by what is typed. */
export function helpRows(state: AppState, filter: string): HelpRow[] {
  const own = roomNamed(state.room).bindings.map(({ keys, label }) => ({ keys, label, room: true }));
  const shared = sharedKeys.map(({ keys, label }) => ({ keys, label, room: false }));
  const wanted = foldText(filter);
  return [...own, ...shared].filter(({ label, keys }) =>
    foldText(`${label} ${keys.join(' ')}`).includes(wanted),
  );
}

export const peopleHere = (books: Books) => [...books.people.values()].filter((person) => person.here);

export const stockActions: readonly { readonly what: StockAction; readonly label: string }[] = [
  { what: 'open', label: 'open the next one' },
  { what: 'lose', label: 'record a loss' },
  { what: 'receive', label: 'record a delivery' },
  { what: 'move', label: 'move to another place' },
  { what: 'without', label: 'what can be poured without it' },
  { what: 'count', label: 'correct by a count' },
];

/** What the second line of the amount question chooses between: reasons, or places. */
export function amountChoices(books: Books, dialog: Extract<Dialog, { kind: 'amount' }>): readonly string[] {
  if (dialog.what === 'lose') return lossReasons;
  if (dialog.what === 'move') return placesOf(books).filter((place) => place !== dialog.place);
  return [];
}

const only = (state: AppState): Update => ({ state, effects: [] });
const close = (state: AppState): AppState => ({ ...state, dialog: null });
const wants = (state: AppState, intent: Intent): Update => ({
  state: close(state),
  effects: [{ type: 'record', intent, from: 'frame' } satisfies Effect],
});

export const dialogBack = (state: AppState): AppState => ({ ...state, dialog: null, message: null });

export function dialogType(state: AppState, text: string): AppState {
  const { dialog } = state;
  if (dialog?.kind === 'help')
    return { ...state, dialog: { ...dialog, filter: (dialog.filter + text).slice(0, 40), cursor: 0 } };
  if (dialog?.kind === 'amount' || dialog?.kind === 'seal')
    return { ...state, dialog: { ...dialog, text: (dialog.text + text).slice(0, 40) } };
  if (dialog?.kind === 'words')
    return {
      ...state,
      dialog: { ...dialog, text: (dialog.text + text).slice(0, 300), choice: keptChoice(dialog) },
    };
  return state;
}

export function dialogErase(state: AppState): AppState {
  const { dialog } = state;
  if (dialog?.kind === 'help')
    return { ...state, dialog: { ...dialog, filter: dialog.filter.slice(0, -1), cursor: 0 } };
  if (dialog?.kind === 'amount' || dialog?.kind === 'seal')
    return { ...state, dialog: { ...dialog, text: dialog.text.slice(0, -1) } };
  if (dialog?.kind === 'words')
    return { ...state, dialog: { ...dialog, text: dialog.text.slice(0, -1), choice: keptChoice(dialog) } };
  return state;
}

/** A list that the text filters begins at its top again; one that it does not stays where it was. */
const keptChoice = (dialog: Of<'words'>): number => (dialog.what === 'match' ? 0 : dialog.choice);

/** What an answer does; the help answers with a key that is to be pressed in the room behind it. */
export type Answer = Update & { readonly press?: Key };

/** What a key does in the open question; null when it is only text. */
export function dialogKey(state: AppState, key: Key): Answer | null {
  const { dialog } = state;
  switch (dialog?.kind) {
    case 'help':
      return helpKey(state, dialog, key);
    case 'who':
      return whoKey(state, dialog, key);
    case 'stock':
      return stockKey(state, dialog, key);
    case 'amount':
      return amountKey(state, dialog, key);
    case 'seal':
      return sealKey(state, dialog, key);
    case 'note':
      // A note is read, not answered: any other key closes it and goes on to the room behind.
      return { state: close(state), effects: [], ...(key === 'enter' ? {} : { press: key }) };
    case 'words':
      return wordsKey(state, dialog, key);
    case 'look':
      return lookKey(state, dialog, key);
    case 'sure':
      return sureKey(state, dialog, key);
    default:
      return null;
  }
}

type Of<K extends Dialog['kind']> = Extract<Dialog, { kind: K }>;
const isMove = (key: Key): key is 'up' | 'down' | 'pgup' | 'pgdn' | 'home' | 'end' =>
  ['up', 'down', 'pgup', 'pgdn', 'home', 'end'].includes(key);

function helpKey(state: AppState, dialog: Of<'help'>, key: Key): Answer | null {
  if (key === '?') return only(close(state));
  const rows = helpRows(state, dialog.filter);
  if (isMove(key))
    return only({
      ...state,
      dialog: { ...dialog, cursor: moveCursor(key, dialog.cursor, rows.length, state.size.rows - 8) },
    });
  if (key !== 'enter') return null;
  const row = rows[dialog.cursor];
  const press = row?.keys[0];
  return { state: close(state), effects: [], ...(press === undefined ? {} : { press }) };
}

function whoKey(state: AppState, dialog: Of<'who'>, key: Key): Update | null {
  const people = peopleHere(state.books);
  if (isMove(key))
    return only({
      ...state,
      dialog: { ...dialog, cursor: moveCursor(key, dialog.cursor, Math.max(1, people.length), 5) },
    });
  // A number is the person beside it, at once.
  const chosen = /^[1-9]$/.test(key) ? Number(key) - 1 : key === 'enter' ? dialog.cursor : null;
  if (chosen === null || (chosen > 0 && people[chosen] === undefined)) return only(state);
  const who: PersonId | null = people[chosen]?.id ?? null;
  if (dialog.why === 'hand-over') return wants(state, (books) => intendHandover(books, who));
  return wants(state, (books, now) => intendOpenShift(books, { by: who, now }));
}

function stockKey(state: AppState, dialog: Of<'stock'>, key: Key): Update | null {
  if (isMove(key))
    return only({
      ...state,
      dialog: { ...dialog, cursor: moveCursor(key, dialog.cursor, stockActions.length, 4) },
    });
  if (key !== 'enter') return only(state);
  const action = stockActions[dialog.cursor];
  const item = state.books.items.get(dialog.item as never);
  if (action === undefined || item === undefined) return only(close(state));
  if (action.what === 'count') return countHere(state, dialog);
  if (action.what === 'without')
    return only({ ...state, dialog: { kind: 'look', what: 'without', subject: dialog.item, cursor: 0 } });
  if (action.what === 'open')
    return wants(state, (books) => intendOpenBottle(books, { by: null, item, place: dialog.place }));
  return only({
    ...state,
    dialog: {
      kind: 'amount',
      what: action.what,
      item: dialog.item,
      place: dialog.place,
      text: '',
      choice: 0,
    },
  });
}

/** The level is wrong: a reading puts it right, in the Count room at this very row. */
function countHere(state: AppState, dialog: Of<'stock'>): Update {
  const count = countAt(
    state.books,
    keyOfStock(dialog.item as never, dialog.place),
    state.inRoom.count as CountState,
  );
  return goTo(close({ ...state, inRoom: { ...state.inRoom, count } }), 'count');
}

function amountKey(state: AppState, dialog: Of<'amount'>, key: Key): Update | null {
  const choices = amountChoices(state.books, dialog);
  if (isMove(key))
    return only({
      ...state,
      dialog: { ...dialog, choice: moveCursor(key, dialog.choice, Math.max(1, choices.length), 3) },
    });
  if (key !== 'enter') return null;
  return {
    state,
    effects: [{ type: 'record', intent: amountIntent(dialog, choices[dialog.choice]), from: 'frame' }],
  };
}

/** A number alone means ml for a loss of liquid, and containers for a delivery or a move. */
function amountIntent(dialog: Of<'amount'>, choice: string | undefined): Intent {
  return (books) => {
    const item = books.items.get(dialog.item as never);
    if (item === undefined) return refuse('unknown-item', 'That item is gone. Press Esc and choose another.');
    if (dialog.what === 'receive') return delivery(books, item, dialog);
    if (dialog.what === 'move') {
      const [containers = '', place] = dialog.text.split(/\s+to\s+/);
      const to = place ?? choice;
      if (to === undefined)
        return refuse('no-place', 'There is no other place yet. Write where, as 1 to cellar.');
      return intendMove(books, { by: null, item, containers, from: dialog.place, to });
    }
    const bare = /^[\d.,]+$/.test(dialog.text.trim());
    const split = splitQuantity(bare ? `${dialog.text} ${item.unit}` : dialog.text, books.house);
    const amount =
      split === null || split.rest !== '' ? null : amountOf(split.quantity, split.unit, books.house);
    if (amount === null || amount.unit !== item.unit)
      return refuse(
        'bad-amount',
        `"${dialog.text}" is not an amount of ${item.name}. Write ${item.unit === 'each' ? '2' : '50 ml'}.`,
      );
    const why = lossReasons.find((reason) => reason === choice) ?? 'spill';
    return intendLoss(books, { by: null, item, amount: amount.amount, why, place: dialog.place });
  };
}

/** "6", or "6 at 18.90" with what one costs. */
function delivery(books: Books, item: Item, { text, place }: Of<'amount'>): ReturnType<Intent> {
  const [containers = '', cost] = text.split(/\s+at\s+/);
  const costMinor = cost === undefined ? null : parseMoney(cost, books.house.currency);
  if (cost !== undefined && costMinor === null)
    return refuse('bad-cost', `"${cost}" is not an amount of ${books.house.currency}. Write 6 at 18.90.`);
  return intendDelivery(books, { by: null, item, containers, costMinor, place });
}

function sealKey(state: AppState, dialog: Of<'seal'>, key: Key): Update | null {
  const people = sealers(state.books);
  if (isMove(key))
    return only({
      ...state,
      dialog: { ...dialog, choice: moveCursor(key, dialog.choice, Math.max(1, people.length), 5) },
    });
  if (key !== 'enter') return null;
  if (dialog.text.trim().toLowerCase() !== SEAL_WORD) {
    return only({
      ...state,
      message: {
        text: `Type the word ${SEAL_WORD} and press Enter, or Esc to keep the shift open.`,
        tone: 'refused',
      },
    });
  }
  const by = people[dialog.choice]?.id ?? null;
  return wants(state, (books) => intendSeal(books, { by }));
}

function wordsKey(state: AppState, dialog: Of<'words'>, key: Key): Update | null {
  const choices = wordsChoices(state.books, dialog).length;
  if (isMove(key))
    return only({
      ...state,
      dialog: { ...dialog, choice: moveCursor(key, dialog.choice, Math.max(1, choices), 5) },
    });
  if (key !== 'enter') return null;
  return { state, effects: [{ type: 'record', intent: wordsIntent(state.books, dialog), from: 'frame' }] };
}

/** Read, not answered: arrows move in it, Enter goes on, and any other key is the room's again. */
function lookKey(state: AppState, dialog: Of<'look'>, key: Key): Answer {
  if (isMove(key)) {
    const cursor = moveCursor(key, dialog.cursor, Math.max(1, lookRows(state.books, dialog)), 8);
    return only({ ...state, dialog: { ...dialog, cursor } });
  }
  return { state: close(state), effects: [], ...(key === 'enter' ? {} : { press: key }) };
}

function sureKey(state: AppState, dialog: Of<'sure'>, key: Key): Update | null {
  if (key === 'y') return { state: close(state), effects: [{ type: 'take-back', target: dialog.target }] };
  return key === 'n' ? only(close(state)) : only(state);
}

/** A question stays open until what it asked for is on disk. */
export const answered = (state: AppState): AppState =>
  state.dialog?.kind === 'amount' || state.dialog?.kind === 'words' ? close(state) : state;
