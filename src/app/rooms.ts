// The list of rooms, in the order Tab walks them. A new room is a folder under screens/ and one line here.
import { bookRoom } from '../screens/book/room.ts';
import { closeRoom } from '../screens/close/room.ts';
import { countRoom } from '../screens/count/room.ts';
import { driftRoom } from '../screens/drift/room.ts';
import { levelsRoom } from '../screens/levels/room.ts';
import { logRoom } from '../screens/log/room.ts';
import { miseRoom } from '../screens/mise/room.ts';
import { pourRoom } from '../screens/pour/room.ts';
import type { Room, RoomName } from '../screens/room.ts';

export const rooms = [
  pourRoom,
  levelsRoom,
  countRoom,
  closeRoom,
  driftRoom,
  bookRoom,
  logRoom,
  miseRoom,
] as unknown as readonly Room<unknown>[];

export const roomNamed = (name: RoomName): Room<unknown> =>
  rooms.find((room) => room.name === name) ?? (rooms[0] as Room<unknown>);
