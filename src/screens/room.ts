// What a room is: its state, its keys, its picture. Rooms see the books and give back steps; they touch nothing else.

import type { DriftReport } from '../domain/drift/drift-report.ts';
import type { Intent } from '../domain/intent/intent.ts';
import type { Books } from '../domain/ledger/books.ts';
import type { Event, LoggedEvent } from '../domain/ledger/event.ts';
import type { Evidence } from '../domain/report/evidence.ts';
import type { Usual } from '../domain/service/usual.ts';
import type { EventId } from '../domain/value/ids.ts';
import type { Line } from './parts/line.ts';

export type RoomName = 'pour' | 'levels' | 'count' | 'close' | 'drift' | 'book' | 'log' | 'mise';
export type Size = { readonly columns: number; readonly rows: number };
export type Message = { readonly text: string; readonly tone: 'done' | 'refused' | 'plain' };

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
  /** What such a weekday usually takes; worked out a moment after the start and when a shift opens. */
  readonly usual: Usual | null;
};

export type Effect =
  /** Appends what the intent wants; `room` hears of it when it is on disk. */
  | { readonly type: 'record'; readonly intent: Intent; readonly from: RoomName | 'frame' }
  /** Takes back one event, or the last when none is named. */
  | { readonly type: 'take-back'; readonly target: EventId | null }
  | { readonly type: 'load-log' }
  | { readonly type: 'load-drift' }
  | { readonly type: 'load-evidence' }
  | { readonly type: 'load-usual' }
  /** To the shell and back, as every other program does on ^Z. */
  | { readonly type: 'suspend' }
  | { readonly type: 'leave' };

export type Step<S> = {
  readonly state: S;
  readonly effects?: readonly Effect[];
  readonly message?: Message | null;
  readonly go?: RoomName;
  readonly dialog?: Dialog | null;
};

/** Questions that stand in front of a room. */
export type Dialog =
  | { readonly kind: 'help'; readonly filter: string; readonly cursor: number }
  | { readonly kind: 'who'; readonly why: 'open-shift' | 'hand-over'; readonly cursor: number }
  | { readonly kind: 'stock'; readonly item: string; readonly place: string; readonly cursor: number }
  | {
      readonly kind: 'amount';
      readonly what: StockAction;
      readonly item: string;
      readonly place: string;
      readonly text: string;
      readonly choice: number;
    }
  | { readonly kind: 'seal'; readonly text: string; readonly choice: number }
  | { readonly kind: 'note'; readonly title: string; readonly lines: readonly string[] }
  | { readonly kind: 'sure'; readonly target: EventId; readonly question: string }
  | {
      readonly kind: 'words';
      readonly what: WordsAsked;
      /** An item, or a name of the till; empty for a note on the whole shift. */
      readonly subject: string;
      readonly text: string;
      readonly choice: number;
    }
  /** Something to read that follows from the books and keeps itself up to date. */
  | { readonly kind: 'look'; readonly what: LookedAt; readonly subject: string; readonly cursor: number };

export type WordsAsked = 'note' | 'correct' | 'match';
export type LookedAt = 'out' | 'kin' | 'without';

export type StockAction = 'open' | 'lose' | 'receive' | 'move' | 'count' | 'without';

export type Binding<S> = {
  readonly id: string;
  readonly keys: readonly string[];
  /** What it does, as the help says it. */
  readonly label: string;
  /** The same in a word or two for the footer; left out there when empty. */
  readonly short: string;
  /** True, or the reason why it can't run now. */
  readonly when?: (scene: Scene, state: S) => true | string;
  readonly run: (scene: Scene, state: S) => Step<S>;
};

export type Room<S> = {
  readonly name: RoomName;
  readonly title: string;
  /** One sentence: the question this room answers. */
  readonly answers: string;
  readonly start: S;
  readonly bindings: readonly Binding<S>[];
  /** Text typed or pasted; rooms without a field give the state back. */
  readonly type: (scene: Scene, state: S, text: string) => Step<S>;
  readonly erase: (scene: Scene, state: S) => Step<S>;
  /** One step back inside the room; null when there is nothing to step back from. */
  readonly back: (scene: Scene, state: S) => Step<S> | null;
  readonly enter?: (scene: Scene, state: S) => Step<S>;
  /** Its own wish was recorded. */
  readonly recorded?: (scene: Scene, state: S, events: readonly Event[]) => Step<S>;
  /** Body lines, exactly `size.rows` of them at most; the frame cuts and pads. */
  readonly view: (scene: Scene, state: S, size: Size) => readonly Line[];
};

export const stay = <S>(state: S): Step<S> => ({ state });
export const refuse = <S>(state: S, text: string): Step<S> => ({ state, message: { text, tone: 'refused' } });
