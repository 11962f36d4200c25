// (state, action) -> state and effects. Pure: what must happen outside is handed back as data.
import { stockKey } from '../domain/ledger/books.ts';
import { describeEvent } from '../domain/ledger/describe.ts';
import type { Event } from '../domain/ledger/event.ts';
import { noEvidence } from '../domain/report/evidence.ts';
import type { CloseState } from '../screens/close/model.ts';
import { recountKey } from '../screens/close/room.ts';
import { type CountState, countAt } from '../screens/count/model.ts';
import type { FilterState } from '../screens/filter.ts';
import { levelRows } from '../screens/levels/room.ts';
import { handoverNote } from '../screens/notice/handover.ts';
import { ranOut } from '../screens/notice/ran-out.ts';
import type { Effect, Step } from '../screens/room.ts';
import { goTo, sharedKeys } from './keymap.ts';
import { isText, type Key, pastedText } from './keys.ts';
import { answered, dialogBack, dialogErase, dialogKey, dialogType } from './question/dialog.ts';
import { roomNamed } from './rooms.ts';
import { type Action, type AppState, isTooSmall, sceneOf, type Update } from './state.ts';

const only = (state: AppState): Update => ({ state, effects: [] });

export function update(state: AppState, action: Action): Update {
  switch (action.type) {
    case 'key':
      return onKey(state, action.key);
    case 'paste':
      return isTooSmall(state.size) ? only(state) : onPaste(state, pastedText(action.text));
    case 'resize':
      return only({ ...state, size: action.size });
    case 'tick':
      return {
        state: { ...state, now: action.now },
        effects: state.usual === null ? [{ type: 'load-usual' }] : [],
      };
    case 'books': {
      const next = { ...state, books: action.books };
      const isNewNight = state.books.shift?.id !== action.books.shift?.id;
      return {
        state: isNewNight ? { ...next, evidence: noEvidence } : next,
        effects: [...loads(next, []), ...(isNewNight ? [{ type: 'load-usual' } as const] : [])],
      };
    }
    case 'evidence':
      return only({ ...state, evidence: action.evidence });
    case 'usual':
      return only({ ...state, usual: action.usual });
    case 'drift':
      return only({ ...state, drift: action.drift });
    case 'log':
      return only({ ...state, log: action.log });
    case 'recorded':
      return onRecorded(state, { ...state, books: action.books, now: action.now }, action);
    case 'took-back':
      return onTookBack(
        { ...state, books: action.books },
        action.event,
        describeEvent(action.event, action.books),
      );
    case 'refused':
      return only({
        ...state,
        message: { text: action.problems.map(({ message }) => message).join(' '), tone: 'refused' },
      });
  }
}

function onKey(before: AppState, key: Key): Update {
  // A too small window keeps everything as it is; only the way out stays open.
  if (isTooSmall(before.size) && key !== 'ctrl-c' && key !== 'ctrl-z') return only(before);
  const state = before.leaving && key !== 'ctrl-c' ? { ...before, leaving: false, message: null } : before;
  if (key === 'ctrl-z') return { state, effects: [{ type: 'suspend' }] };
  if (key === 'ctrl-c') return run(state, 'ctrl-c');
  if (state.dialog !== null) return inDialog(state, key);
  if (key === 'esc') return back(state);
  const room = roomNamed(state.room);
  const binding = room.bindings.find(({ keys }) => keys.includes(key));
  if (binding !== undefined) {
    const allowed = binding.when?.(sceneOf(state), state.inRoom[state.room]) ?? true;
    if (allowed !== true) return only({ ...state, message: { text: allowed, tone: 'refused' } });
    return take({ ...state, message: null }, binding.run(sceneOf(state), state.inRoom[state.room]));
  }
  if (sharedKeys.some(({ keys }) => keys.includes(key))) return run(state, key);
  if (key === 'backspace' || key === 'delete')
    return take(state, room.erase(sceneOf(state), state.inRoom[state.room]));
  if (isText(key))
    return take({ ...state, message: null }, room.type(sceneOf(state), state.inRoom[state.room], key));
  return only(state);
}

/** Runs a shared binding, or says why it is off. */
function run(state: AppState, key: Key): Update {
  const binding = sharedKeys.find(({ keys }) => keys.includes(key));
  if (binding === undefined) return only(state);
  const allowed = binding.when?.(sceneOf(state)) ?? true;
  return allowed === true
    ? binding.run(state)
    : only({ ...state, message: { text: allowed, tone: 'refused' } });
}

