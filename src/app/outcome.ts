// What became of what was asked for: recorded, refused, held, saved, taken back. Pure.
import { describeEvent, describeRecorded } from '../domain/ledger/describe.ts';
import type { Event } from '../domain/ledger/event.ts';
import { foldInOrder } from '../domain/ledger/ledger.ts';
import { saidInRooms } from '../domain/value/problem.ts';
import type { Effect } from '../screens/effect.ts';
import { handoverNote } from '../screens/notice/handover.ts';
import { ranOut } from '../screens/notice/ran-out.ts';
import type { Message } from '../screens/room.ts';
import { putAside } from './aside.ts';
import { askResized } from './question/card/resized.ts';
import { answered } from './question/table.ts';
import { firstRoom, roomNamed, rooms } from './rooms.ts';
import { type Action, type AppState, sceneOf, type Update } from './state.ts';
import { asked, muchAtOnce, recordedBy, tooMany } from './tap/fingers.ts';
import { type HeldTap, stops, whyHeld } from './tap/held.ts';
import { isWhole } from './tap/whole.ts';
import { take } from './typing.ts';

const only = (state: AppState): Update => ({ state, effects: [] });

/** What was typed leaves the field of its room; in a question it stays to be read, and typing begins anew. */
export function onRefused(
  state: AppState,
  { problems, from = 'frame', typed = null }: Extract<Action, { type: 'refused' }>,
): AppState {
  const next: AppState = {
    ...state,
    message: { text: problems.map(saidInRooms).join(' '), tone: 'refused' },
    spent: state.dialog !== null,
  };
  return from === 'frame' || typed === null ? next : putAside(next, from, typed);
}

/** Not on disk: kept, said, and out of the way of the next. */
export function onHeld(before: AppState, { tap, problem, from }: Extract<Action, { type: 'held' }>): Update {
  const held = [...before.held, tap];
  const books = foldInOrder(before.books, tap.events);
  const said = tap.events.map((event) => describeEvent(event, books)).join(' · ');
  const stopped = stops(problem) ? problem : null;
  const text = `Not saved yet: ${said}. ${whyHeld(problem)}`;
  const message: Message = { text, tone: 'refused' };
  const state = answered({ ...before, books, held, heldFor: problem, stopped, message });
  if (from === 'frame') return only(settled(before, state));
  const step = roomNamed(from).recorded?.(sceneOf(state), state.inRoom[from], tap.events);
  if (step === undefined) return only(state);
  const taken = take({ ...state, room: from }, { ...step, message });
  return { state: { ...taken.state, room: state.room }, effects: taken.effects };
}

const without = (state: AppState, tap: HeldTap): AppState => {
  const held = state.held.filter((one) => one !== tap);
  return {
    ...state,
    held,
    ...(held.every(({ refused }) => refused !== null) ? { heldFor: null, stopped: null } : {}),
  };
};

export function onSaved(
  before: AppState,
  { tap, events, books }: Extract<Action, { type: 'saved' }>,
): AppState {
  const state = without({ ...before, books }, tap);
  const said = (events.length === 0 ? tap.events : events)
    .map((event) => describeEvent(event, books))
    .join(' · ');
  const rest = state.held.length === 0 ? ' Everything is saved again.' : '';
  return settled(before, { ...state, message: { text: `Saved: ${said}.${rest}`, tone: 'done' } });
}

export function onDropped(before: AppState, { tap, books }: Extract<Action, { type: 'dropped' }>): AppState {
  const said = tap.events.map((event) => describeEvent(event, before.books)).join(' · ');
  const message: Message = { text: `Taken out, it was not saved yet: ${said}.`, tone: 'done' };
  return settled(before, { ...without({ ...before, books }, tap), message });
}

/** The books can be written and won't have it: it stays, and is said once. */
export function onNotSaved(
  before: AppState,
  { tap, problems }: Extract<Action, { type: 'not-saved' }>,
): AppState {
  const [problem] = problems;
  if (problem === undefined || tap.refused?.code === problem.code) return before;
  const held = before.held.map((one) => (one === tap ? { ...tap, refused: problem } : one));
  const said = tap.events.map((event) => describeEvent(event, before.books)).join(' · ');
  const text = `Not recorded: ${said}. ${problems.map(saidInRooms).join(' ')} ^U takes it out; ^C offers to write it to a file.`;
  return { ...before, held, message: { text, tone: 'refused' } };
}

