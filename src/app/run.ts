// The running program behind the rooms: holds the state, carries out effects at once, tells the screen.

import { driftReport } from '../domain/drift/drift-report.ts';
import type { Books } from '../domain/ledger/books.ts';
import type { Event } from '../domain/ledger/event.ts';
import { foldInOrder } from '../domain/ledger/ledger.ts';
import { booksAt } from '../domain/ledger/stock/in-date.ts';
import { pastOf } from '../domain/order/past.ts';
import { type Evidence, noEvidence } from '../domain/report/evidence.ts';
import { specIndex } from '../domain/search/house-search.ts';
import { searchIndex } from '../domain/search/search.ts';
import { usualOf } from '../domain/service/usual.ts';
import type { Sheet } from '../domain/sheet/sheet.ts';
import { instantOf } from '../domain/value/clock-date.ts';
import type { EventId } from '../domain/value/ids.ts';
import { memoBy } from '../domain/value/memo.ts';
import { done, type Problem, type Result, refuse, saidInRooms } from '../domain/value/problem.ts';
import type { DialogOf } from '../screens/dialog.ts';
import type { Effect, Nights } from '../screens/effect.ts';
import type { HouseStanding, Machine, Message, Size } from '../screens/room.ts';
import { evidenceOf } from '../store/evidence.ts';
import { oursAt, takeBackOne } from '../store/last.ts';
import { reportBetween, reportNamed, SEASON } from '../store/reports.ts';
import type { Store } from '../store/store.ts';
import { askAboutShift } from './question/clock.ts';
import { type Action, type AppState, noMachine, startState } from './state.ts';
import { clockWatch } from './tap/clock-watch.ts';
import type { HeldTap } from './tap/held.ts';
import { recorder } from './tap/recording.ts';
import { isWhole } from './tap/whole.ts';
import { update } from './update.ts';

/** What the rooms may ask of the world beside the store. */
export type Outside = {
  readonly suspend?: () => void;
  /** Milliseconds of a clock that is never set, to tell a jump of the other one; the wall clock itself where there is none. */
  readonly steady?: () => number;
  /** The terminal has no signs finer than a character, or what is drawn is read aloud. */
  readonly isPlain?: boolean;
  /** Where this computer is and who is signed in. */
  readonly machine?: Machine;
  /** What was half written when the rooms closed; given where it is kept again. */
  /** How this station stands with the others of its house when the rooms open; null where it has none. */
  readonly house?: HouseStanding | null;
  /** Something was recorded here. */
  readonly onRecorded?: () => void;
  readonly draft?: { readonly kept: DialogOf<'write'> | null };
  /** The rows of a spreadsheet. */
  readonly readSheet?: (file: string) => Promise<Result<Sheet>>;
  /** Writes events to a file, whole or not at all. */
  readonly writeOut?: (file: string, events: Iterable<Event>) => Result<null>;
};

export type App = {
  readonly state: () => AppState;
  readonly dispatch: (action: Action) => void;
  readonly subscribe: (listener: () => void) => () => void;
};

const LOG_LENGTH = 500;
/** Something of this window is on disk that was not there before. */
const recorded: ReadonlySet<Action['type']> = new Set(['recorded', 'saved', 'took-back']);

const noSheets = async (): Promise<Result<Sheet>> => refuse('no-file', 'No file can be read here.', 66);

/** What is looked up in the store for a room to show. */
type Looked = 'load-log' | 'load-nights' | 'load-drift' | 'load-evidence' | 'load-usual' | 'load-ahead';