/** Takes what a room gave back into the whole. */
export function take(state: AppState, step: Step<unknown>): Update {
  const kept: AppState = {
    ...state,
    inRoom: { ...state.inRoom, [state.room]: step.state },
    message: step.message === undefined ? state.message : step.message,
    dialog: step.dialog === undefined ? state.dialog : step.dialog,
  };
  if (step.go === undefined) return { state: kept, effects: step.effects ?? [] };
  const moved = goTo(kept.room === 'close' && step.go === 'count' ? markRecount(kept) : kept, step.go);
  const message = step.message ?? moved.state.message;
  return { state: { ...moved.state, message }, effects: [...(step.effects ?? []), ...moved.effects] };
}

/** From the Close room to the row of the Count room that is to be counted again. */
function markRecount(state: AppState): AppState {
  const key = recountKey(sceneOf(state), state.inRoom.close as CloseState);
  return {
    ...state,
    inRoom: { ...state.inRoom, count: countAt(state.books, key, state.inRoom.count as CountState) },
  };
}

/** A count taken back is to be counted again: the Count room goes to its row. */
function backToRow(state: AppState, item: string, place: string): AppState {
  const count = countAt(state.books, stockKey(item as never, place), state.inRoom.count as CountState);
  return { ...state, inRoom: { ...state.inRoom, count } };
}

function back(state: AppState): Update {
  const room = roomNamed(state.room);
  const step = room.back(sceneOf(state), state.inRoom[state.room]);
  if (step !== null) return take({ ...state, message: null }, step);
  return state.room === 'pour'
    ? only({ ...state, message: null })
    : goTo({ ...state, message: null }, 'pour');
}

function inDialog(state: AppState, key: Key): Update {
  if (key === 'esc') return only(dialogBack(state));
  if (key === 'backspace' || key === 'delete') return only(dialogErase(state));
  const reply = dialogKey(state, key);
  if (reply !== null) return reply.press === undefined ? reply : onKey(reply.state, reply.press);
  return isText(key) ? only(dialogType(state, key)) : only(state);
}

function onPaste(state: AppState, text: string): Update {
  if (text === '') return only(state);
  if (state.dialog !== null) return only(dialogType(state, text));
  const room = roomNamed(state.room);
  return take(state, room.type(sceneOf(state), state.inRoom[state.room], text));
}

function onRecorded(
  before: AppState,
  state: AppState,
  action: Extract<Action, { type: 'recorded' }>,
): Update {
  const said = [
    ...action.events.map((event) => describeEvent(event, action.books)),
    ...ranOut(action.events, action.books),
  ].join(' · ');
  const text =
    said === ''
      ? 'Nothing to change.'
      : `${said}.  ^U takes ${action.events.length > 1 ? 'back the last' : 'it back'}.`;
  const sealed = action.events.some((event) => event.kind === 'shift-sealed');
  const message = {
    text: sealed ? `${said}. Later corrections are new events.` : text,
    tone: 'done' as const,
  };
  const effects = loads(state, action.events);
  const told = answered({ ...state, message });
  const handed = action.events.find((event) => event.kind === 'handed-over');
  if (handed !== undefined)
    return { state: { ...told, dialog: handoverNote(action.books, action.now, state.usual) }, effects };
  if (action.from === 'frame') return { state: keepMark(before, told), effects };
  const room = roomNamed(action.from);
  const step = room.recorded?.(sceneOf(told), told.inRoom[action.from], action.events);
  if (step === undefined) return { state: told, effects };
  const taken = take({ ...told, room: action.from }, step);
  return { state: { ...taken.state, room: state.room }, effects: [...effects, ...taken.effects] };
}

/** A move adds a row to the Levels room: the mark stays on the item it stood on, so that the next Enter means the same. */
function keepMark(before: AppState, after: AppState): AppState {
  const levels = after.inRoom.levels as FilterState;
  const marked = levelRows(before.books, levels.query)[levels.cursor];
  if (after.room !== 'levels' || marked === undefined) return after;
  const cursor = levelRows(after.books, levels.query).findIndex(
    ({ item, place }) => item.id === marked.item.id && place === marked.place,
  );
  return cursor < 0 ? after : { ...after, inRoom: { ...after.inRoom, levels: { ...levels, cursor } } };
}

/** What is shown beside the books and has to be looked up anew after something was recorded. */
function loads(state: AppState, events: readonly Event[]): Effect[] {
  return [
    ...(state.room === 'log' ? [{ type: 'load-log' } as const] : []),
    ...(state.room === 'close' ? [{ type: 'load-evidence' } as const] : []),
    ...(events.some(({ kind }) => kind === 'shift-opened') ? [{ type: 'load-usual' } as const] : []),
  ];
}

function onTookBack(before: AppState, event: Event, said: string): Update {
  const state = event.kind === 'stock-counted' ? backToRow(before, event.item, event.place) : before;
  const message = {
    text: `Took back: ${said}. The Log keeps it; take the take-back back to restore it.`,
    tone: 'done' as const,
  };
  return { state: { ...state, message }, effects: loads(state, []) };
}
