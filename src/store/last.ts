// Which event "take back the last" means.
import type { Books } from '../domain/books.ts';
import type { LoggedEvent, Store } from './store.ts';

const skipped = new Set([
  'event-taken-back',
  'shift-sealed',
  'house-set',
  'item-written',
  'spec-written',
  'person-added',
  'person-left',
]);

/** The last event a person would take back: nothing of the catalogue, no seal, nothing already taken back. */
export function lastToTakeBack(store: Store, books: Books): LoggedEvent | null {
  const isWanted = ({ event, takenBack }: LoggedEvent): boolean =>
    !takenBack && !skipped.has(event.kind) && (books.sealedUntil === null || event.at > books.sealedUntil);
  for (const depth of [50, 1000, 20_000]) {
    const found = store.log(depth).find(isWanted);
    if (found !== undefined) return found;
  }
  return null;
}
