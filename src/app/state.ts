// The state of the whole program while the rooms are open, and what can happen to it.

import type { DriftReport } from '../domain/drift/drift-report.ts';
import type { Books } from '../domain/ledger/books.ts';
import type { Event, LoggedEvent } from '../domain/ledger/event.ts';
import { booksAt } from '../domain/ledger/stock/in-date.ts';
import type { Past } from '../domain/order/past.ts';
import { type Evidence, noEvidence } from '../domain/report/evidence.ts';
import type { Report } from '../domain/report/report.ts';
import type { Usual } from '../domain/service/usual.ts';
import type { EventId } from '../domain/value/ids.ts';
import type { Problem } from '../domain/value/problem.ts';
import type { RoomName } from '../screens/address.ts';
import type { Dialog, DialogOf } from '../screens/dialog.ts';
import type { Effect, Nights } from '../screens/effect.ts';
import type { HouseStanding, Machine, Message, Scene, Size } from '../screens/room.ts';
import type { Key } from './keys.ts';
import { entrance, rooms } from './rooms.ts';
import { type Fingers, restingFingers } from './tap/fingers.ts';
import type { HeldTap } from './tap/held.ts';

/** A night among the others, to be chosen. */
export type NightMark = { readonly id: EventId; readonly date: string; readonly sealedAt: string | null };

export type AppState = {
  readonly books: Books;
  readonly now: string;
  readonly size: Size;
  readonly isFine: boolean;
  readonly machine: Machine;
  readonly log: readonly LoggedEvent[];
  readonly drift: DriftReport | null;
  readonly evidence: Evidence;
  readonly past: Report | null;
  /** What was asked for when it was, to be looked up anew. */
  readonly pastOf: Nights | null;
  /** All nights, oldest first; loaded when one is asked for. */
  readonly nights: readonly NightMark[];
  readonly usual: Usual | null;
  readonly ahead: Past | null;
  readonly room: RoomName;
  /** Each room's own state, by its name. */
  readonly inRoom: Readonly<Record<RoomName, unknown>>;
  readonly message: Message | null;
  readonly dialog: Dialog | null;
  /** A card that was put aside half written. */
  readonly draft: DialogOf<'write'> | null;
  /** What is half written stays beyond these rooms. */
  readonly draftStays: boolean;
  /** Ctrl-C was pressed once. */
  readonly leaving: boolean;
  /** Null where these books are of one station alone. */
  readonly house: HouseStanding | null;
  /** Taps that are not saved yet, oldest first; the books as they are shown have them in. */
  readonly held: readonly HeldTap[];
  /** Why they are not. */
  readonly heldFor: Problem | null;
  /** Why nothing more is taken; null while taps are. */
  readonly stopped: Problem | null;
  readonly fingers: Fingers;
  /** What stands in the field of the open question was refused: what is typed next begins anew. */
  readonly spent: boolean;
};

