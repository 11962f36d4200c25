// The list of rooms, in the order Tab walks them. A new room is a folder under screens/ and one line here.

import type { Books } from '../domain/ledger/books.ts';
import type { RoomName } from '../screens/address.ts';
import { beginRoom } from '../screens/begin/room.ts';
import { bookRoom } from '../screens/book/room.ts';
import { closeRoom } from '../screens/close/room.ts';
import { countRoom } from '../screens/count/room.ts';
import { driftRoom } from '../screens/drift/room.ts';
import { levelsRoom } from '../screens/levels/room.ts';
import { logRoom } from '../screens/log/room.ts';
import { orderRoom } from '../screens/order/room.ts';
import { pourRoom } from '../screens/pour/room.ts';
import { prepRoom } from '../screens/prep/room.ts';
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
  prepRoom,
  orderRoom,
  readyRoom,
  beginRoom,
];

/** Whether a room is there just now: a house that stands has no more to begin. */
export const isThere = ({ when }: Room<unknown>, books: Books): boolean => when?.(books) ?? true;

/** Where one comes in: a house that counts already has begun, even where it has no card yet. */
export const entrance = (books: Books): RoomName =>
  isThere(beginRoom, books) && books.stock.size === 0 ? beginRoom.name : firstRoom.name;

export const roomNamed = (name: RoomName): Room<unknown> =>
  rooms.find((room) => room.name === name) ?? firstRoom;
