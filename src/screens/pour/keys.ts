// The Pour room's keys.

import type { OutMark } from '../../domain/catalogue/out-mark.ts';
import type { Choice } from '../../domain/drink/pour-choice.ts';
import { isOpen } from '../../domain/ledger/books.ts';
import { purposes } from '../../domain/ledger/event.ts';
import { outFor, outForItem, outText } from '../../domain/service/out-by-hand.ts';
import { numberDoubt } from '../../domain/value/number.ts';
import { moveCursor } from '../parts/list.ts';
import { type Binding, refuse, type Scene, type Step, stay } from '../room.ts';
import { newSpec } from '../writing.ts';
import { allergenNote } from './allergens.ts';
import { choiceName } from './card.ts';
import {
  chosen,
  currentChoices,
  lastRound,
  meantOf,
  type PourState,
  partsOf,
  pourIntent,
  putAside,
  roundOf,
  shortened,
  takenUp,
  type Wanted,
} from './model.ts';
import { lastPage } from './view.ts';

type PourBinding = Binding<PourState>;

const needsShift = (scene: Scene): true | string =>
  isOpen(scene.books.shift) ? true : 'No shift is open. Press ^O to open one.';

function pour(scene: Scene, state: PourState): Step<PourState> {
  const { books } = scene;
  const meant = meantOf(state);
  const refused = (text: string): Step<PourState> => refuse(putAside(state, state.query), text);
  if (meant.cursor < 0 && (partsOf(books, meant).at(-1)?.text ?? '') === '')
    return refused('Type a few letters of a drink, or choose one with ↓.');
  const wanted = roundOf(books, meant);
  const empty = wanted.find((part) => part.choice === null);
  if (empty !== undefined) return refused(missingText(empty.text));
  // What was put aside was asked about already: Enter means it.
  const doubt = meant === state ? doubtOf(scene, wanted, state.cursor <= 0) : null;
  if (doubt !== null) return { state: putAside(state, state.query), message: { text: doubt, tone: 'plain' } };
  return {
    state,
    effects: [{ type: 'record', intent: pourIntent(wanted, state.as), from: 'pour', typed: meant.query }],
  };
}

/** So many of one drink in one line are rare, and a number typed amiss is not (our decision). */
const MOST_UNASKED = 10;

/** What is asked once before it is poured; null when there is nothing to ask. `isFirst`: nobody chose it with the arrows. */
function doubtOf({ books, now }: Scene, wanted: readonly Wanted[], isFirst: boolean): string | null {
  const many = wanted.find(({ count }) => count > MOST_UNASKED);
  if (many !== undefined)
    return `That is ${many.count} times ${choiceName(many.choice)}. Enter again pours them all; a measure is written ${many.count} ml ${many.text}.`;
  const near = isFirst ? wanted.find(({ choice }) => choice?.isNear === true) : undefined;
  if (near !== undefined)
    return `Nothing is called "${near.text}". Enter again pours ${choiceName(near.choice)}, which only comes near.`;
  const out = wanted.flatMap(({ choice }) => (choice === null ? [] : marksOf(books, choice, now)));
  const [mark] = out;
  return mark === undefined ? null : `86: ${outText(mark, books)}. Enter again pours it all the same.`;
}

/** What is out and would be poured. */
const marksOf = (books: Scene['books'], choice: Choice, now: string): readonly OutMark[] =>
  choice.kind === 'straight'
    ? outForItem(choice.item.id, books, now)
    : outFor(choice.spec, books, now, choice.changes);

const missingText = (text: string): string =>
  text === ''
    ? 'A part of the round is empty. Take out the comma, or name a drink.'
    : (numberDoubt(text) ?? `Nothing is called "${text}". Erase a letter or two.`);

function again(scene: Scene, state: PourState): Step<PourState> {
  const last = lastRound(scene);
  if (last === null || last.wanted.length === 0)
    return refuse(state, 'Nothing to pour again yet. Pour a drink first.');
  return { state, effects: [{ type: 'record', intent: pourIntent(last.wanted, last.as), from: 'pour' }] };
}

