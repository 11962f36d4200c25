// The Close room's keys.
import { isOpen, stockKey } from '../../domain/ledger/books.ts';
import { listKeys } from '../filter.ts';
import { type Binding, refuse, type Scene, stay } from '../room.ts';
import { type CloseState, reportOf, rowsOn, tillOf } from './model.ts';

type CloseBinding = Binding<CloseState>;

const isSealed = (scene: Scene): boolean => scene.books.shift !== null && !isOpen(scene.books.shift);
const marked = (scene: Scene, state: CloseState) =>
  state.page === 'items' ? reportOf(scene).rows[state.cursor] : undefined;

/** On the list of items a recount; beside the till the question what an unknown name means. */
const act: CloseBinding = {
  id: 'recount',
  keys: ['enter'],
  label: 'counts the marked item again, in the Count room; on the till page, says which spec a name means',
  short: 'recount',
  run: (scene, state) => {
    if (state.page === 'till') {
      const row = tillOf(scene)[state.cursor];
      if (row === undefined)
        return refuse(
          state,
          "No lines of the till are in. The till's file is taken in from the command line.",
        );
      if (row.match === 'spec') return refuse(state, `${row.drink} is one of our specs: nothing to match.`);
      return {
        state,
        dialog: { kind: 'words', asked: { what: 'match', drink: row.drink }, text: '', choice: 0 },
      };
    }
    const row = marked(scene, state);
    if (row === undefined) return refuse(state, 'There is nothing to recount yet.');
    return {
      state,
      go: { room: 'count', at: stockKey(row.item, row.places[0] ?? '') },
      message: { text: `Recount ${row.name}: type the reading.`, tone: 'plain' },
    };
  },
};

export const closeKeys: readonly CloseBinding[] = [
  act,
  {
    id: 'till',
    keys: ['ctrl-t'],
    label: 'the till beside the tally, and back',
    short: 'till',
    run: (_, state) => stay({ page: state.page === 'till' ? 'items' : 'till', cursor: 0 }),
  },
  {
    id: 'note',
    keys: ['ctrl-w'],
    label: 'writes a note on this shift; it prints with the report',
    short: 'note',
    when: (scene) => (scene.books.shift === null ? 'No shift was opened yet. Press ^O to open one.' : true),
    run: (_, state) => ({
      state,
      dialog: { kind: 'words', asked: { what: 'note', item: null }, text: '', choice: 0 },
    }),
  },
  {
    id: 'seal',
    keys: ['ctrl-x'],
    label: 'seals the shift for good, after the word is typed',
    short: 'seal',
    when: (scene) =>
      isOpen(scene.books.shift)
        ? true
        : 'No shift is open, so there is nothing to seal. Press ^O to open one.',
    run: (_, state) => ({ state, dialog: { kind: 'seal', text: '', choice: 0 } }),
  },
  {
    id: 'correct',
    keys: ['ctrl-e'],
    label: 'corrects a figure of this sealed report by a new event; both figures stay in sight',
    short: 'correct',
    when: (scene) =>
      isSealed(scene)
        ? true
        : 'This shift is not sealed: recount, pour late or take back, and its figures follow.',
    run: (scene, state) => {
      const row = marked(scene, state);
      if (row === undefined) return refuse(state, 'Mark an item first: ^T goes back to the items.');
      return {
        state,
        dialog: { kind: 'words', asked: { what: 'correct', item: row.item }, text: '', choice: 0 },
      };
    },
  },
  {
    id: 'late',
    keys: ['ctrl-l'],
    label:
      'a drink that was not tapped: goes to the Pour room, where "lan 40 ago" pours it forty minutes back',
    short: 'late entry',
    when: (scene) =>
      isOpen(scene.books.shift) ? true : 'This shift is sealed. Press ^E to correct its report.',
    run: (_, state) => ({
      state,
      go: { room: 'pour' },
      message: {
        text: 'Type the drink and how long ago: lan 40 ago. It lands where it belongs.',
        tone: 'plain',
      },
    }),
  },
  ...listKeys<CloseState>(rowsOn, 12),
];
