// Taps that could not be written: kept in the order they were made, shown apart from what is saved, and tried again. What each
// would record, when it was made and under which ids is fixed before the first try, so that a try that succeeded unheard is not
// recorded a second time.
import type { Intent } from '../../domain/intent/intent.ts';
import type { Books } from '../../domain/ledger/books.ts';
import type { Event, EventDraft } from '../../domain/ledger/event.ts';
import type { EventId } from '../../domain/value/ids.ts';
import { done, type Problem, type Result, saidInRooms } from '../../domain/value/problem.ts';

/** Something that is to be recorded, as one try after another sees it. */
export type Ticket = {
  readonly intent: Intent;
  /** When it was tapped. */
  readonly at: string;
  readonly idOf: (index: number) => EventId;
};

export type HeldTap = Ticket & {
  /** What it would record, as far as the books were known when it was tapped. */
  readonly events: readonly Event[];
  /** Why the books won't have it, though they can be written: it stays until somebody takes it out or writes it elsewhere. */
  readonly refused: Problem | null;
  /** What was typed for it, to be taken up again should it be refused after all. */
  readonly typed: string | null;
};

/** It may go through a little later. */
const passing: ReadonlySet<string> = new Set([
  'disk-full',
  'disk-error',
  'busy',
  'cannot-write',
  'own-missing',
]);
/** Nobody knows what the disk holds, or it holds nothing any more: nothing more is taken until that is cleared. */
const stopping: ReadonlySet<string> = new Set(['not-synced', 'file-gone']);

export const isHeldFor = ({ code }: Problem): boolean => passing.has(code) || stopping.has(code);
export const stops = ({ code }: Problem): boolean => stopping.has(code);

const reasons: Readonly<Record<string, string>> = {
  'disk-full': 'The disk is full: free some space.',
  'disk-error': 'The disk failed: look at it.',
  busy: 'Another program holds the books.',
  'own-missing': 'Events of this station come back from the server first.',
  'cannot-write': "The books can't be written: mend their rights.",
};

/** Why a tap waits, and what becomes of it. */
export const whyHeld = (problem: Problem): string =>
  stops(problem)
    ? `${saidInRooms(problem)} Nothing more is taken; ^C offers to write everything to a file.`
    : `${reasons[problem.code] ?? saidInRooms(problem)} It is kept and tried again.`;

/** A ticket for an intent: its moment now, its ids made as they are needed and the same ever after. */
export function ticketOf(intent: Intent, at: string, newId: () => EventId): Ticket {
  const ids: EventId[] = [];
  const idOf = (index: number): EventId => {
    for (let next = ids.length; next <= index; next += 1) ids.push(newId());
    return ids[index] as EventId;
  };
  return { intent, at, idOf };
}

/** What a ticket would record on these books: events that stand nowhere yet, numbered after those that do. */
export function unsavedEvents(
  { intent, at, idOf }: Ticket,
  books: Books,
  station: string,
  after: number,
): Result<readonly Event[]> {
  const drafts = intent(books, at);
  if (!drafts.ok) return drafts;
  return done(
    drafts.value.map((draft: EventDraft, index) => {
      const id = draft.id ?? idOf(index);
      return { ...draft, id, at: draft.at ?? at, station, seq: after + index + 1 };
    }),
  );
}

export const heldText = (count: number): string => `NOT SAVED: ${count} tap${count === 1 ? '' : 's'}`;
