// Appending to the log: drafts get their id, station, running number and moment, pass the one check, and go to the chain.

import type { Traces } from '../../../domain/intent/intend-take-back.ts';
import { admit, type Ground, groundOf, momentAfter, momentNow } from '../../../domain/intent/moment.ts';
import type { Books } from '../../../domain/ledger/books.ts';
import {
  besideKinds,
  compareEvents,
  type Event,
  type EventDraft,
  type EventKey,
} from '../../../domain/ledger/event.ts';
import { admitEvent, LARGEST_EVENT } from '../../../domain/ledger/event-door.ts';
import { itemsOf } from '../../../domain/ledger/event-names.ts';
import { isTakeBack, type Turned, turnedBy } from '../../../domain/ledger/take-back.ts';
import { canonicalJson } from '../../../domain/value/canonical.ts';
import type { EventId, ItemId } from '../../../domain/value/ids.ts';
import { done, type Problem, type Result, refuse, refuseAll } from '../../../domain/value/problem.ts';
import { harmless } from '../../../domain/value/text.ts';
import type { StoreSetting } from '../../store.ts';
import { eventOfBody, type Rows } from './rows.ts';

export const follows = (last: EventKey | null, events: readonly Event[]): boolean =>
  last === null || events.every((event) => compareEvents(last, event) < 0);

/** Appends drafts to the chain; `givenAt` is the moment of those that have none of their own. Call inside a transaction. */
export function append(
  rows: Rows,
  books: Books,
  drafts: readonly EventDraft[],
  givenAt: string | undefined,
  setting: StoreSetting,
  now: string,
): Result<readonly Event[]> {
  const station = setting.station();
  const own = rows.lastOfStation(station);
  let { seq, hash } = own;
  // What was seen of other stations lies before what is recorded here now.
  let lastAt = latest(own.at, momentAfter(books.last, station));
  const written = new Map<ItemId, string>();
  const ground = withWritten(groundOf(books, now), written);
  const events: Event[] = [];
  for (const draft of drafts) {
    const id = draft.id ?? setting.newId();
    // Recorded before, by a try whose answer was lost, or in another file.
    if (rows.byId(id) !== undefined) continue;
    const given = draft.at ?? givenAt;
    const moment =
      given === undefined
        ? momentNow(now, lastAt, besideKinds.has(draft.kind) ? null : books.sealedUntil)
        : draft.kind === 'shift-sealed' && setting.sharesHouse === true
          ? momentNow(given, lastAt, null)
          : given;
    if (given === undefined) lastAt = moment;
    seq += 1;
    // An older card may have a control in its name, and is poured all the same.
    const made = admitEvent({
      ...harmless(draft),
      ...(draft.kind === 'shift-sealed' && setting.sharesHouse === true ? { seen: seenBy(rows) } : {}),
      id,
      at: moment,
      station,
      seq,
    });
    // The last door before the disk: what the books could not read again is never written.
    if (!made.ok)
      return refuse(
        'bad-event',
        `That cannot be recorded (${made.reason.slice(0, 120)}). Mend it and try again.`,
      );
    const { event } = made;
    const against = unfit(event, given === undefined ? { ...ground, now: moment } : ground);
    if (against !== null) return refuseAll([against]);
    if (event.kind === 'item-written' && !written.has(event.item.id)) written.set(event.item.id, event.at);
    // Asked before it stands in the log itself.
    const body = canonicalJson(event);
    if (body.length > LARGEST_EVENT)
      return refuse('long-event', 'That is more than one event can hold. Write it shorter, or in parts.');
    const turned = isTakeBack(event) ? turnedBy(event, rows) : null;
    hash = rows.insert(event, body, hash);
    if (turned !== null) settle(rows, turned);
    else if (!follows(books.last, [event])) rows.dropCheckpoints(event);
    events.push(event);
  }
  return done(events);
}

const latest = (a: string, b: string): string => (a > b ? a : b);

/** How far each station is known here. */
const seenBy = (rows: Rows): Record<string, number> =>
  Object.fromEntries(rows.heads().map(({ station, seq }) => [station, seq]));

const unfit = (event: Event, ground: Ground): Problem | null => admit(event, itemsOf(event), ground);

/** Items that the same command writes are known to what it records after them. */
const withWritten = (ground: Ground, written: ReadonlyMap<ItemId, string>): Ground => ({
  ...ground,
  knownSince: (item) => ground.knownSince(item) ?? written.get(item) ?? null,
});

/** Marks what no longer counts and what counts again; what was summed up over any of it is forgotten. */
function settle(rows: Rows, { dies, lives }: Turned): void {
  for (const [ids, isBack] of [
    [dies, true],
    [lives, false],
  ] as const) {
    for (const id of ids) {
      if (rows.byId(id) === undefined) continue;
      rows.setTakenBack(id, isBack);
      const key = rows.keyOf(id);
      if (key !== null) rows.dropCheckpoints(key);
    }
  }
}

/** What the log knows of an event that may be taken back. */
export function tracesOf(rows: Rows, id: EventId): Traces | null {
  const row = rows.byId(id);
  const target = row === undefined ? null : eventOfBody(row.body);
  if (row === undefined || target === null) return null;
  // No event has this id: it stands for the take-back that is not written yet.
  const more = { id: '' as EventId, target: id };
  const eventsOf = (ids: readonly EventId[]): Event[] =>
    ids.flatMap((one) => {
      const known = rows.byId(one);
      return known === undefined ? [] : (eventOfBody(known.body) ?? []);
    });
  const { dies, lives } = turnedBy(more, rows);
  return {
    target,
    isTakenBack: row.back === 1,
    dies: eventsOf(dies),
    lives: eventsOf(lives),
    isAlive: (one) => rows.byId(one)?.back === 0,
    isInUse: (shift) => rows.isInUse(shift, eventsOf([shift])[0]?.at ?? ''),
    versions: (event) => rows.catalogue().filter((each) => isSameThing(each, event)),
    isNamed: (person) => rows.isNamed(person),
    isRemarked: (item) => rows.isRemarked(item),
    isMarked: (spec) => rows.isMarked(spec),
    isThrownAway: (lot) => rows.isThrownAway(lot),
  };
}

/** Two events that write the same item, card, person or setting. */
function isSameThing(a: Event, b: Event): boolean {
  const nameOf = (event: Event): string | null => {
    if (event.kind === 'item-written') return `item ${event.item.id}`;
    if (event.kind === 'spec-written') return `spec ${event.spec.id}`;
    if (event.kind === 'person-added') return `person ${event.person}`;
    return event.kind === 'house-set' ? `setting ${event.key}` : null;
  };
  return nameOf(a) !== null && nameOf(a) === nameOf(b);
}
