// (state, action) -> state and effects. Pure: what must happen outside is handed back as data.

import { describeEvent } from '../domain/ledger/describe.ts';
import type { Event } from '../domain/ledger/event.ts';
import { foldInOrder } from '../domain/ledger/ledger.ts';
import { noEvidence } from '../domain/report/evidence.ts';
import { saidInRooms } from '../domain/value/problem.ts';
import type { Dialog } from '../screens/dialog.ts';
import type { Effect } from '../screens/effect.ts';
import { keyName } from '../screens/frame/footer.ts';
import { handoverNote } from '../screens/notice/handover.ts';
import { ranOut } from '../screens/notice/ran-out.ts';
import type { Message, Step } from '../screens/room.ts';
import { asked, didHeld, pressed, recordedBy, tooMany } from './fingers.ts';
import { type HeldTap, stops } from './held.ts';
import { goTo, sharedKeys } from './keymap.ts';
import { isText, type Key, pastedText } from './keys.ts';
import { answered, dialogErase, dialogKey, dialogType, hasField } from './question/table.ts';
import { roomNamed, rooms } from './rooms.ts';
import { type Action, type AppState, isTooSmall, sceneOf, type Update } from './state.ts';

const only = (state: AppState): Update => ({ state, effects: [] });

export function update(state: AppState, action: Action): Update {
  switch (action.type) {
    case 'key':
      return onTimedKey(state, action.key, action.ms);
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
        effects: [...shown(next), ...(isNewNight ? [{ type: 'load-usual' } as const] : [])],
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
      return onTookBack({ ...state, books: action.books }, action.events);
    case 'refused':
      return only(onRefused(state, action));
    case 'held':
      return onHeld(state, action);
    case 'saved':
      return only(onSaved(state, action));
    case 'still-held':
      return only({
        ...state,
        heldFor: action.problem,
        stopped: stops(action.problem) ? action.problem : null,
      });
    case 'dropped':
      return only(onDropped(state, action));
    case 'not-saved':
      return only(onNotSaved(state, action));
    case 'ask':
      return only({ ...state, dialog: action.dialog, message: null });
    case 'retry':
      return { state, effects: [{ type: 'retry' }] };
    case 'said':
      return only(onSaid(state, action));
  }
}

/** A key with the moment it came: what only a held key does so fast is not done again. */
function onTimedKey(state: AppState, key: Key, ms: number | undefined): Update {
  if (ms === undefined) return onKey(state, key);
  const { fingers, isHeld } = pressed(state.fingers, key, ms);
  if (!isHeld) return onKey({ ...state, fingers }, key);
  const heldKeyDid = didHeld(fingers) ?? state.heldKeyDid;
  const text = `${keyName(key)} was held down, so it was not done again${heldKeyDid === null ? '' : '; ^U takes back what it did as one'}.`;
  const held = { ...state, fingers, heldKeyDid };
  // Said once, however long it is held.
  return only(
    state.message?.text.endsWith(text) === true ? held : onSaid(held, { type: 'said', text, tone: 'plain' }),
  );
}

function onKey(before: AppState, key: Key): Update {
  // A too small window keeps everything as it is; only the way out stays open.
  if (isTooSmall(before.size) && key !== 'ctrl-c' && key !== 'ctrl-z') return only(before);
  const state = before.leaving && key !== 'ctrl-c' ? { ...before, leaving: false, message: null } : before;
  if (key === 'ctrl-z') return { state, effects: [{ type: 'suspend' }] };
  if (key === 'ctrl-c') return run(state, 'ctrl-c');
  if (state.dialog !== null) return inDialog(state, state.dialog, key);
  if (key === 'esc') return back(state);
  return key === 'enter' && state.held.length > 0
    ? also([{ type: 'retry' }], inRoom(state, key))
    : inRoom(state, key);
}

/** What was to happen first, and what follows. */
const also = (first: readonly Effect[], { state, effects }: Update): Update => ({
  state,
  effects: [...first, ...effects],
});

function inRoom(state: AppState, key: Key): Update {
  const room = roomNamed(state.room);
  const binding = room.bindings.find(({ keys }) => keys.includes(key));
  if (binding !== undefined) {
    const allowed = binding.when?.(sceneOf(state), state.inRoom[state.room]) ?? true;
    if (allowed !== true) return only(barred(state, key, allowed));
    return take({ ...state, message: null }, binding.run(sceneOf(state), state.inRoom[state.room]));
  }
  if (sharedKeys.some(({ keys }) => keys.includes(key))) return run(state, key);
  if (key === 'backspace' || key === 'delete')
    return take(state, room.erase(sceneOf(state), state.inRoom[state.room]));
  if (isText(key))
    return take({ ...state, message: null }, room.type(sceneOf(state), state.inRoom[state.room], key));
  return only(state);
}

