// What must happen outside of the screen, as data: the rooms ask for it, the running program carries it out.
import type { Intent } from '../domain/intent/intent.ts';
import type { EventId } from '../domain/value/ids.ts';
import type { RoomName } from './address.ts';

/** A night by its id, or a stretch from one date to another. */
export type Nights = { readonly shift: EventId } | { readonly from: string; readonly to: string };

export type Effect =
  /** Appends what the intent wants; `room` hears of it when it is on disk. */
  | {
      readonly type: 'record';
      readonly intent: Intent;
      readonly from: RoomName | 'frame';
      /** What was typed for it, so that it can be taken up again should it be refused. */
      readonly typed?: string | null;
    }
  /** The clock was looked at and is right. */
  | { readonly type: 'trust-clock' }
  /** Tries again what is not saved yet. */
  | { readonly type: 'retry' }
  /** Writes everything the rooms hold, saved or not, to a file. */
  | { readonly type: 'write-out'; readonly file: string }
  /** Takes back one event, or the last when none is named. */
  | { readonly type: 'take-back'; readonly target: EventId | null }
  /** Takes back several as one; `why` nobody had to ask for it. */
  | { readonly type: 'take-back-all'; readonly targets: readonly EventId[]; readonly why?: string }
  /** Shows a past night or a stretch by its dates in the Close room; null goes back to the night the books are at. */
  | { readonly type: 'show-night'; readonly night: Nights | null }
  /** Reads a spreadsheet; what is in it comes back as a question, or why it can't be read as a message. */
  | { readonly type: 'read-sheet'; readonly file: string }
  | { readonly type: 'load-nights' }
  | { readonly type: 'load-log' }
  | { readonly type: 'load-drift' }
  | { readonly type: 'load-evidence' }
  | { readonly type: 'load-usual' }
  | { readonly type: 'load-ahead' }
  /** To the shell and back, as every other program does on ^Z. */
  | { readonly type: 'suspend' }
  | { readonly type: 'leave' };
