// The Count room's keys: a reading and Enter; what is walked, who counts, and the drill.

import { parseReading } from '../../domain/count/reading.ts';
import { intendComparison } from '../../domain/intent/intend-stock.ts';
import { personName } from '../../domain/ledger/books.ts';
import { saidInRooms } from '../../domain/value/problem.ts';
import { listKeys } from '../filter.ts';
import { type Binding, refuse, type Scene, type Step, stay } from '../room.ts';
import {
  type CountRow,
  type CountState,
  countIntent,
  cursorOf,
  firstUncounted,
  isCounted,
  isName,
  markedKey,
  nextCounting,
  rowNamed,
  scopes,
  scopeWords,
  walkedRows,
  walkOver,
} from './model.ts';

function enter(scene: Scene, state: CountState): Step<CountState> {
  const rows = walkedRows(scene.books, state);
  const cursor = cursorOf(scene.books, state);
  const row = rows[cursor];
  if (row === undefined) return refuse(state, emptyText(state));
  if (state.barred !== null) return refuse(state, barredText(state.barred));
  if (isName(state)) return goTo(scene, state);
  const twice = state.text === '' && state.doubt?.key === row.key ? row.stock?.counted?.reading : undefined;
  if (twice !== undefined) return enter(scene, { ...state, text: twice });
  if (state.text === '')
    return stay({
      ...state,
      cursor: Math.min(rows.length - 1, cursor + 1),
      text: '',
      doubt: null,
      drill: state.drill && { eye: null },
    });
  if (state.drill !== null) return drillStep(scene, { ...state, cursor }, row);
  return {
    state: { ...state, cursor, mends: state.mends || isCounted(scene.books, row) },
    effects: [{ type: 'record', intent: countIntent(row, state), from: 'count', typed: state.text }],
  };
}

/** To the row that was typed by its name. */
function goTo({ books }: Scene, state: CountState): Step<CountState> {
  const cursor = rowNamed(books, state);
  if (cursor === null)
    return refuse({ ...state, text: '' }, `Nothing on this walk is called "${state.text}".`);
  const drill = state.drill && { eye: null };
  return stay({ ...state, cursor, text: '', doubt: null, mends: false, walk: null, drill });
}

/** The readings that follow would be those of other rows. */
export const barredText = (text: string): string =>
  `"${text}" was not recorded, so nothing further is: Backspace mends it, Esc gives it up.`;

export const emptyText = (state: CountState): string =>
  state.drill !== null
    ? 'No item can be weighed yet: the empty container must be known (tare_g in the items file).'
    : state.scope === 'all'
      ? 'Nothing is stocked yet. Import an items file first.'
      : 'Nothing of that kind is here tonight. ^F walks everything.';

/** First the eye, kept here; then the scale, and both go to disk as one pair. */
function drillStep(scene: Scene, state: CountState, row: CountRow): Step<CountState> {
  const eye = state.drill?.eye ?? null;
  if (eye === null) {
    const read = parseReading(state.text, row.item, scene.books.house);
    if (!read.ok) return refuse({ ...state, text: '' }, read.problems.map(saidInRooms).join(' '));
    if (read.value.method !== 'tenths' || read.value.sealed > 0)
      return refuse({ ...state, text: '' }, 'By eye first: 7 or 0.7 of the one open bottle.');
    return stay({ ...state, text: '', drill: { eye: state.text } });
  }
  const wish = { by: state.by, item: row.item, eye, weighed: state.text };
  return {
    state,
    effects: [
      { type: 'record', intent: (books) => intendComparison(books, wish), from: 'count', typed: state.text },
    ],
  };
}

export const countKeys: readonly Binding<CountState>[] = [
  {
    id: 'count',
    keys: ['enter'],
    label: 'records the reading and moves on; with a name typed, goes there; with nothing typed, moves on',
    short: 'record, next',
    run: enter,
  },
  {
    id: 'next-uncounted',
    keys: ['ctrl-y'],
    label: 'goes to the next one not counted yet',
    short: 'next uncounted',
    run: (scene, state) =>
      stay({
        ...state,
        cursor: firstUncounted(scene.books, state, cursorOf(scene.books, state) + 1),
        text: '',
        barred: null,
        doubt: null,
      }),
  },
  {
    id: 'walk',
    keys: ['ctrl-f'],
    label: 'walks everything, what moved tonight, or the twenty worth most: one further each time',
    short: 'which to count',
    run: (scene, state) => {
      const scope = scopes[(scopes.indexOf(state.scope) + 1) % scopes.length] ?? 'all';
      const keys = walkOver(scene.books, scope, null);
      const next = { ...state, scope, keys, text: '', barred: null, doubt: null, drill: null };
      return {
        state: { ...next, cursor: firstUncounted(scene.books, next, 0) },
        message: { text: `The walk is now over ${scopeWords[scope]}.`, tone: 'plain' },
      };
    },
  },
  {
    id: 'who-counts',
    keys: ['ctrl-v'],
    label: 'who counts at this window: one person further each time; two can count two places at once',
    short: 'who counts',
    when: (scene) =>
      [...scene.books.people.values()].some(({ here }) => here)
        ? true
        : 'Nobody works here yet, so there is nobody to choose.',
    run: (scene, state) => {
      const by = nextCounting(scene.books, state);
      return {
        state: { ...state, by },
        message: { text: `${personName(scene.books, by) ?? 'Nobody'} counts at this window.`, tone: 'plain' },
      };
    },
  },
  {
    id: 'drill',
    keys: ['ctrl-d'],
    label: 'the drill: each bottle by eye, then on the scale, to learn how exact the eye is; again to end it',
    short: 'drill',
    run: (_, state) =>
      stay({
        ...state,
        cursor: 0,
        text: '',
        barred: null,
        doubt: null,
        drill: state.drill === null ? { eye: null } : null,
      }),
  },
  ...listKeys<CountState>((scene, state) => walkedRows(scene.books, state).length).map((binding) => ({
    ...binding,
    run: (scene: Scene, state: CountState) => {
      const step = binding.run(scene, { ...state, cursor: cursorOf(scene.books, state) });
      const walk = state.walk ?? markedKey(scene.books, state);
      return stay({
        ...step.state,
        walk,
        mends: false,
        text: '',
        barred: null,
        doubt: null,
        drill: state.drill && { eye: null },
      });
    },
  })),
];
