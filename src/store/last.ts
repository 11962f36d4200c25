// Which event "take back the last" means.

import { intendTakeBack } from '../domain/intent/intend-take-back.ts';
import type { Books } from '../domain/ledger/books.ts';
import type { Event, EventKind, LoggedEvent } from '../domain/ledger/event.ts';
import { done, type Result, refuse } from '../domain/value/problem.ts';
import { clean } from '../domain/value/text.ts';
import type { Store } from './store.ts';

/** A seal stays, a take-back is taken back by its own id; the catalogue and the till's lines come in as whole files. */
const skipped: ReadonlySet<EventKind> = new Set<EventKind>([
  'house-set',
  'item-written',
  'spec-written',
  'person-added',
  'person-left',
  'drink-sold',
  'event-taken-back',
  'shift-sealed',
]);

/** The last event a person would take back: nothing of the catalogue, no seal, nothing already taken back. */
export function lastToTakeBack(store: Store, books: Books): LoggedEvent | null {
  const isWanted = ({ event, takenBack }: LoggedEvent): boolean =>
    !takenBack && !skipped.has(event.kind) && (books.sealedUntil === null || event.at > books.sealedUntil);
  for (let depth = 50; ; depth *= 20) {
    const newest = store.log(depth);
    const found = newest.find(isWanted);
    if (found !== undefined || newest.length < depth) return found ?? null;
  }
}

/** One event taken back, or the last when none is named; says which it was and what recorded it. */
export function takeBackOne(
  store: Store,
  id: string | null,
  at?: string,
): Result<{ readonly took: Event; readonly by: Event }> {
  const found: { took: Event | null } = { took: null };
  const result = store.record((books, now) => {
    const target = id === null ? lastToTakeBack(store, books) : store.eventById(id);
    if (id !== null && target === null)
      return refuse(
        'unknown-event',
        `No event has the id "${clean(id).slice(0, 40)}". Run ullage log to see the ids.`,
      );
    found.took = target?.event ?? null;
    return intendTakeBack(books, target === null ? null : store.traces(target.event.id), now);
  }, at);
  if (!result.ok) return result;
  const [by] = result.value;
  if (found.took === null || by === undefined) throw new Error('a take-back recorded nothing');
  return done({ took: found.took, by });
}
