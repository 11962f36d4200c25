// The Begin room: a house from an empty screen. One question a screen, each with an answer offered; every answer is on disk at once,
// so it can be left anywhere and goes on there.
import { isOpen } from '../../domain/ledger/books.ts';
import { foldText } from '../../domain/value/text.ts';
import { listKeys } from '../filter.ts';
import { type Binding, type Room, refuse, type Scene, type Step, stay } from '../room.ts';
import { newItem, newSpec } from '../writing.ts';
import { type ListName, ownIntent, tickIntent, ticksOf } from './lists.ts';
import { type BeginState, filterOf, isOwn, listOf, NOTHING_CALLED, rowsOf, start, stepOf } from './model.ts';
import { answerIntent, isBeginning, offered, optionsOf, type StepName, steps } from './steps.ts';
import { view } from './view.ts';

/** Where the mark stands on a step that is come to anew. */
const cameTo = (at: StepName): BeginState => ({ ...start, at });
const after = (step: StepName): StepName => steps[steps.indexOf(step) + 1] ?? 'count';

function answer(scene: Scene, before: BeginState): Step<BeginState> {
  const step = stepOf(scene, before);
  // Once it is recorded it is no more the first that is open.
  const state = { ...before, at: step };
  const list = listOf(step);
  if (list !== null) return answerList(scene, state, list);
  if (step === 'count') return leave(scene, state);
  const options = optionsOf(scene.books, step, state.text, scene.machine.zone);
  const isWords = step === 'name' || step === 'who';
  const typed = state.text.trim() === '' ? offered(step, scene) : state.text.trim();
  const chosen = isWords ? typed : options[state.cursor]?.value;
  if (step === 'who' && state.text.trim() === '' && scene.books.people.size > 0)
    return stay(cameTo(after(step)));
  if (chosen === undefined || chosen === '')
    return refuse(
      { ...state, isSpent: true },
      isWords ? 'Type a name first.' : 'Nothing is called so. Erase a letter or two.',
    );
  // What was answered before and is left as it is records nothing and still goes on.
  const isSame = !isWords && step !== 'units' && scene.books.settings.get(step) === chosen;
  if (isSame) return stay(cameTo(after(step)));
  return {
    state,
    effects: [{ type: 'record', intent: answerIntent(step, chosen), from: 'begin', typed: state.text }],
  };
}

function answerList(scene: Scene, state: BeginState, list: ListName): Step<BeginState> {
  if (isOwn(state.text)) {
    if (state.last === null)
      return refuse({ ...state, isSpent: true }, 'Tick something first; then its price or =its name.');
    const intent = ownIntent(list, state.last, state.text);
    return { state, effects: [{ type: 'record', intent, from: 'begin', typed: state.text }] };
  }
  const row = rowsOf(scene, state, list)[state.cursor];
  // What was meant is not there, so a price typed next is nobody's.
  if (row === undefined) return refuse({ ...state, isSpent: true, last: null }, NOTHING_CALLED);
  if (row.tick === null) return stay(cameTo(after(list)));
  // What was typed is meant to be there: off goes only what is marked by hand.
  if (row.tick.ticked && state.text !== '')
    return {
      state: { ...state, text: '', cursor: 0, last: row.tick.id },
      message: {
        text: `${row.tick.name} is ticked already; ↓ to it and Space takes the tick away.`,
        tone: 'plain',
      },
    };
  const intent = tickIntent(list, row.tick.id);
  return { state: { ...state, last: row.tick.id }, effects: [{ type: 'record', intent, from: 'begin' }] };
}

/** The end: to the first count, or to where drinks are poured. */
function leave({ books }: Scene, state: BeginState): Step<BeginState> {
  const room = state.cursor === 0 ? 'count' : 'pour';
  const text = isOpen(books.shift)
    ? ''
    : room === 'count'
      ? 'Count what is there; then ^O opens the shift.'
      : 'The house stands. ^O opens the shift, then the letters of a drink and Enter pour it.';
  return { state: start, go: { room }, message: { text, tone: 'plain' } };
}

const isTicking = (scene: Scene, state: BeginState): boolean =>
  listOf(stepOf(scene, state)) !== null && !state.text.startsWith('=');

const bindings: readonly Binding<BeginState>[] = [
  {
    id: 'answer',
    keys: ['enter'],
    label:
      'takes the answer that is marked or typed; in a list ticks the marked row, on its first row goes on',
    short: 'answer',
    run: answer,
  },
  {
    id: 'write-new',
    keys: ['ctrl-n'],
    label: 'writes an item or a drink of your own, by the name that is typed',
    short: 'write your own',
    when: (scene, state) =>
      listOf(stepOf(scene, state)) === null ? 'Items and drinks are written where they are ticked.' : true,
    run: (scene, state) => {
      // What was put aside half written goes on.
      if (scene.draft !== null && filterOf(state) === '')
        return { state: { ...state, last: null }, dialog: scene.draft };
      const dialog =
        stepOf(scene, state) === 'stock'
          ? newItem(filterOf(state).trim())
          : newSpec(filterOf(state).trim(), null);
      return { state: { ...state, text: '', cursor: 0, last: null }, dialog };
    },
  },
  ...listKeys<BeginState>((scene, state) => rowsOf(scene, state, stepOf(scene, state)).length, 9),
];