export type Action =
  | {
      readonly type: 'key';
      readonly key: Key;
      /** When it came, ms of a clock that is never set; left out where nobody measures. */
      readonly ms?: number;
    }
  /** The last key of those that came in one read is done. */
  | { readonly type: 'read-over'; readonly ms: number }
  | { readonly type: 'paste'; readonly text: string }
  | { readonly type: 'resize'; readonly size: Size }
  | { readonly type: 'tick'; readonly now: string }
  | { readonly type: 'books'; readonly books: Books }
  | { readonly type: 'house'; readonly house: HouseStanding | null }
  | { readonly type: 'log'; readonly log: readonly LoggedEvent[] }
  | { readonly type: 'drift'; readonly drift: DriftReport }
  | { readonly type: 'evidence'; readonly evidence: Evidence }
  | { readonly type: 'past'; readonly past: Report | null; readonly of: Nights | null }
  | { readonly type: 'nights'; readonly nights: readonly NightMark[] }
  | { readonly type: 'usual'; readonly usual: Usual }
  | { readonly type: 'ahead'; readonly ahead: Past }
  | {
      readonly type: 'recorded';
      readonly events: readonly Event[];
      readonly books: Books;
      readonly from: RoomName | 'frame';
      readonly now: string;
      /** The mark of the books, after a seal. */
      readonly mark?: string;
    }
  | { readonly type: 'took-back'; readonly events: readonly Event[]; readonly books: Books }
  | {
      readonly type: 'refused';
      readonly problems: readonly Problem[];
      readonly from?: RoomName | 'frame';
      /** What was typed for it. */
      readonly typed?: string | null;
    }
  | {
      readonly type: 'held';
      readonly tap: HeldTap;
      readonly problem: Problem;
      readonly from: RoomName | 'frame';
    }
  | {
      readonly type: 'saved';
      readonly tap: HeldTap;
      readonly events: readonly Event[];
      readonly books: Books;
    }
  /** Taken out again before it was saved. */
  | { readonly type: 'dropped'; readonly tap: HeldTap; readonly books: Books }
  | { readonly type: 'still-held'; readonly problem: Problem }
  /** What was held is refused by the books after all. */
  | { readonly type: 'not-saved'; readonly tap: HeldTap; readonly problems: readonly Problem[] }
  | { readonly type: 'ask'; readonly dialog: Dialog }
  | { readonly type: 'retry' }
  /** Something to be read; `closes` when it answers the open question, else it comes after what is said already. */
  | {
      readonly type: 'said';
      readonly text: string;
      readonly tone: Message['tone'];
      readonly closes?: true;
    };

export type Update = { readonly state: AppState; readonly effects: readonly Effect[] };

/** A computer that says nothing of where it is. */
export const noMachine: Machine = { zone: 'UTC', user: '' };

export function startState(
  books: Books,
  now: string,
  size: Size,
  isFine = true,
  machine: Machine = noMachine,
): AppState {
  return {
    books: booksAt(books, now),
    now,
    size,
    isFine,
    machine,
    log: [],
    drift: null,
    evidence: noEvidence,
    past: null,
    pastOf: null,
    nights: [],
    usual: null,
    ahead: null,
    room: entrance(books),
    inRoom: Object.fromEntries(rooms.map((room) => [room.name, room.start])) as AppState['inRoom'],
    message: null,
    dialog: null,
    draft: null,
    draftStays: false,
    leaving: false,
    house: null,
    held: [],
    heldFor: null,
    stopped: null,
    spent: false,
    fingers: restingFingers,
  };
}

export const sceneOf = ({
  books,
  now,
  size,
  draft,
  isFine,
  machine,
  log,
  drift,
  evidence,
  past,
  usual,
  ahead,
  house,
  held,
  fingers,
}: AppState): Scene => ({
  books,
  now,
  size,
  isFine,
  machine,
  draft,
  log,
  drift,
  evidence,
  past,
  usual,
  ahead,
  house,
  unsaved: held.length,
  offered: fingers.offered,
});

/** What is being written, or was put aside half written. */
export function halfWritten({ dialog, draft }: AppState): DialogOf<'write'> | null {
  const asked = dialog?.kind === 'clock' ? dialog.behind : dialog;
  return asked?.kind === 'write' ? asked : draft;
}

/** Another question comes in front: the lines that were being written are put aside. */
export const withDraft = (state: AppState): AppState => ({ ...state, draft: halfWritten(state) });

/** Smallest window the rooms are drawn in; below it a line says so and keys wait. */
export const smallest: Size = { columns: 60, rows: 16 };
export const isTooSmall = (size: Size): boolean =>
  size.columns < smallest.columns || size.rows < smallest.rows;

/** Nothing is stocked and nothing is poured: the three ways to begin are shown. */
export const isEmptyHouse = (books: Books): boolean => books.items.size === 0 && books.specs.size === 0;
