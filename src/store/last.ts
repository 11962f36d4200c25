// Which event "take back the last" means.
import type { Books } from '../domain/ledger/books.ts';
import type { EventKind, LoggedEvent } from '../domain/ledger/event.ts';
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
