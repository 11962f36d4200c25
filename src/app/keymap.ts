// The one table of keys: what every room shares, and what each room brings. Dispatch, footer, help and the README's key
// table all read it.
import { isOpen, peopleHere } from '../domain/ledger/books.ts';
import type { Address } from '../screens/address.ts';
import type { Binding, Scene } from '../screens/room.ts';
import type { Key } from './keys.ts';
import { firstRoom, isThere, roomNamed, rooms } from './rooms.ts';
import { type AppState, halfWritten, sceneOf, type Update, withDraft } from './state.ts';
import { heldText } from './tap/held.ts';

export type SharedBinding = Omit<Binding<AppState>, 'run' | 'when'> & {
  readonly when?: (scene: Scene) => true | string;
  readonly run: (state: AppState) => Update;
};

const only = (state: AppState): Update => ({ state, effects: [] });

function neighbour(state: AppState, step: number): Address {
  // The room one is in is one of them, also when it has no more to say.
  const walk = rooms.filter((room) => room.name === state.room || isThere(room, state.books));
  const index = walk.findIndex((room) => room.name === state.room);
  return { room: (walk[(index + step + walk.length) % walk.length] ?? firstRoom).name };
}

/** Who stands marked at a handover: the one after who is pouring, so that two people switch with ^P and Enter. */
function nextPerson({ books }: AppState): number {
  const people = peopleHere(books);
  const at = people.findIndex(({ id }) => id === books.shift?.pouring);
  return people.length === 0 ? 0 : (at + 1) % people.length;
}

/** Goes to a room and lets it prepare itself, at the thing meant when one is. */
export function goTo(state: AppState, { room: name, at = null }: Address): Update {
  const room = roomNamed(name);
  // A past night that was looked at is left with its room.
  const past = state.room === name ? {} : { past: null, pastOf: null };
  const next = { ...state, ...past, room: name, message: state.room === name ? state.message : null };
  const effects = room.shows ?? [];
  if (room.enter === undefined) return { state: next, effects };
  const step = room.enter(sceneOf(state), state.inRoom[name], at);
  return {
    state: { ...next, inRoom: { ...state.inRoom, [name]: step.state } },
    effects: [...effects, ...(step.effects ?? [])],
  };
}

/** The first ^C says what a second one would do; with something unsaved it asks where that should go. */
function askToLeave(state: AppState): AppState {
  const unsaved = state.held.length;
  const isWriting = halfWritten(state) !== null;
  if (unsaved === 0)
    return {
      ...state,
      leaving: true,
      message: isWriting
        ? {
            text: `Something is half written and ${state.draftStays ? 'stays for the next start' : 'goes when you leave'}: ^N goes on with it. ^C again leaves; everything recorded is saved.`,
            tone: 'refused',
          }
        : { text: 'Press ^C again to leave. Everything recorded is saved.', tone: 'plain' },
    };
  const text = `${heldText(unsaved)}. ^C again leaves; what is not saved is kept in a file, if a disk takes it.`;
  return {
    ...withDraft(state),
    leaving: true,
    dialog: { kind: 'unsaved', cursor: 0 },
    message: { text, tone: 'refused' },
  };
}

export const sharedKeys: readonly SharedBinding[] = [
  {
    id: 'take-back',
    keys: ['ctrl-u'],
    label: 'takes back the last thing recorded; nothing is erased',
    short: 'take back',
    run: (state) => ({ state, effects: [{ type: 'take-back', target: null }] }),
  },
  {
    id: 'open-shift',
    keys: ['ctrl-o'],
    label: 'opens a shift: choose who is pouring',
    short: 'open shift',
    when: (scene) =>
      isOpen(scene.books.shift)
        ? 'A shift is open already. ^P says who pours; the Close room seals it.'
        : true,
    run: (state) => only({ ...state, dialog: { kind: 'who', why: 'open-shift', cursor: 0 } }),
  },
  {
    id: 'who',
    keys: ['ctrl-p'],
    label: 'changes who is pouring: Enter for the next one, or a number',
    short: 'who pours',
    when: (scene) => (isOpen(scene.books.shift) ? true : 'No shift is open. Press ^O to open one.'),
    run: (state) => only({ ...state, dialog: { kind: 'who', why: 'hand-over', cursor: nextPerson(state) } }),
  },
  {
    id: 'out',
    keys: ['ctrl-g'],
    label: 'what is out (86), and which specs go with it; says that something is out, or back',
    short: "what's out",
    run: (state) => only({ ...state, dialog: { kind: 'out', text: '', choice: 0 } }),
  },
  {
    id: 'next-room',
    keys: ['tab', 'right'],
    label: 'the next room',
    short: 'next room',
    run: (state) => goTo(state, neighbour(state, 1)),
  },
  {
    id: 'last-room',
    keys: ['shift-tab', 'left'],
    label: 'the room before',
    short: '',
    run: (state) => goTo(state, neighbour(state, -1)),
  },
  {
    id: 'help',
    keys: ['?'],
    label: 'all keys of this room; ? or Esc closes',
    short: 'all keys',
    run: (state) => only({ ...state, dialog: { kind: 'help', filter: '', cursor: 0 } }),
  },
  {
    id: 'leave',
    keys: ['ctrl-c'],
    label: 'leaves, when pressed twice; asks first when something is not saved',
    short: '',
    run: (state) => (state.leaving ? { state, effects: [{ type: 'leave' }] } : only(askToLeave(state))),
  },
];

/** What Esc does everywhere; it has no other meaning and never leaves. */
export const escLabel = 'one step back: closes a question, clears what is typed';

/** The terminal's own key, which no binding may take: it means here what it means everywhere. */
export const suspendLabel = 'to the shell; fg comes back to the same screen';

export type KeyRow = {
  readonly room: string;
  readonly keys: readonly string[];
  readonly id: string;
  readonly label: string;
};

/** Every key of every room, for the help and the README. */
export function keyRows(): KeyRow[] {
  const shared = [
    ...sharedKeys.map(({ id, keys, label }) => ({ room: 'everywhere', keys, id, label })),
    { room: 'everywhere', keys: ['esc'], id: 'back', label: escLabel },
    { room: 'everywhere', keys: ['ctrl-z'], id: 'suspend', label: suspendLabel },
  ];
  return [
    ...shared,
    ...rooms.flatMap((room) =>
      room.bindings.map(({ id, keys, label }) => ({ room: room.title, keys, id, label })),
    ),
  ];
}

/** The key table of the README, made from the one table; a test compares the two. */
export function keyTable(name: (key: Key) => string): string {
  const rows = keyRows().map(
    ({ room, keys, label }) => `| ${room} | ${keys.map(name).join(' ')} | ${label} |`,
  );
  return ['| room | key | what it does |', '|---|---|---|', ...rows].join('\n');
}