/** A key that is off now; what was typed for Enter makes way, so that the next is not glued to it. */
function barred(state: AppState, key: Key, text: string): AppState {
  const said: AppState = { ...state, message: { text, tone: 'refused' } };
  if (key !== 'enter') return said;
  const own = state.inRoom[state.room];
  const kept = roomNamed(state.room).refused?.(sceneOf(state), own, null) ?? own;
  return { ...said, inRoom: { ...state.inRoom, [state.room]: kept } };
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
  const moved = goTo(kept, step.go);
  const message = step.message ?? moved.state.message;
  return { state: { ...moved.state, message }, effects: [...(step.effects ?? []), ...moved.effects] };
}

/** One step back in the room; with nothing to step back from one stays where one is. */
function back(state: AppState): Update {
  const step = roomNamed(state.room).back(sceneOf(state), state.inRoom[state.room]);
  const quiet = { ...state, message: null };
  return step === null ? only(quiet) : take(quiet, step);
}

function inDialog(state: AppState, dialog: Dialog, key: Key): Update {
  if (key === 'esc') return only({ ...state, dialog: null, message: null, spent: false });
  if ((key === 'backspace' || key === 'delete') && hasField(dialog))
    return only({ ...dialogErase(state, dialog), spent: false });
  const reply = dialogKey(state, dialog, key);
  if (reply !== null) return reply.press === undefined ? reply : onKey(reply.state, reply.press);
  return isText(key) ? only(typeInto(state, dialog, key)) : only(state);
}

/** Typing into a question; what was refused makes way, so that two answers never run together. */
function typeInto(state: AppState, dialog: Dialog, text: string): AppState {
  const fresh = state.spent && 'text' in dialog ? { ...dialog, text: '' } : dialog;
  return { ...dialogType(state, fresh, text), spent: false };
}

function onPaste(state: AppState, text: string): Update {
  if (text === '') return only(state);
  if (state.dialog !== null) return only(typeInto(state, state.dialog, text));
  const room = roomNamed(state.room);
  return take(state, room.type(sceneOf(state), state.inRoom[state.room], text));
}

/** What was typed leaves the field of its room; in a question it stays to be read, and typing begins anew. */
function onRefused(
  state: AppState,
  { problems, from = 'frame', typed = null }: Extract<Action, { type: 'refused' }>,
): AppState {
  const next: AppState = {
    ...state,
    message: { text: problems.map(saidInRooms).join(' '), tone: 'refused' },
    spent: state.dialog !== null,
  };
  if (from === 'frame' || typed === null) return next;
  const room = roomNamed(from);
  const own = next.inRoom[from];
  return { ...next, inRoom: { ...next.inRoom, [from]: room.refused?.(sceneOf(next), own, typed) ?? own } };
}

/** Not on disk: kept, said, and out of the way of the next. */
function onHeld(before: AppState, { tap, problem, from }: Extract<Action, { type: 'held' }>): Update {
  const held = [...before.held, tap];
  const books = foldInOrder(before.books, tap.events);
  const said = tap.events.map((event) => describeEvent(event, books)).join(' · ');
  const stopped = stops(problem) ? problem : null;
  const text = `Not saved yet: ${said}. ${saidInRooms(problem)} ${stopped === null ? 'It is kept and tried again.' : 'Nothing more is taken; ^C offers to write everything to a file.'}`;
  const message: Message = { text, tone: 'refused' };
  const state = answered({ ...before, books, held, heldFor: problem, stopped, message });
  if (from === 'frame') return only(settled(before, state));
  const step = roomNamed(from).recorded?.(sceneOf(state), state.inRoom[from], tap.events);
  if (step === undefined) return only(state);
  const taken = take({ ...state, room: from }, { ...step, message });
  return { state: { ...taken.state, room: state.room }, effects: taken.effects };
}

function onSaid(state: AppState, { text, tone, closes }: Extract<Action, { type: 'said' }>): AppState {
  if (closes === true) return answered({ ...state, message: { text, tone } });
  const { message } = state;
  return {
    ...state,
    message: message === null ? { text, tone } : { ...message, text: `${message.text} ${text}` },
  };
}

const without = (state: AppState, tap: HeldTap): AppState => {
  const held = state.held.filter((one) => one !== tap);
  return { ...state, held, ...(held.length === 0 ? { heldFor: null, stopped: null } : {}) };
};

