// Which event "take back the last" means.

import { intendTakeBack } from '../domain/intent/intend-take-back.ts';
import { intendEach } from '../domain/intent/intent.ts';
import type { Books } from '../domain/ledger/books.ts';
import type { Event, EventKind, LoggedEvent } from '../domain/ledger/event.ts';
import type { EventId } from '../domain/value/ids.ts';
import { done, type Result, refuse } from '../domain/value/problem.ts';
import { clean } from '../domain/value/text.ts';
import type { Store } from './store.ts';

/** What a window writes into the Book it takes back as it takes back a pour; what came in with a file is no last tap. */
const written: ReadonlySet<EventKind> = new Set<EventKind>([
  'house-set',
  'item-written',
  'spec-written',
  'person-added',
  'person-left',
  'sheet-matched',
  'supplier-written',
  'night-expected',
]);

/** A seal stays, a take-back is taken back by its own id; the Book and the till's lines come in as whole files. */
const skipped: ReadonlySet<EventKind> = new Set<EventKind>([
  ...written,
  'drink-sold',
  'event-taken-back',
  'shift-sealed',
]);

/** Which events a window may take back without naming them; `mine` when it recorded it itself. */
export type IsOurs = (id: EventId) => 'mine' | boolean;
const anybodys: IsOurs = () => true;

/** What a window may: its own events, and what stood there when it opened; never what another one records meanwhile. */
export function oursAt(store: Store): {
  readonly isOurs: IsOurs;
  readonly note: (events: readonly Event[]) => void;
} {
  const newest =
    store
      .log(RECENT)
      .map(({ event }) => event.id)
      .sort()
      .at(-1) ?? '';
  const mine = new Set<EventId>();
  return {
    isOurs: (id) => (mine.has(id) ? 'mine' : id <= newest),
    note: (events) => {
      for (const { id } of events) mine.add(id);
    },
  };
}
/** The newest id is among so many newest events: ids grow with the time of recording, a late entry lies not far back. */
const RECENT = 50;

/** The last event a person would take back: nothing of the catalogue, no seal, nothing already taken back. */
export function lastToTakeBack(store: Store, books: Books, isOurs: IsOurs = anybodys): LoggedEvent | null {
  const isWanted = ({ event, takenBack }: LoggedEvent): boolean =>
    !takenBack &&
    // Another station's hand is not this one's to take back unasked.
    (!store.sharesHouse || event.station === store.station()) &&
    isOurs(event.id) !== false &&
    (!skipped.has(event.kind) || (written.has(event.kind) && isOurs(event.id) === 'mine')) &&
    (books.sealedUntil === null || event.at > books.sealedUntil);
  for (let depth = 50; ; depth *= 20) {
    const newest = store.log(depth);
    const found = newest.find(isWanted);
    if (found !== undefined || newest.length < depth) return found ?? null;
  }
}

/** Events of one round, or of one order that came, in order, those that still count; an event alone is a round of its own. */
function roundOf(store: Store, { event, takenBack }: LoggedEvent): LoggedEvent[] {
  const place = 'round' in event ? event.round : undefined;
  if (place === undefined) return [{ event, takenBack }];
  const first = event.seq - place.at;
  return Array.from({ length: place.of }, (_, at) =>
    store.eventOfStation(event.station, first + at + 1),
  ).flatMap((each) => (each === null || each.takenBack ? [] : [each]));
}

export type TookBack = {
  readonly took: readonly [Event, ...Event[]];
  /** The take-backs that were recorded, in the same order. */
  readonly by: readonly [Event, ...Event[]];
};

/** One event taken back, or the last round when none is named; says what it was and what recorded it. */
export function takeBackOne(
  store: Store,
  id: string | null,
  { at, isOurs }: { readonly at?: string | undefined; readonly isOurs?: IsOurs } = {},
): Result<TookBack> {
  const found: { took: Event[] } = { took: [] };
  const result = store.record((books, now) => {
    const target = id === null ? lastToTakeBack(store, books, isOurs) : store.eventById(id);
    if (id !== null && target === null)
      return refuse(
        'unknown-event',
        `No event has the id "${clean(id).slice(0, 40)}". Run ullage log to see the ids.`,
      );
    if (target === null) return intendTakeBack(books, null, now);
    const targets = id === null ? roundOf(store, target) : [target];
    found.took = targets.map(({ event }) => event);
    return intendEach(books, targets, (_, { event }) => intendTakeBack(books, store.traces(event.id), now));
  }, at);
  if (!result.ok) return result;
  const [took, ...others] = found.took;
  const [by, ...rest] = result.value;
  if (took === undefined || by === undefined) throw new Error('a take-back recorded nothing');
  return done({ took: [took, ...others], by: [by, ...rest] });
}