/** An effect is done before the next action is looked at, so fast keys find the books as the key before left them. */
export function createApp(
  store: Store,
  clock: () => number,
  size: Size,
  leave: () => void,
  {
    suspend = () => undefined,
    writeOut = () => done(null),
    readSheet = noSheets,
    steady = clock,
    isPlain = false,
    machine = noMachine,
    draft,
    house = null,
    onRecorded = () => undefined,
  }: Outside = {},
): App {
  let state: AppState = {
    ...startState(store.books(), instantOf(clock()), size, !isPlain, machine),
    house,
    draft: draft?.kept ?? null,
    draftStays: draft !== undefined,
  };
  const { record, retry } = recorder(store, clock, store.newId, () => state);
  const watch = clockWatch(clock, steady);
  const ours = oursAt(store);
  /** A whole list that went into the Book as one: what takes it back takes all of it. */
  let whole: readonly EventId[] = [];
  const listeners = new Set<() => void>();

  const dispatch = (action: Action): void => {
    const next = update(state, shown(action));
    const changed = next.state !== state;
    state = next.state;
    for (const effect of next.effects) perform(effect);
    if (recorded.has(action.type)) onRecorded();
    if (changed || next.effects.length > 0) for (const listener of listeners) listener();
  };

  /** Books are shown with what is not saved yet in them: it was poured, whatever the disk says. */
  const shown = (action: Action): Action => {
    if (!('books' in action)) return action;
    const gone = action.type === 'saved' || action.type === 'dropped' ? action.tap : null;
    const held = gone === null ? state.held : state.held.filter((tap) => tap !== gone);
    return { ...action, books: readAt(withHeld(action.books, held), state.now) };
  };

  const perform = (effect: Effect): void => {
    if (effect.type === 'leave') leave();
    else if (effect.type === 'suspend') suspend();
    else if (effect.type === 'trust-clock') watch.trust(store.books());
    else if (effect.type === 'retry') tryAgain();
    else if (effect.type === 'read-sheet') void openSheet(effect.file);
    else if (effect.type === 'write-out') dispatch(writeAll(effect.file));
    else if (effect.type === 'record') {
      const doubt = watch.doubt(store.books());
      if (doubt !== null) {
        dispatch({
          type: 'ask',
          dialog: { kind: 'clock', text: doubt, cursor: 0, wish: effect, behind: state.dialog },
        });
        return;
      }
      if (state.held.length > 0) tryAgain();
      const action = record(effect);
      dispatch(action);
      if (action.type === 'recorded') {
        ours.note(action.events);
        if (action.events.length > 0) whole = isWhole(action.events) ? action.events.map(({ id }) => id) : [];
      }
    } else if (effect.type === 'show-night') dispatch(showNight(effect.night));
    else if (effect.type === 'take-back' && effect.target === null && isNewest(whole)) {
      const targets = whole;
      whole = [];
      takeBackAll({ type: 'take-back-all', targets });
    } else if (effect.type === 'take-back') dispatch(takeBack(effect.target));
    else if (effect.type === 'take-back-all') takeBackAll(effect);
    else {
      dispatch(lookUp(effect.type));
      // Looking into the store also takes in what another window wrote: the rooms see it in the same moment.
      const books = readAt(withHeld(store.books(), state.held), state.now);
      if (books !== state.books) dispatch({ type: 'books', books: store.books() });
    }
  };

  /** The one thing that takes longer than a key: whatever is open by then gives way to it. */
  const openSheet = async (file: string): Promise<void> => {
    const sheet = await readSheet(file);
    if (!sheet.ok) {
      dispatch({ type: 'refused', problems: sheet.problems });
      return;
    }
    const asked = {
      kind: 'sheet',
      file,
      sheet: sheet.value,
      given: new Map(),
      page: 'columns',
      cursor: 0,
    } as const;
    dispatch({ type: 'ask', dialog: asked });
  };

  const tryAgain = (): void => {
    const actions = retry();
    for (const action of actions) dispatch(action);
    if (actions.some(({ type }) => type === 'not-saved')) dispatch({ type: 'books', books: store.books() });
  };

  /** All events that can still be read, and those that are not saved, numbered so that they go on from them. */
  const writeAll = (file: string): Action => {
    const written = writeOut(file, everything(store, state.held));
    if (!written.ok) return { type: 'refused', problems: written.problems };
    const count = state.held.length;
    const also = count === 0 ? '' : ` and ${count} that ${count === 1 ? 'is' : 'are'} not saved`;
    return {
      type: 'said',
      closes: true,
      tone: 'done',
      text: `Wrote all events of the books${also} to ${file}.`,
    };
  };

  const lookUp = (what: Looked): Action => {
    switch (what) {
      case 'load-nights':
        return { type: 'nights', nights: store.shifts() };
      case 'load-log':
        return { type: 'log', log: store.log(LOG_LENGTH) };
      case 'load-drift':
        return { type: 'drift', drift: driftReport(store.books(), store.shiftBooks(SEASON)) };
      case 'load-evidence':
        return { type: 'evidence', evidence: evidence() };
      case 'load-ahead':
        return { type: 'ahead', ahead: pastOf(state.books, store.shiftBooks(SEASON)) };
      case 'load-usual':
        // The quiet moment after the start also makes the index, so that the first letter is as quick as the next.
        searchIndex(specIndex(state.books), 'warm', () => 0);
        return { type: 'usual', usual: usualOf(store.shiftBooks(SEASON), state.books.shift?.date ?? '') };
    }
  };

  const showNight = (night: Nights | null): Action => {
    if (night === null) return { type: 'past', past: null, of: null };
    const reported =
      'shift' in night
        ? reportNamed(store, night.shift)
        : reportBetween(store, { from: night.from, to: night.to });
    return reported.ok
      ? { type: 'past', past: reported.value.report, of: night }
      : { type: 'refused', problems: reported.problems };
  };

  /** Of the shift the books are at, as its seal left it when it is sealed. */
  const evidence = (): Evidence => {
    const { shift } = store.books();
    if (shift === null) return noEvidence;
    const sealed = shift.sealedAt === null ? null : store.booksOfShift(shift.id);
    return { ...evidenceOf(store, store.shifts(SEASON), [shift.id]), sealed };
  };

  /** Nothing was recorded since, here or by another window. */
  const isNewest = (ids: readonly EventId[]): boolean =>
    ids.length > 1 && state.held.length === 0 && store.log(1)[0]?.event.id === ids.at(-1);

  const takeBackAll = ({ targets, why = '' }: Extract<Effect, { type: 'take-back-all' }>): void => {
    for (const target of [...targets].reverse()) {
      const action = takeBack(target);
      dispatch(action);
      // Why one of them stays is what must be read.
      if (action.type === 'refused') return;
    }
    const text = `${why} Took back ${targets.length} at once; the Log keeps them.`.trim();
    dispatch({ type: 'said', closes: true, tone: 'done', text });
  };

  const takeBack = (id: EventId | null): Action => {
    // What is not saved yet is the last thing that was done.
    const unsaved = id === null ? state.held.at(-1) : undefined;
    if (unsaved !== undefined) return { type: 'dropped', tap: unsaved, books: store.books() };
    const result = takeBackOne(store, id, { isOurs: ours.isOurs });
    if (!result.ok) return { type: 'refused', problems: result.problems };
    return { type: 'took-back', events: result.value.took, books: store.books() };
  };

  const behind = watch.doubt(state.books);
  if (behind !== null) state = { ...state, message: { text: behind, tone: 'refused' } };
  state = { ...state, dialog: askAboutShift(state.books, state.now) };
  const reading = store.readOnly();
  if (reading !== null) state = { ...state, message: readOnlyMessage(reading) };
  return {
    state: () => state,
    dispatch,
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

/** The books as they are to be read now; the same for the same, so that nothing is drawn anew for nothing. */
const readAt = memoBy((books: Books, now: string) => [books, now], booksAt);

/** The books with what waits to be saved; what they refuse is not in them. */
const withHeld = memoBy(
  (books: Books, held: readonly HeldTap[]) => [books, held],
  (books, held): Books => {
    const waiting = held.flatMap(({ events, refused }) => (refused === null ? events : []));
    return waiting.length === 0 ? books : foldInOrder(books, waiting);
  },
);

function* everything(store: Store, held: readonly HeldTap[]): Generator<Event> {
  let seq = 0;
  const station = store.station();
  for (const event of store.allEvents()) {
    if (event.station === station) seq = Math.max(seq, event.seq);
    yield event;
  }
  for (const event of held.flatMap(({ events }) => events)) {
    seq += 1;
    yield { ...event, seq };
  }
}

const readOnlyMessage = (problem: Problem): Message => ({
  text: `These books can only be read: ${saidInRooms(problem)} What is tapped is kept here and tried again.`,
  tone: 'refused',
});
