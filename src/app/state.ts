// The state of the whole program while the rooms are open, and what can happen to it.

import type { DriftReport } from '../domain/drift/drift-report.ts';
import type { Books } from '../domain/ledger/books.ts';
import type { Event, LoggedEvent } from '../domain/ledger/event.ts';
import { type Evidence, noEvidence } from '../domain/report/evidence.ts';
import type { Usual } from '../domain/service/usual.ts';
import type { Problem } from '../domain/value/problem.ts';
import type { RoomName } from '../screens/address.ts';
import type { Dialog } from '../screens/dialog.ts';
import type { Effect, Message, Scene, Size } from '../screens/room.ts';
import type { Key } from './keys.ts';
import { firstRoom, rooms } from './rooms.ts';

export type AppState = {
  readonly books: Books;
  readonly now: string;
  readonly size: Size;
  readonly log: readonly LoggedEvent[];
  readonly drift: DriftReport | null;
  readonly evidence: Evidence;
  readonly usual: Usual | null;
  readonly room: RoomName;
  /** Each room's own state, by its name. */
  readonly inRoom: Readonly<Record<RoomName, unknown>>;
  readonly message: Message | null;
  readonly dialog: Dialog | null;
  /** Ctrl-C was pressed once. */
  readonly leaving: boolean;
};

export type Action =
  | { readonly type: 'key'; readonly key: Key }
  | { readonly type: 'paste'; readonly text: string }
  | { readonly type: 'resize'; readonly size: Size }
  | { readonly type: 'tick'; readonly now: string }
  | { readonly type: 'books'; readonly books: Books }
  | { readonly type: 'log'; readonly log: readonly LoggedEvent[] }
  | { readonly type: 'drift'; readonly drift: DriftReport }
  | { readonly type: 'evidence'; readonly evidence: Evidence }
  | { readonly type: 'usual'; readonly usual: Usual }
  | {
      readonly type: 'recorded';
      readonly events: readonly Event[];
      readonly books: Books;
      readonly from: RoomName | 'frame';
      readonly now: string;
    }
  | { readonly type: 'took-back'; readonly events: readonly Event[]; readonly books: Books }
  | { readonly type: 'refused'; readonly problems: readonly Problem[] };

export type Update = { readonly state: AppState; readonly effects: readonly Effect[] };

export function startState(books: Books, now: string, size: Size): AppState {
  return {
    books,
    now,
    size,
    log: [],
    drift: null,
    evidence: noEvidence,
    usual: null,
    room: firstRoom.name,
    inRoom: Object.fromEntries(rooms.map((room) => [room.name, room.start])) as AppState['inRoom'],
    message: null,
    dialog: null,
    leaving: false,
  };
}

export const sceneOf = ({ books, now, size, log, drift, evidence, usual }: AppState): Scene => ({
  books,
  now,
  size,
  log,
  drift,
  evidence,
  usual,
});

/** Smallest window the rooms are drawn in; below it a line says so and keys wait. */
export const smallest: Size = { columns: 60, rows: 16 };
export const isTooSmall = (size: Size): boolean =>
  size.columns < smallest.columns || size.rows < smallest.rows;

/** Nothing is stocked and nothing is poured: the three ways to begin are shown. */
export const isEmptyHouse = (books: Books): boolean => books.items.size === 0 && books.specs.size === 0;
