// Answers of the store that need no state of it: what is refused, what a row says, where new events begin to matter.
import { statSync } from 'node:fs';
import type { DatabaseSync } from 'node:sqlite';
import {
  compareEvents,
  type Event,
  type EventKey,
  type EventKind,
  type LoggedEvent,
  type Sale,
} from '../../domain/ledger/event.ts';
import { nightsOf, type ShiftMark } from '../../domain/ledger/shift-order.ts';
import { takeBacksAround } from '../../domain/ledger/take-back.ts';
import { epochOf } from '../../domain/value/clock-date.ts';
import type { EventId } from '../../domain/value/ids.ts';
import { type Result, refuse } from '../../domain/value/problem.ts';
import type { StoreSetting, Trial } from '../store.ts';
import { eventOfBody, type Rows } from './log/rows.ts';
import { MARKS_LOOKED_AT, MARKS_OF_A_NIGHT } from './log/statements.ts';
import { cameAfter, sightOf } from './log/unseen.ts';

export function rollBack(db: DatabaseSync): void {
  try {
    if (db.isTransaction) db.exec('ROLLBACK');
  } catch {
    // what failed has ended the transaction itself
  }
}

/** Ids as they are asked for: those of the trial, or new ones. */
export function idsOf({ newId }: StoreSetting, { idOf }: Trial): () => EventId {
  let next = 0;
  return idOf === undefined
    ? newId
    : () => {
        next += 1;
        return idOf(next - 1);
      };
}

export const ownMissing = refuse(
  'own-missing',
  'These books are older than what this station has sent to the server: its own events come back from there first. Run ullage sync.',
  75,
  'These books are older than what this station has sent to the server: its own events come back from there first.',
);

export const gone = (file: string): Result<never> =>
  refuse(
    'file-gone',
    `${file} was moved or replaced while it was open, so nothing is recorded. Put it back and start again.`,
    73,
  );

export function logged(row: { body: string; back: number } | undefined): LoggedEvent | null {
  const event = row === undefined ? null : eventOfBody(row.body);
  return row === undefined || event === null ? null : { event, takenBack: row.back === 1 };
}

/** Which file it is; null for books in memory. */
export const inodeOf = (file: string): number | null =>
  statSync(file, { throwIfNoEntry: false })?.ino ?? null;

export function isReplaced(file: string, inode: number | null): boolean {
  try {
    return inode !== null && statSync(file).ino !== inode;
  } catch {
    return true;
  }
}

/** The first moment that some new events say something of: their own, and those of what they turn. */
export function earliestChange(rows: Rows, events: readonly Event[]): EventKey | null {
  const keys = events.flatMap((event): EventKey[] => {
    if (event.kind !== 'event-taken-back') return [event];
    return [event, ...takeBacksAround(event.id, rows).flatMap(({ target }) => rows.keyOf(target) ?? [])];
  });
  return keys.sort(compareEvents)[0] ?? null;
}

/** Nights as they are, or as the seal of a shift knew them: what another station opened or sealed meanwhile parts none of them. */
export function shiftList(
  rows: Rows,
  aside: ReadonlySet<number>,
  last: number | undefined,
  knownBy: string | undefined,
) {
  const nights = nightsOf(marksAs(rows, aside, last, knownBy)).map(
    ({ id, date, openedAt, sealedAt, seal, openings }) => ({
      id,
      date,
      openedAt,
      sealed: sealedAt !== null,
      sealedAt,
      seal,
      openings,
    }),
  );
  return last === undefined ? nights : nights.slice(-last);
}

function marksAs(
  rows: Rows,
  aside: ReadonlySet<number>,
  last: number | undefined,
  knownBy: string | undefined,
): ShiftMark[] {
  const sight = sightFor(rows, knownBy);
  if (sight === null)
    return rows.shiftMarks(last === undefined ? -1 : last * MARKS_OF_A_NIGHT, aside).reverse();
  const { hidden, dead } = sight;
  return rows
    .everyShiftMark(aside)
    .reverse()
    .filter(({ id }) => !hidden.has(id) && !dead.has(id));
}

