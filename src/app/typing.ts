// What a key or a paste does: to the open question, else to the room, else what every room shares. Pure.

import type { Dialog } from '../screens/dialog.ts';
import type { Effect } from '../screens/effect.ts';
import { keyName } from '../screens/frame/footer.ts';
import type { Step } from '../screens/room.ts';
import { putAside } from './aside.ts';
import { goTo, sharedKeys } from './keymap.ts';
import { isText, type Key } from './keys.ts';
import { answered, dialogErase, dialogKey, dialogType, escaped, hasField } from './question/table.ts';
import { roomNamed } from './rooms.ts';
import { type Action, type AppState, isTooSmall, sceneOf, type Update } from './state.ts';
import { didTooMuch, pressed } from './tap/fingers.ts';

const only = (state: AppState): Update => ({ state, effects: [] });

/** What came at once may go back with the very next key, and with none after it. */
export function onTimedKey(state: AppState, key: Key, ms: number | undefined): Update {
  const done = onKeyOf(state, key, ms);
  const { fingers } = done.state;
  if (fingers.offered === null) return done;
  return { ...done, state: { ...done.state, fingers: { ...fingers, offered: null } } };
}

/** A key with the moment it came: what only a held key does so fast is not done again. */
function onKeyOf(state: AppState, key: Key, ms: number | undefined): Update {
  if (ms === undefined) return onKey(state, key);
  const { fingers, isHeld } = pressed(state.fingers, key, ms);
  const next = { ...state, fingers };
  if (!isHeld) return onKey(next, key);
  // Of a held key the first counts: what it did until it could be told from a finger is taken back.
  const extra = didTooMuch(fingers);
  if (extra !== null) {
    const targets: Effect = { type: 'take-back-all', targets: extra, why: `${keyName(key)} was held down.` };
    return { state: { ...next, fingers: { ...fingers, did: fingers.did.slice(0, 1) } }, effects: [targets] };
  }
  const text = `${keyName(key)} was held down, so it was not done again.`;
  // Said once, however long it is held.
  return only(
    state.message?.text.includes(`${keyName(key)} was held down`) === true
      ? next
      : onSaid(next, { type: 'said', text, tone: 'plain' }),
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
  return key === 'enter' ? putAside(said, state.room, null) : said;
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
  if (key === 'esc') return only({ ...escaped(state, dialog), spent: false });
  if ((key === 'backspace' || key === 'delete') && hasField(dialog))
    return only(mending(dialog, dialogErase(state, dialog)));
  const reply = dialogKey(state, dialog, key);
  if (reply !== null) return reply.press === undefined ? reply : onKey(reply.state, reply.press);
  return isText(key) ? only(typeInto(state, dialog, key)) : only(state);
}

/** Typing into a question; what was refused makes way, so that two answers never run together. Lines are mended where they stand. */
function typeInto(state: AppState, dialog: Dialog, text: string): AppState {
  const isSpent = state.spent && dialog.kind !== 'write';
  const fresh = isSpent && 'text' in dialog ? { ...dialog, text: '' } : dialog;
  return mending(dialog, dialogType(state, fresh, text));
}

/** What was refused is being mended; of a card what is still wrong is said beside its lines. */
const mending = ({ kind }: Dialog, state: AppState): AppState => ({
  ...state,
  spent: false,
  message: kind === 'write' ? null : state.message,
});

export function onPaste(state: AppState, text: string): Update {
  if (text === '') return only(state);
  if (state.dialog !== null) return only(typeInto(state, state.dialog, text));
  const room = roomNamed(state.room);
  return take(state, room.type(sceneOf(state), state.inRoom[state.room], text));
}

export function onSaid(state: AppState, { text, tone, closes }: Extract<Action, { type: 'said' }>): AppState {
  if (closes === true) return answered({ ...state, message: { text, tone } });
  const { message } = state;
  return {
    ...state,
    message: message === null ? { text, tone } : { ...message, text: `${message.text} ${text}` },
  };
}
