// Where one can go: a room, and in it the thing meant.

export type RoomName =
  | 'pour'
  | 'levels'
  | 'count'
  | 'close'
  | 'drift'
  | 'book'
  | 'log'
  | 'prep'
  | 'order'
  | 'ready'
  | 'begin';

/** Where to go: a room, and in it the thing meant, by the room's own key for it. */
export type Address = { readonly room: RoomName; readonly at?: string | null };