/** What the seal of a shift did not see; null when it saw all, or when no shift is named. */
function sightFor(rows: Rows, knownBy: string | undefined) {
  const seal = knownBy === undefined || !rows.hasUnseen() ? null : rows.seeingSealOf(knownBy);
  return seal === null ? null : sightOf(rows, seal);
}

/**
 * What came after the seal of a shift, of its own night: what came late for earlier nights stands beside those. And seals of the same
 * night that did not know of this one.
 */
export function cameAfterNight(rows: Rows, shift: string): Event[] {
  const seal = rows.seeingSealOf(shift);
  if (seal === null) return [];
  const marks = rows.shiftMarks(MARKS_LOOKED_AT, new Set());
  const nights = nightsOf([...marks].reverse());
  const at = nights.findIndex((night) => night.seal === seal.id || night.openings.includes(seal.of));
  const { openings = [] } = nights[at] ?? {};
  const before = nights[at - 1]?.seal ?? null;
  const from = before === null ? null : rows.keyOf(before);
  const isOfNight = (event: Event): boolean => {
    if (event.shift !== null && openings.includes(event.shift)) return true;
    const key = event.kind === 'event-taken-back' ? rows.keyOf(event.target) : event;
    return key !== null && (from === null || compareEvents(key, from) > 0);
  };
  const again = marks.filter(
    ({ id, of, also }) =>
      id !== seal.id && [of, ...also].some((one) => one !== null && openings.includes(one)),
  );
  const seals = again.flatMap(({ id }) => eventOfBody(rows.byId(id)?.body ?? '') ?? []);
  const late = cameAfter(rows, seal).filter((event) => event.kind !== 'shift-sealed' && isOfNight(event));
  return [...late, ...seals].sort(compareEvents);
}

export const notImported = refuse(
  'house-import',
  'In a house of several stations events come by the server. Run ullage sync; an export of another house goes into books of its own.',
);

type Stretch = (from: string, to: string) => Event[];
/**
 * Events of a stretch that ends with a seal, as that seal knew them: nothing it did not see, nothing of another station that only
 * bears the same moment. As they count now where no shift is named, or where its seal says nothing of what it saw.
 */
export function asKnown(rows: Rows, knownBy: string | undefined, now: Stretch, every: Stretch): Stretch {
  const seal = knownBy === undefined ? null : rows.seeingSealOf(knownBy);
  if (seal === null) return now;
  const sight = rows.hasUnseen() ? sightOf(rows, seal) : null;
  const isBefore = (event: Event): boolean => compareEvents(event, seal) <= 0;
  if (sight === null) return (from, to) => now(from, to).filter(isBefore);
  const { hidden, dead } = sight;
  return (from, to) =>
    every(from, to).filter((event) => isBefore(event) && !hidden.has(event.id) && !dead.has(event.id));
}

/** Where the thing that an event writes has its name, by kind. */
const namedAt: Partial<Record<EventKind, string>> = {
  'item-written': '$.item.id',
  'spec-written': '$.spec.id',
  'supplier-written': '$.supplier.id',
  'house-set': '$.key',
};

const A_DAY_MS = 86_400_000;

/** With what another station had written of the same thing within a day before: it may not have been known here. */
export function withReplaced(rows: Rows, one: LoggedEvent): LoggedEvent {
  const path = namedAt[one.event.kind];
  const before = path === undefined ? null : rows.versionBefore(one.event, path);
  const isApart = before !== null && before.station !== one.event.station;
  return !isApart || epochOf(one.event.at) - epochOf(before.at) > A_DAY_MS
    ? one
    : { ...one, replaces: { station: before.station, at: before.at } };
}

/** A line that two stations read from the same file, before they heard of each other, is one sale. */
export function eachLineOnce(sales: readonly Sale[]): readonly Sale[] {
  const seen = new Set<EventId>();
  return sales.filter(({ id, line = id }) => {
    if (seen.has(line)) return false;
    seen.add(line);
    return true;
  });
}
