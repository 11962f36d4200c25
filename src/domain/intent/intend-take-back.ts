// What may be taken back.
import { type Books, isOpen } from '../ledger/books.ts';
import type { Event, EventDraft } from '../ledger/event.ts';
import { done, type Result, refuse } from '../value/problem.ts';

/** Beside the books and not in them: taking these back changes nothing that was sealed. */
const movesNothing: ReadonlySet<Event['kind']> = new Set<Event['kind']>([
  'note-written',
  'report-corrected',
  'drink-sold',
  'till-name-matched',
  'readings-compared',
]);

/**
 * Takes one event back. What is sealed stays; a shift with pours in it stays; an event already taken back is not taken
 * back twice (take the take-back back instead).
 */
export function intendTakeBack(
  books: Books,
  target: Event | null,
  isTakenBack: boolean,
): Result<EventDraft[]> {
  if (target === null)
    return refuse(
      'nothing-to-take-back',
      'There is nothing to take back. Run ullage log to see what happened.',
    );
  if (isTakenBack)
    return refuse('taken-back', 'That was taken back before. Take back the take-back to restore it.');
  if (!movesNothing.has(target.kind) && books.sealedUntil !== null && target.at <= books.sealedUntil) {
    return refuse(
      'sealed',
      'That lies in a sealed shift and stays as it is. Record a correction as a new event.',
    );
  }
  if (target.kind === 'shift-opened' && books.shift?.id === target.id && hasNight(books)) {
    return refuse('shift-in-use', 'That shift has pours or counts in it. Take those back first, or seal it.');
  }
  const shift = isOpen(books.shift) ? books.shift.id : null;
  return done([
    {
      kind: 'event-taken-back',
      shift,
      by: isOpen(books.shift) ? books.shift.pouring : null,
      target: target.id,
    },
  ]);
}

const hasNight = (books: Books): boolean =>
  books.shift !== null &&
  (books.shift.recent.length > 0 ||
    [...books.stock.values()].some((s) => s.counted?.shift === books.shift?.id));