function typed(scene: Scene, state: BeginState, text: string): Step<BeginState> {
  if (text === ' ' && isTicking(scene, state) && !isPartOfName(scene, state))
    return answerMarked(scene, state);
  // What was refused makes way, so that two things never run together.
  const next = ((state.isSpent ? '' : state.text) + text).replace(/^\s+/, '').slice(0, 80);
  const isList = listOf(stepOf(scene, state)) !== null;
  // What is typed is looked for: the mark goes to the first that is found.
  const step = stay({ ...state, isSpent: false, text: next, cursor: isList && !isOwn(next) ? 1 : 0 });
  const found =
    isList &&
    text === ' ' &&
    !isOwn(next) &&
    ticksOf(scene.books, listOf(stepOf(scene, state)) ?? 'stock', next).length > 0;
  return found
    ? {
        ...step,
        message: { text: 'The space belongs to the name here: Enter ticks what is marked.', tone: 'plain' },
      }
    : step;
}

/**
 * A space that can belong to a name does: it ticks only behind a whole name, or letters that one thing alone has, where no name goes on
 * with a space; and behind another space. "tonic" is on the way to "tonic water", "blue" to "blue curaçao", "oat" to one's own.
 */
function isPartOfName(scene: Scene, state: BeginState): boolean {
  const list = listOf(stepOf(scene, state));
  if (list === null || state.text === '' || state.text.endsWith(' ')) return false;
  const typed = foldText(state.text);
  const found = ticksOf(scene.books, list, state.text);
  const isWhole = found[state.cursor - 1]?.words.includes(typed) === true;
  const goesOn = found.some(({ words }) => words.some((word) => word.includes(`${typed} `)));
  return goesOn || (!isWhole && found.length !== 1);
}

/** Space ticks; with nothing marked yet it does nothing, and it never goes on. */
function answerMarked(scene: Scene, state: BeginState): Step<BeginState> {
  if (isOwn(state.text) || (state.text === '' && state.cursor === 0)) return stay(state);
  return answer(scene, { ...state, cursor: Math.max(1, state.cursor) });
}

const erased = (scene: Scene, state: BeginState): Step<BeginState> => {
  const text = [...state.text].slice(0, -1).join('');
  const isFilter = listOf(stepOf(scene, state)) !== null && text !== '' && !isOwn(text);
  return stay({ ...state, isSpent: false, text, cursor: isFilter ? 1 : 0 });
};

/** Esc clears the field, then goes to the question before. */
function back(scene: Scene, state: BeginState): Step<BeginState> | null {
  if (state.text !== '') return stay({ ...state, text: '', cursor: 0 });
  const before = steps[steps.indexOf(stepOf(scene, state)) - 1];
  return before === undefined ? null : stay(cameTo(before));
}

const stepOfKey = (key: string): StepName | null =>
  key === 'ounce' ? 'units' : (steps.find((step) => step === key) ?? null);

export const beginRoom: Room<BeginState> = {
  name: 'begin',
  title: 'Begin',
  answers: 'what is this house, what does it stock, what does it pour?',
  start,
  speaksEmpty: true,
  when: isBeginning,
  type: typed,
  erase: erased,
  back,
  bindings,
  recorded: (scene, state, events) => {
    const step = stepOf(scene, state);
    const list = listOf(step);
    if (list === null) return stay(cameTo(after(step)));
    // A tick stays where it is, ready for the next; its row may be out of sight, so what it says now is said.
    const next = { ...state, text: '', cursor: state.text === '' ? state.cursor : 0 };
    const tick = ticksOf(scene.books, list, '').find(({ id }) => id === state.last);
    if (tick === undefined || events.length === 0) return stay(next);
    const facts = tick.facts === '' ? '' : `, ${tick.facts}`;
    const text = `${tick.name}${facts}: ${tick.ticked ? 'ticked' : 'taken off'}.  ^U takes back the last.`;
    return { state: next, message: { text, tone: 'done' } };
  },
  // What is taken back is asked again.
  tookBack: (_, state, event) => {
    const step =
      event.kind === 'house-set' ? stepOfKey(event.key) : event.kind === 'person-added' ? 'who' : null;
    return step === null ? state : cameTo(step);
  },
  refused: (_, state) => ({ ...state, text: '', cursor: 0 }),
  view,
};