function onSaved(before: AppState, { tap, events, books }: Extract<Action, { type: 'saved' }>): AppState {
  const state = without({ ...before, books }, tap);
  const said = (events.length === 0 ? tap.events : events)
    .map((event) => describeEvent(event, books))
    .join(' · ');
  const rest = state.held.length === 0 ? ' Everything is saved again.' : '';
  return settled(before, { ...state, message: { text: `Saved: ${said}.${rest}`, tone: 'done' } });
}

function onDropped(before: AppState, { tap, books }: Extract<Action, { type: 'dropped' }>): AppState {
  const said = tap.events.map((event) => describeEvent(event, before.books)).join(' · ');
  const message: Message = { text: `Taken out, it was not saved yet: ${said}.`, tone: 'done' };
  return settled(before, { ...without({ ...before, books }, tap), message });
}

function onNotSaved(before: AppState, { tap, problems }: Extract<Action, { type: 'not-saved' }>): AppState {
  const said = tap.events.map((event) => describeEvent(event, before.books)).join(' · ');
  const state = onRefused(without(before, tap), {
    type: 'refused',
    problems,
    from: 'pour',
    typed: tap.typed,
  });
  const text = `Not recorded: ${said}. ${problems.map(saidInRooms).join(' ')}`;
  return { ...state, message: { text, tone: 'refused' } };
}

/** What one key takes back: an event, or a round as a whole. */
const takenAtOnce = ([first, ...more]: readonly Event[]): boolean =>
  more.length === 0 || (first !== undefined && 'round' in first && first.round !== undefined);

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
      : `${said}.  ^U takes ${takenAtOnce(action.events) ? 'it back' : 'back the last'}.`;
  const sealed = action.events.some((event) => event.kind === 'shift-sealed');
  const message = {
    text: sealed ? `${said}. Later corrections are new events.` : text,
    tone: 'done' as const,
  };
  const effects: Effect[] = [
    ...shown(state),
    ...(action.events.some(({ kind }) => kind === 'shift-opened') ? [{ type: 'load-usual' } as const] : []),
  ];
  const told = watched(answered({ ...state, message }), action.events, said);
  const handed = action.events.find((event) => event.kind === 'handed-over');
  if (handed !== undefined)
    return { state: { ...told, dialog: handoverNote(action.books, action.now, state.usual) }, effects };
  if (action.from === 'frame') return { state: settled(before, told), effects };
  const room = roomNamed(action.from);
  const step = room.recorded?.(sceneOf(told), told.inRoom[action.from], action.events);
  if (step === undefined) return { state: told, effects };
  const taken = take({ ...told, room: action.from }, step);
  return { state: { ...taken.state, room: state.room }, effects: [...effects, ...taken.effects] };
}

/** What was recorded is remembered of the fingers; the same pour too often is asked about. */
function watched(state: AppState, events: readonly Event[], said: string): AppState {
  const fingers = recordedBy(state.fingers, events, said);
  const next = { ...state, fingers, heldKeyDid: null };
  const many = tooMany(fingers);
  if (many === null) return next;
  const text = `Ten times in two seconds: ${said}. Keep them all?`;
  return { ...next, fingers: asked(fingers), dialog: { kind: 'many', text, ids: many } };
}

/** The books changed by another hand than the room's own: its mark stays on the thing it stood on. */
function settled(before: AppState, after: AppState): AppState {
  const room = roomNamed(after.room);
  const own = after.inRoom[after.room];
  const kept = room.settled?.(sceneOf(before), sceneOf(after), own) ?? own;
  return { ...after, inRoom: { ...after.inRoom, [after.room]: kept } };
}

/** What the room shows beside the books, to be looked up anew. */
const shown = (state: AppState): readonly Effect[] => roomNamed(state.room).shows ?? [];

function onTookBack(before: AppState, events: readonly Event[]): Update {
  const inRoom = Object.fromEntries(
    rooms.map((room) => {
      const own = before.inRoom[room.name];
      const after = events.reduce(
        (kept, event) => room.tookBack?.(sceneOf(before), kept, event) ?? kept,
        own,
      );
      return [room.name, after];
    }),
  );
  const state = { ...before, inRoom: { ...before.inRoom, ...inRoom } };
  const message = {
    text: `Took back: ${events.map((event) => describeEvent(event, before.books)).join(' · ')}. The Log keeps it; take the take-back back to restore it.`,
    tone: 'done' as const,
  };
  return { state: { ...state, message }, effects: shown(state) };
}
