// The fold from nothing: a whole set of events, in any order, as one would do it by hand. What the store does in parts equals it.
import type { Books } from '../../src/domain/ledger/books.ts';
import { compareEvents, type Event } from '../../src/domain/ledger/event.ts';
import { foldInOrder } from '../../src/domain/ledger/ledger.ts';
import { isTakeBack, takenBack } from '../../src/domain/ledger/take-back.ts';

/** Folds a whole set of events, in any order, onto books that hold everything before them. */
export function foldEvents(start: Books, events: Iterable<Event>): Books {
  const all = [...events];
  const dead = takenBack(all.filter(isTakeBack));
  return foldInOrder(start, all.filter((event) => !dead.has(event.id)).sort(compareEvents));
}