const moves = (['up', 'down'] as const).map(
  (key): PourBinding => ({
    id: `choose-${key}`,
    keys: [key],
    label: { up: 'marks the drink above', down: 'marks the drink below' }[key],
    short: '',
    run: (scene, state) => {
      // What stands beside the field is what is looked through.
      const from = meantOf(state) === state ? state : takenUp(state);
      const total = currentChoices(scene.books, from).length;
      return stay(total === 0 ? from : { ...from, page: 0, cursor: moveCursor(key, from.cursor, total, 1) });
    },
  }),
);

const pages = (['pgup', 'pgdn'] as const).map(
  (key): PourBinding => ({
    id: `card-${key}`,
    keys: [key],
    label: { pgup: 'back to the beginning of a long card', pgdn: 'the rest of a card that does not fit' }[
      key
    ],
    short: '',
    run: (scene, state) => {
      const page = Math.min(lastPage(scene, state), state.page + (key === 'pgdn' ? 1 : -1));
      return stay({ ...state, page: Math.max(0, page) });
    },
  }),
);

export const pourKeys: readonly PourBinding[] = [
  {
    id: 'pour',
    keys: ['enter'],
    label: 'pours what is marked, or the whole round',
    short: 'pour',
    when: needsShift,
    run: pour,
  },
  {
    id: 'pour-again',
    keys: ['ctrl-r'],
    label: 'pours the last round again, with its changes',
    short: 'again',
    when: needsShift,
    run: again,
  },
  {
    id: 'take-up',
    keys: ['backspace'],
    label: 'erases; in an empty field it takes up again what was typed and not poured',
    short: '',
    run: ({ books, offered }, state) => {
      if (state.query !== '') return stay(shortened(books, state));
      if (offered === null || state.aside !== null) return stay(takenUp(state));
      return { state, effects: [{ type: 'take-back-all', targets: offered }] };
    },
  },
  {
    id: 'as',
    keys: ['ctrl-a'],
    label: `the next pour is ${purposes.join(', ')}: one further each time`,
    short: 'as',
    run: (_, state) => {
      const as = purposes[(purposes.indexOf(state.as) + 1) % purposes.length] ?? 'sale';
      return { state: { ...state, as }, message: { text: `The next pour is ${as}.`, tone: 'plain' } };
    },
  },
  {
    id: 'kin',
    keys: ['ctrl-k'],
    label: 'the marked drink beside its kin, one measure apart; when it is out, what comes nearest',
    short: 'kin',
    run: (scene, state) => {
      const marked = chosen(scene.books, state);
      if (marked?.kind !== 'spec') return refuse(state, 'Type a few letters of a drink first.');
      return { state, dialog: { kind: 'look', at: { what: 'kin', spec: marked.spec.id }, cursor: 0 } };
    },
  },
  {
    id: 'allergens',
    keys: ['!'],
    label:
      'the allergens of what is typed, a drink or a whole round: what it contains, what it may, what nobody noted',
    short: 'allergens',
    run: (scene, state) => {
      const meant = meantOf(state);
      const round = roundOf(scene.books, meant);
      return meant.query.trim() === '' && meant.cursor < 0
        ? refuse(state, 'Type a drink or a round first.')
        : { state, dialog: allergenNote(scene.books, round) };
    },
  },
  {
    id: 'write-new',
    keys: ['ctrl-n'],
    label:
      'writes what is typed as a new drink, and pours it; with nothing typed, goes on with what was put aside',
    short: 'new drink',
    run: (scene, state) => {
      const part = partsOf(scene.books, state).at(-1);
      const dialog =
        state.query.trim() === '' && scene.draft !== null
          ? scene.draft
          : newSpec(part?.text ?? '', isOpen(scene.books.shift) ? (part?.count ?? 1) : null);
      return { state: { ...state, query: '', cursor: -1 }, dialog };
    },
  },
  ...moves,
  ...pages,
];
