// The rooms without a terminal: press keys as bytes would bring them, read the screen as text.
import { keysOf } from '../../src/app/keys.ts';
import { picture } from '../../src/app/picture.ts';
import { isThere, rooms } from '../../src/app/rooms.ts';
import { type App, createApp } from '../../src/app/run.ts';
import type { AppState } from '../../src/app/state.ts';
import type { RoomName } from '../../src/screens/address.ts';
import { plainText } from '../../src/screens/parts/line.ts';
import type { Room, Size } from '../../src/screens/room.ts';
import type { Store } from '../../src/store/store.ts';
import type { Night } from './night.ts';

export type Rooms = {
  readonly app: App;
  readonly state: () => AppState;
  /** Named keys ("enter", "ctrl-u") or text to be typed. */
  readonly press: (...keys: readonly string[]) => void;
  readonly screen: () => string;
  readonly rows: () => string[];
  readonly left: () => boolean;
};

const names = new Set([
  'enter',
  'esc',
  'tab',
  'shift-tab',
  'up',
  'down',
  'left',
  'right',
  'pgup',
  'pgdn',
  'home',
  'end',
  'backspace',
]);

/** By Tab to a room; it must be one of those that are there. */
export function walkTo(at: Rooms, room: RoomName): void {
  for (let step = 0; at.state().room !== room; step += 1) {
    if (step > rooms.length) throw new Error(`Tab never comes to ${room}`);
    at.press('tab');
  }
}

/** The rooms there are on these books. */
export const roomsThere = (at: Rooms): readonly Room<unknown>[] =>
  rooms.filter((room) => isThere(room, at.state().books));

export function openRooms(store: Store, now: () => number, size: Size = { columns: 80, rows: 24 }): Rooms {
  let hasLeft = false;
  const app = createApp(store, now, size, () => {
    hasLeft = true;
  });
  return { ...roomsOn(app), left: () => hasLeft };
}

/** Rooms that are open already. */
export function roomsOn(app: App): Rooms {
  const press = (...keys: readonly string[]): void => {
    for (const key of keys) {
      if (names.has(key) || /^ctrl-[a-z]$/.test(key)) app.dispatch({ type: 'key', key });
      else for (const char of keysOf(key, {})) app.dispatch({ type: 'key', key: char });
    }
  };
  const rows = (): string[] => picture(app.state()).map(plainText);
  return { app, state: app.state, press, rows, screen: () => rows().join('\n'), left: () => false };
}

/** Rooms on the store of a night, in a window of one size. */
export const roomsAt =
  (size: Size) =>
  (night: Night, work: (at: Rooms, store: Store) => void): void =>
    night.store((store) => work(openRooms(store, night.world.now, size), store));
