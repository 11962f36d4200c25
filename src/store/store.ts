// What the rest of the program knows of the store: append events, read them back, be told what is wrong.
import type { Traces } from '../domain/intent/intend-take-back.ts';
import type { Intent } from '../domain/intent/intent.ts';
import type { Books, ShiftBooks } from '../domain/ledger/books.ts';
import type { Event, LoggedEvent, Loss, Remark, Sale } from '../domain/ledger/event.ts';
import type { EventLine } from '../domain/ledger/event-door.ts';
import type { EventId } from '../domain/value/ids.ts';
import type { Problem, Result } from '../domain/value/problem.ts';

export type CheckFinding = { readonly check: string; readonly message: string };

/** One line of a file of events: an event, what is wrong with it, or nothing. */
export type Incoming = Event | EventLine | Problem | null;

export type ImportOutcome = { readonly added: number; readonly known: number };

/** How something is tried that may have to be tried again. */
export type Trial = {
  /** The id of the n-th event, the same in every try: what a try stored that nobody heard of is then not stored twice. */
  readonly idOf?: (index: number) => EventId;
  /** How long another program that holds the books is waited for, ms; unless said, as long as a command waits. */
  readonly patience?: number;
};

export type Store = {
  /** The books up to the last event on disk, whoever wrote it. */
  readonly books: () => Books;
  /** Records what an intent wants, as of a moment when one is given; when it returns, the events are on disk. */
  readonly record: (intent: Intent, at?: string, trial?: Trial) => Result<readonly Event[]>;
  /** The name this station signs its events with. */
  readonly station: () => string;
  readonly newId: () => EventId;
  /** One of several that keep one house. */
  readonly sharesHouse: boolean;
  /** The running number of the last event this station recorded. */
  readonly ownNumber: () => number;
  /** What the log knows of an event, and of all that would turn with it, were it taken back; null when nobody knows it. */
  readonly traces: (id: EventId) => Traces | null;
  /** Takes in events that were recorded elsewhere; known ids are skipped. */
  readonly importEvents: (lines: Iterable<Incoming>) => Result<ImportOutcome>;
  /** The last events in the order they were recorded, newest first. */
  readonly log: (last: number) => readonly LoggedEvent[];
  readonly eventById: (id: string) => LoggedEvent | null;
  /** The event of a station by its running number; null when there is none. */
  readonly eventOfStation: (station: string, seq: number) => LoggedEvent | null;
  /** All events in the order of the fold. */
  readonly allEvents: () => Iterable<Event>;
  /**
   * The books as they were when a shift was sealed (or now, for the open one), as its own seal knew them, or as that of another
   * shift did.
   */
  readonly booksOfShift: (shift: string, knownBy?: string) => Books | null;
  /** What came after their seals for these shifts, where several stations keep the house: it changes nothing of what was sealed. */
  readonly cameAfter: (shifts: readonly string[]) => readonly LoggedEvent[];
  /** As the seal of a shift knew them, when one is named. Sealed shifts and the open one, oldest first; all, or the last ones (a report needs few, and the years hold many). */
  readonly shifts: (
    last?: number,
    knownBy?: string,
  ) => readonly {
    readonly id: EventId;
    readonly date: string;
    readonly openedAt: string;
    readonly sealed: boolean;
    readonly sealedAt: string | null;
    /** The seal that closed it. */
    readonly seal: EventId | null;
    /** Its openings, where stations opened it apart: each names it. */
    readonly openings: readonly EventId[];
  }[];
  /** What each of the last sealed shifts came to, oldest first, and the open one: from checkpoints, not from all events. */
  readonly shiftBooks: (last: number) => readonly ShiftBooks[];
  /** Whether a line of the till of some moment stands in the books, whichever station recorded it. */
  readonly isSold: (line: EventId, soldAt: string) => boolean;
  /** Lines of the till sold from one instant up to another, in order. */
  readonly sales: (from: string, to: string) => readonly Sale[];
  /** What was lost after one instant, up to another, in order; as the seal of a shift knew it, when one is named. */
  readonly losses: (after: string, to: string, knownBy?: string) => readonly Loss[];
  /** Notes on shifts and corrections of their reports, in the order they were made. */
  readonly remarks: (shifts: readonly string[]) => readonly Remark[];
  /** Everything that counts from one instant to another, in the order of the fold. */
  readonly between: (from: string, to: string, knownBy?: string) => readonly Event[];
  readonly check: (names: readonly string[], mark?: string) => readonly CheckFinding[];
  /** A short text that names the last event of every station; `check` proves from it that nothing up to there was changed or cut. */
  readonly mark: () => string;
  /** What an error that came out of here says of the books; null when they are sound, and it is a bug. */
  readonly explain: (error: unknown) => Problem | null;
  /** Why nothing can be recorded, when the books can only be read; else null. */
  readonly readOnly: () => Problem | null;
  /** How many lines of the log can't be read and count nowhere. */
  readonly setAside: () => number;
  readonly backup: (file: string) => Promise<Result<null>>;
  /** True when another process has written since `books` was last asked for. */
  readonly isStale: () => boolean;
  readonly close: () => void;
};

/** What a store needs from the outside: the clock, ids and the name of this station. */
export type StoreSetting = {
  readonly now: () => number;
  readonly newId: () => EventId;
  readonly station: () => string;
  /** The station is one of several that keep one house: its seals say how far they saw the others. */
  readonly sharesHouse?: boolean;
  /** The last own event that the house's server is known to hold: books that end before it were put back. */
  readonly confirmed?: () => number;
};
