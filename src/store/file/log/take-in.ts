// Taking in what other stations of the house recorded, as it stands: every line must go on its station's chain and pass the door.
// What it means is the fold's to say; nothing here refuses an event because of what it finds in these books.
import { compareEvents, type Event, type EventKey } from '../../../domain/ledger/event.ts';
import { admitEvent, envelopeOf } from '../../../domain/ledger/event-door.ts';
import { takeBacksAround, takenBack } from '../../../domain/ledger/take-back.ts';
import { canonicalJson } from '../../../domain/value/canonical.ts';
import type { EventId } from '../../../domain/value/ids.ts';
import { done, type Result, refuse } from '../../../domain/value/problem.ts';
import { chainHash } from '../../chain.ts';
import type { SharedRow } from '../../exchange.ts';
import type { Rows } from './rows.ts';
import { noteUnseen } from './unseen.ts';

/** Takes rows in, in the order they come; all or, inside of the caller's transaction, none. How many were new. */
export function takeIn(rows: Rows, incoming: readonly SharedRow[]): Result<number> {
  const added: Event[] = [];
  let unknown = 0;
  for (const row of incoming) {
    const head = rows.lastOfStation(row.station);
    if (row.seq <= head.seq) {
      if (rows.hashOf({ at: '', ...row }) !== row.hash) return forked(row);
      continue;
    }
    if (row.seq !== head.seq + 1)
      return refuse(
        'shared-gap',
        `Of station ${row.station} the server gives event ${row.seq} after ${head.seq}: some are missing. Ask who keeps the server to run ullage server check.`,
        65,
      );
    if (row.hash !== chainHash(head.hash, row.body)) return tampered(row);
    const read = readRow(row);
    if (!read.ok) return read;
    const line = read.value;
    if (rows.byId(line.id) !== undefined) return forked(row);
    rows.insert(line, row.body, head.hash);
    if (line.event === null) {
      unknown += 1;
      continue;
    }
    added.push(line.event);
  }
  if (added.length > 0) settleAll(rows, added);
  return done(added.length + unknown);
}

type Row = Pick<Event, 'id' | 'at' | 'station' | 'seq' | 'kind' | 'shift'> & { readonly event: Event | null };

/**
 * An event, or one that this version does not understand: a newer station may write such, and it must not stop the house. It is kept
 * as it is and counts nowhere, as every line that can't be read.
 */
function readRow(row: SharedRow): Result<Row> {
  const data = parsed(row.body);
  const made = admitEvent(data);
  const event = made.ok ? made.event : null;
  const envelope = made.ok ? made.event : envelopeOf(data);
  if (envelope === null)
    return refuse(
      'shared-unreadable',
      `Event ${row.seq} of station ${row.station} on the server is none. Nothing of it was taken in; ask who keeps the server to run ullage server check.`,
      78,
    );
  const { id, at, station, seq, kind, shift } = envelope;
  return station === row.station && seq === row.seq && canonicalJson(data) === row.body
    ? done({ id, at, station, seq, kind, shift, event })
    : tampered(row);
}

function parsed(body: string): unknown {
  try {
    return JSON.parse(body);
  } catch {
    return null;
  }
}

const tampered = ({ station, seq }: SharedRow): Result<never> =>
  refuse(
    'shared-altered',
    `Event ${seq} of station ${station} was altered on the server or on the way: it does not go on that station's chain. Nothing of it was taken in; ask who keeps the server to run ullage server check.`,
    65,
  );

const forked = ({ station, seq }: SharedRow): Result<never> =>
  refuse(
    'shared-forked',
    `Station ${station} has two different events of the number ${seq}, here and on the server. Nothing was changed; see "Two of one number" in the README.`,
    65,
  );

/** What follows from new events: what counts, what came too late for a seal, what was summed up and is no longer so. */
function settleAll(rows: Rows, added: readonly Event[]): void {
  const touched: EventKey[] = [...added];
  for (const { id } of added) touched.push(...settleBacks(rows, id));
  noteUnseen(rows, added);
  const first = touched.sort(compareEvents)[0];
  if (first !== undefined) rows.dropCheckpoints(first);
}

/** Marks what one more event turns, itself too when a take-back of it came first. Where each of those stands. */
function settleBacks(rows: Rows, id: EventId): EventKey[] {
  const around = takeBacksAround(id, rows);
  if (around.length === 0) return [];
  const dead = takenBack(around);
  const turned: EventKey[] = [];
  for (const one of new Set(around.flatMap((back) => [back.id, back.target]))) {
    const known = rows.byId(one);
    const key = rows.keyOf(one);
    if (known === undefined || key === null || (known.back === 1) === dead.has(one)) continue;
    rows.setTakenBack(one, dead.has(one));
    turned.push(key);
  }
  return turned;
}
