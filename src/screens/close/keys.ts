// The Close room's keys.
import { isOpen, stockKey } from '../../domain/ledger/books.ts';
import type { ReportItem } from '../../domain/report/report.ts';
import type { EventId } from '../../domain/value/ids.ts';
import { listKeys } from '../filter.ts';
import { type Binding, refuse, type Scene, stay } from '../room.ts';
import { type CloseState, closeRows, reportOf, rowsOn, tillOf } from './model.ts';
import { allTotals } from './words.ts';

type CloseBinding = Binding<CloseState>;

const isSealed = (scene: Scene): boolean => reportOf(scene).report?.shift.status === 'sealed';
/** A past night is read, and remarked on; what is done is done in the one the books are at. */
const isPast = ({ past, books }: Scene): boolean => past !== null && past.shift.id !== books.shift?.id;
const isStretch = ({ past }: Scene): boolean => past?.shift.to !== undefined;
const PAST = 'This is a past night. Esc goes back to the one that is open.';

function marked(scene: Scene, state: CloseState): ReportItem | undefined {
  const row = state.page === 'items' ? closeRows(scene, state)[state.cursor] : undefined;
  return row !== undefined && 'item' in row ? row.item : undefined;
}

/** On the list of items a recount; beside the till the question what an unknown name means. */
const act: CloseBinding = {
  id: 'recount',
  keys: ['enter'],
  label:
    'counts the marked item again, in the Count room; shows what is folded away; on the till page, says which spec a name means',
  short: 'recount',
  run: (scene, state) => {
    if (state.page === 'till') {
      const row = tillOf(scene)[state.cursor];
      if (row === undefined)
        return refuse(
          state,
          "No lines of the till are in. The till's file is taken in from the command line.",
        );
      if (row.match === 'spec' || row.match === 'straight')
        return refuse(state, `${row.drink} is known: nothing to match.`);
      return {
        state,
        dialog: { kind: 'words', asked: { what: 'match', drink: row.drink }, text: '', choice: 0 },
      };
    }
    if ('folded' in (closeRows(scene, state)[state.cursor] ?? {})) return stay({ ...state, isWhole: true });
    const row = marked(scene, state);
    if (row === undefined) return refuse(state, 'There is nothing to recount yet.');
    if (isPast(scene)) return refuse(state, PAST);
    return {
      state,
      go: { room: 'count', at: stockKey(row.item, row.places[0] ?? '') },
      message: { text: `Recount ${row.name}: type the reading.`, tone: 'plain' },
    };
  },
};

/** The night that is shown, when it is not the one the books are at. */
const ofShift = (scene: Scene): { readonly shift?: EventId } =>
  isPast(scene) && scene.past !== null ? { shift: scene.past.shift.id } : {};

export const closeKeys: readonly CloseBinding[] = [
  act,
  {
    id: 'till',
    keys: ['ctrl-t'],
    label: 'the till beside the tally, and back',
    short: 'till',
    run: (_, state) => stay({ ...state, page: state.page === 'till' ? 'items' : 'till', cursor: 0 }),
  },
  {
    id: 'totals',
    keys: ['='],
    label: 'all of the totals: what it cost, by kind, what was lost, what to do; and all of the marked item',
    short: 'totals',
    run: (scene, state) => {
      const { report, lead } = reportOf(scene);
      return report === null || lead === null
        ? refuse(state, 'No shift was opened yet, so there is nothing to add up. Press ^O to open one.')
        : { state, dialog: allTotals(report, lead, scene.books, marked(scene, state)) };
    },
  },
  {
    id: 'note',
    keys: ['ctrl-w'],
    label: 'writes a note on this shift; it prints with the report',
    short: 'note',
    when: (scene) =>
      isStretch(scene)
        ? 'A note is on one night: type its date.'
        : scene.books.shift === null
          ? 'No shift was opened yet. Press ^O to open one.'
          : true,
    run: (scene, state) => ({
      state,
      dialog: { kind: 'words', asked: { what: 'note', item: null, ...ofShift(scene) }, text: '', choice: 0 },
    }),
  },
  {
    id: 'seal',
    keys: ['ctrl-x'],
    label: 'seals the shift for good, after the word is typed',
    short: 'seal',
    when: (scene) =>
      isPast(scene)
        ? PAST
        : isOpen(scene.books.shift)
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
      isStretch(scene)
        ? 'A correction is of one night: type its date.'
        : isSealed(scene)
          ? true
          : 'This shift is not sealed: recount, pour late or take back, and its figures follow.',
    run: (scene, state) => {
      const row = marked(scene, state);
      if (row === undefined) return refuse(state, 'Mark an item first: ^T goes back to the items.');
      return {
        state,
        dialog: {
          kind: 'words',
          asked: { what: 'correct', item: row.item, ...ofShift(scene) },
          text: '',
          choice: 0,
        },
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
      isPast(scene)
        ? PAST
        : isOpen(scene.books.shift)
          ? true
          : 'This shift is sealed. Press ^E to correct its report.',
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
