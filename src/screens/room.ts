// What a room is: its state, its keys, its picture. Rooms see the books and give back steps; they touch nothing else.

import type { DriftReport } from '../domain/drift/drift-report.ts';
import type { Books } from '../domain/ledger/books.ts';
import type { Event, LoggedEvent } from '../domain/ledger/event.ts';
import type { Past } from '../domain/order/past.ts';
import type { Evidence } from '../domain/report/evidence.ts';
import type { Report } from '../domain/report/report.ts';
import type { Usual } from '../domain/service/usual.ts';
import type { EventId } from '../domain/value/ids.ts';
import type { Address, RoomName } from './address.ts';
import type { Dialog, DialogOf } from './dialog.ts';
import type { Effect } from './effect.ts';
import type { Line } from './parts/line.ts';

export type Size = { readonly columns: number; readonly rows: number };
export type Message = { readonly text: string; readonly tone: 'done' | 'refused' | 'plain' };

/** Its zone (IANA) and who is signed in, a name or nothing. */
export type Machine = { readonly zone: string; readonly user: string };

/** How this station stands with the others of its house. */
export type HouseStanding = {
  /** What the house is called on its server. */
  readonly name: string;
  readonly station: string;
  /** Nothing waits here, and the server was heard a moment ago. */
  readonly isInStep: boolean;
  /** Own events that the server does not hold. */
  readonly waiting: number;
  /** How far this clock is ahead of the server's, ms. */
  readonly skewMs: number;
  /** Stations of which something may be missing here, and when each was heard last. */
  readonly away: readonly { readonly id: string; readonly name: string; readonly since: string | null }[];
};

/** What every room can look at. */
export type Scene = {
  readonly books: Books;
  /** Now, as an instant; moves once a minute. */
  readonly now: string;
  readonly size: Size;
  /** The newest events of the log, loaded when a room that shows them is entered. */
  readonly log: readonly LoggedEvent[];
  /** What drifts over the last season; worked out when the room is entered. */
  readonly drift: DriftReport | null;
  /** The till's lines and the remarks of the shift the books are at; loaded when the Close room is entered. */
  readonly evidence: Evidence;
  /** The report of a past night or a stretch that was asked for in the Close room; null for the night the books are at. */
  readonly past: Report | null;
  /** What such a weekday usually takes; worked out a moment after the start and when a shift opens. */
  readonly usual: Usual | null;
  /** What the nights of a season say of the ones to come; worked out when a room that asks is entered. */
  readonly ahead: Past | null;
  /** A card that was put aside half written. */
  readonly draft: DialogOf<'write'> | null;
  /** What this computer says of where it is: what a new house is offered first. */
  readonly machine: Machine;
  /** Lines can be drawn finer than a character. */
  readonly isFine: boolean;
  /** Null where these books are of one station alone. */
  readonly house: HouseStanding | null;
  /** What the keys of one read poured, but for the first, until another key comes; null when that was not much. */
  readonly offered: readonly EventId[] | null;
  /** How many taps are not saved yet. */
  readonly unsaved: number;
};

export type Step<S> = {
  readonly state: S;
  readonly effects?: readonly Effect[];
  readonly message?: Message | null;
  readonly go?: Address;
  readonly dialog?: Dialog | null;
};

/**
 * Rooms and bindings are written as methods on purpose: each room has a state of its own, and only so can the list of rooms
 * hold them all without a cast.
 */
export type Binding<S> = {
  readonly id: string;
  readonly keys: readonly string[];
  /** What it does, as the help says it. */
  readonly label: string;
  /** The same in a word or two for the footer; left out there when empty. */
  readonly short: string;
  /** True, or the reason why it can't run now. */
  when?(scene: Scene, state: S): true | string;
  run(scene: Scene, state: S): Step<S>;
};

export type Room<S> = {
  readonly name: RoomName;
  readonly title: string;
  /** One sentence: the question this room answers. */
  readonly answers: string;
  readonly start: S;
  readonly bindings: readonly Binding<S>[];
  /** What it shows beside the books: looked up when it is entered, and anew after everything that is recorded. */
  readonly shows?: readonly Effect[];
  /** It has something to say though nothing is stocked yet. */
  readonly speaksEmpty?: true;
  /** It is there only as long as this holds; left out of the walk of Tab after that. */
  readonly when?: (books: Books) => boolean;
  /** Text typed or pasted; rooms without a field give the state back. */
  type(scene: Scene, state: S, text: string): Step<S>;
  erase(scene: Scene, state: S): Step<S>;
  /** One step back inside the room; null when there is nothing to step back from. */
  back(scene: Scene, state: S): Step<S> | null;
  /** Entered, at one of its things when it was sent there. */
  enter?(scene: Scene, state: S, at: string | null): Step<S>;
  /** Its own wish was recorded. */
  recorded?(scene: Scene, state: S, events: readonly Event[]): Step<S>;
  /** Its own wish was refused: what was typed for it leaves the field and can be taken up again; null is what stands there. */
  refused?(scene: Scene, state: S, typed: string | null): S;
  /** The books changed by another hand than its own: the mark stays on the thing it stood on. */
  settled?(before: Scene, after: Scene, state: S): S;
  /** Something was taken back; a room that has to do with it makes ready to do it again. */
  tookBack?(scene: Scene, state: S, event: Event): S;
  /** Body lines, exactly `size.rows` of them at most; the frame cuts and pads. */
  view(scene: Scene, state: S, size: Size): readonly Line[];
};

export const stay = <S>(state: S): Step<S> => ({ state });
export const refuse = <S>(state: S, text: string): Step<S> => ({ state, message: { text, tone: 'refused' } });