/** What one key takes back: an event, a round, or what was written into the Book as one. */
const takenAtOnce = (events: readonly Event[]): boolean => {
  const [first, ...more] = events;
  return (
    more.length === 0 ||
    isWhole(events) ||
    (first !== undefined && 'round' in first && first.round !== undefined)
  );
};

/** Of a whole list that was taken in the first are named; the Log has all. */
const MOST_SAID = 12;

export function onRecorded(
  before: AppState,
  state: AppState,
  action: Extract<Action, { type: 'recorded' }>,
): Update {
  const many = action.events.length - MOST_SAID;
  const said = [
    ...action.events.slice(0, MOST_SAID).map((event) => describeRecorded(event, action.books, action.now)),
    ...(many > 0 ? [`and ${many} more`] : []),
    ...ranOut(action.events, action.books),
  ].join(' · ');
  const text =
    said === ''
      ? 'Nothing to change.'
      : `${said}.  ^U takes ${takenAtOnce(action.events) ? 'it back' : 'back the last'}.`;
  const sealed = action.events.some((event) => event.kind === 'shift-sealed');
  const message = {
    text: sealed ? `${said}.${markText(action.mark)} Later corrections are new events.` : text,
    tone: 'done' as const,
  };
  // A shift is opened to pour in it: the next key is a drink.
  const opened = action.events.some(({ kind }) => kind === 'shift-opened');
  const effects: Effect[] = [...shown(state), ...(opened ? [{ type: 'load-usual' } as const] : [])];
  const told = watched(answered({ ...state, message }), action.events, said);
  const handed = action.events.find((event) => event.kind === 'handed-over');
  if (handed !== undefined)
    return { state: { ...told, dialog: handoverNote(action.books, action.now, state.usual) }, effects };
  const sealedBefore = action.from === 'frame' ? askResized(before.books, action.events) : null;
  if (sealedBefore !== null) return { state: settled(before, { ...told, dialog: sealedBefore }), effects };
  if (action.from === 'frame')
    return { state: settled(before, opened ? { ...told, room: firstRoom.name } : told), effects };
  const room = roomNamed(action.from);
  const step = room.recorded?.(sceneOf(told), told.inRoom[action.from], action.events);
  if (step === undefined) return { state: told, effects };
  const taken = take({ ...told, room: action.from }, step);
  return { state: { ...taken.state, room: state.room }, effects: [...effects, ...taken.effects] };
}

/** Written down elsewhere, it proves later that nothing up to the seal was changed. */
const markText = (mark: string | undefined): string =>
  mark === undefined ? '' : ` Mark, to be kept elsewhere: ${mark}.`;

/** What was recorded is remembered of the fingers; the same pour too often is asked about. */
function watched(state: AppState, events: readonly Event[], said: string): AppState {
  const fingers = recordedBy(state.fingers, events, said);
  const next = { ...state, fingers };
  const many = tooMany(fingers);
  if (many === null) return next;
  const text = `Ten times in two seconds: ${said}. Keep them all?`;
  return { ...next, fingers: asked(fingers), dialog: { kind: 'many', text, ids: many } };
}

/**
 * The keys of one read are done. Were they a paste without a mark, only its first line was meant; were they typed ahead, all of them.
 * So all stand, nothing is in the way of the next key, and one key takes back all but the first.
 */
export function onReadOver(state: AppState, ms: number): AppState {
  const many = state.dialog === null ? muchAtOnce(state.fingers, ms) : null;
  if (many === null) return state;
  const text = `${many.length} came at once; Backspace leaves the first.`;
  const fingers = { ...state.fingers, offered: many.slice(1).flat() };
  // What was poured last stays to be read.
  const { message } = state;
  return {
    ...state,
    fingers,
    message: message === null ? { text, tone: 'plain' } : { ...message, text: `${message.text} ${text}` },
  };
}

/** The books changed by another hand than the room's own: its mark stays on the thing it stood on. */
export function settled(before: AppState, after: AppState): AppState {
  const room = roomNamed(after.room);
  const own = after.inRoom[after.room];
  const kept = room.settled?.(sceneOf(before), sceneOf(after), own) ?? own;
  return { ...after, inRoom: { ...after.inRoom, [after.room]: kept } };
}

/** What the room shows beside the books, to be looked up anew. */
export const shown = (state: AppState): readonly Effect[] => [
  ...(roomNamed(state.room).shows ?? []),
  ...(state.pastOf === null ? [] : [{ type: 'show-night', night: state.pastOf } as const]),
];

export function onTookBack(before: AppState, events: readonly Event[]): Update {
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
