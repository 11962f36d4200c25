// The list of rooms, in the order Tab walks them. A new room is a folder under screens/ and one line here.

import type { RoomName } from '../screens/address.ts';
import { bookRoom } from '../screens/book/room.ts';
import { closeRoom } from '../screens/close/room.ts';
import { countRoom } from '../screens/count/room.ts';
import { driftRoom } from '../screens/drift/room.ts';
import { levelsRoom } from '../screens/levels/room.ts';
import { logRoom } from '../screens/log/room.ts';
import { pourRoom } from '../screens/pour/room.ts';
import { readyRoom } from '../screens/ready/room.ts';
import type { Room } from '../screens/room.ts';

export const firstRoom: Room<unknown> = pourRoom;

export const rooms: readonly Room<unknown>[] = [
  firstRoom,
  levelsRoom,
  countRoom,
  closeRoom,
  driftRoom,
  bookRoom,
  logRoom,
  readyRoom,
];

export const roomNamed = (name: RoomName): Room<unknown> =>
  rooms.find((room) => room.name === name) ?? firstRoom;
