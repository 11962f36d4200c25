// The SQL of the books in one place: every statement is prepared once and takes its values bound.

import type { DatabaseSync, StatementSync } from 'node:sqlite';
import {
  besideKinds,
  catalogueKinds,
  type Event,
  type EventKey,
  parseEvent,
} from '../../../domain/ledger/event.ts';
import type { ShiftMark } from '../../../domain/ledger/shift-order.ts';
import type { TakeBack } from '../../../domain/ledger/take-back.ts';
import type { EventId, ItemId, PersonId } from '../../../domain/value/ids.ts';
import { CHAIN_START, chainHash } from './chain.ts';

const PAGE = 5000;
// The words of the partial index in schema.ts: the two must say the same for it to be used.
const catalogueFilter = `kind IN (${catalogueKinds.map((kind) => `'${kind}'`).join(', ')})`;
const beside = [...besideKinds].map((kind) => `'${kind}'`).join(', ');
const alive = 'NOT EXISTS (SELECT 1 FROM taken_back WHERE taken_back.id = event.id)';
const firstKey: EventKey = { at: '', station: '', seq: 0 };

export type CheckpointRow = { at: string; station: string; seq: number; body: string };
export type EventRow = {
  id: string;
  at: string;
  station: string;
  seq: number;
  kind: string;
  shift: string | null;
  body: string;
  hash: string;
};

export type Rows = ReturnType<typeof prepareRows>;

/**
 * One stored event, checked against its schema; null for a line that is none, by damage or from a time when more was let in. Such
 * a line is set aside: it counts nowhere, it stays where it is, and `check` names it.
 */
export function eventOfBody(body: string): Event | null {
  try {
    const parsed = parseEvent(JSON.parse(body));
    return parsed.ok ? parsed.event : null;
  } catch {
    return null;
  }
}

const eventsOf = (rows: readonly { readonly body: string }[]): Event[] =>
  rows.flatMap(({ body }) => eventOfBody(body) ?? []);

export type NumberedEvent = { readonly number: number; readonly event: Event };

export function prepareRows(db: DatabaseSync) {
  const prepared = new Map<string, StatementSync>();
  const sql = (text: string): StatementSync => {
    const known = prepared.get(text) ?? db.prepare(text);
    prepared.set(text, known);
    return known;
  };
  const all = <T>(text: string, ...values: (string | number)[]): T[] => sql(text).all(...values) as T[];
  const first = <T>(text: string, ...values: (string | number)[]): T | undefined =>
    sql(text).get(...values) as T | undefined;

  /** Everything that counts after a key, in the order of the fold; `onBad` hears of the lines that can't be read. */
  function* livingEvents(
    after: EventKey | null,
    onBad: (number: number) => void = () => undefined,
  ): Generator<NumberedEvent> {
    let key = after ?? firstKey;
    for (;;) {
      const page = all<EventKey & { number: number; body: string }>(
        `SELECT number, at, station, seq, body FROM event WHERE (at, station, seq) > (?, ?, ?) AND ${alive} ORDER BY at, station, seq LIMIT ${PAGE}`,
        key.at,
        key.station,
        key.seq,
      );
      for (const { number, body } of page) {
        const event = eventOfBody(body);
        if (event === null) onBad(number);
        else yield { number, event };
      }
      key = page.at(-1) ?? key;
      if (page.length < PAGE) return;
    }
  }

  return {
    livingEvents,
    catalogueUpTo: (key: EventKey): Event[] =>
      eventsOf(
        all(
          `SELECT body FROM event WHERE ${catalogueFilter} AND (at, station, seq) <= (?, ?, ?) AND ${alive} ORDER BY at, station, seq`,
          key.at,
          key.station,
          key.seq,
        ),
      ),
    *allEvents(): Generator<Event> {
      for (const row of sql('SELECT body FROM event ORDER BY at, station, seq').iterate()) {
        const event = eventOfBody(String((row as { body: string }).body));
        if (event !== null) yield event;
      }
    },
    *allRows(): Generator<EventRow> {
      for (const row of sql(
        'SELECT id, at, station, seq, kind, shift, body, hash FROM event ORDER BY station, seq',
      ).iterate())
        yield row as EventRow;
    },
    after: (number: number): { number: number; body: string }[] =>
      all('SELECT number, body FROM event WHERE number > ? ORDER BY number', number),
    lastNumber: (): number => first<{ n: number | null }>('SELECT max(number) AS n FROM event')?.n ?? 0,
    newest: (last: number): { body: string; back: number }[] =>
      all(
        'SELECT body, EXISTS (SELECT 1 FROM taken_back t WHERE t.id = event.id) AS back FROM event ORDER BY number DESC LIMIT ?',
        last,
      ),
    byId: (id: string): { number: number; body: string; back: number } | undefined =>
      first(
        'SELECT number, body, EXISTS (SELECT 1 FROM taken_back t WHERE t.id = event.id) AS back FROM event WHERE id = ?',
        id,
      ),
    keyOf: (id: string): EventKey | null =>
      first<EventKey>('SELECT at, station, seq FROM event WHERE id = ?', id) ?? null,
    bySeq: (station: string, seq: number): { body: string; back: number } | undefined =>
      first(
        'SELECT body, EXISTS (SELECT 1 FROM taken_back t WHERE t.id = event.id) AS back FROM event WHERE station = ? AND seq = ?',
        station,
        seq,
      ),
    lastOfStation: (station: string): { at: string; seq: number; hash: string } =>
      first<{ at: string; seq: number; hash: string }>(
        'SELECT at, seq, hash FROM event WHERE station = ? ORDER BY seq DESC LIMIT 1',
        station,
      ) ?? {
        at: '',
        seq: 0,
        hash: CHAIN_START,
      },
    insert(event: Event, body: string, previousHash: string): string {
      const hash = chainHash(previousHash, body);
      sql(
        'INSERT INTO event (id, at, station, seq, kind, shift, body, hash) VALUES (?, ?, ?, ?, ?, ?, ?, ?)',
      ).run(event.id, event.at, event.station, event.seq, event.kind, event.shift, body, hash);
      return hash;
    },
    takeBacks: (): TakeBack[] =>
      all<TakeBack>(
        `SELECT id, json_extract(body, '$.target') AS target FROM event WHERE kind = 'event-taken-back'`,
      ),
    /** Everything that counts and describes the house. */
    catalogue: (): Event[] =>
      eventsOf(all(`SELECT body FROM event WHERE ${catalogueFilter} AND ${alive} ORDER BY at, station, seq`)),
    takenBackIds: (): EventId[] => all<{ id: EventId }>('SELECT id FROM taken_back').map(({ id }) => id),
    /** What a take-back names; null when the event is none. */
    targetOf: (id: EventId): EventId | null =>
      first<{ target: EventId }>(
        `SELECT json_extract(body, '$.target') AS target FROM event WHERE id = ? AND kind = 'event-taken-back'`,
        id,
      )?.target ?? null,
    /** The take-backs that name an event, whether they count or not. */
    backsOf: (id: EventId): EventId[] =>
      all<{ id: EventId }>(
        `SELECT id FROM event WHERE kind = 'event-taken-back' AND json_extract(body, '$.target') = ?`,
        id,
      ).map((row) => row.id),
    /** Something that counts was recorded in a shift that opened at that moment; take-backs do not use it. */
    isInUse: (shift: EventId, openedAt: string): boolean =>
      first(
        `SELECT 1 AS yes FROM event WHERE at >= ? AND shift = ? AND kind <> 'event-taken-back' AND ${alive} LIMIT 1`,
        openedAt,
        shift,
      ) !== undefined,
    /** Something that counts was recorded by a person, hands over to them, or says that they left. */
    isNamed: (person: PersonId): boolean =>
      first(
        `SELECT 1 AS yes FROM event WHERE (json_extract(body, '$.by') = ?1 OR json_extract(body, '$.to') = ?1 OR (kind = 'person-left' AND json_extract(body, '$.person') = ?1)) AND ${alive} LIMIT 1`,
        person,
      ) !== undefined,
    /** Something that counts says something of an item without moving it: a note, a correction, a comparison. */
    isRemarked: (item: ItemId): boolean =>
      first(
        `SELECT 1 AS yes FROM event WHERE kind IN ('note-written', 'report-corrected', 'readings-compared') AND json_extract(body, '$.item') = ? AND ${alive} LIMIT 1`,
        item,
      ) !== undefined,
    setTakenBack(id: string, back: boolean): void {
      if (back) sql('INSERT OR IGNORE INTO taken_back (id) VALUES (?)').run(id);
      else sql('DELETE FROM taken_back WHERE id = ?').run(id);
    },
    replaceTakenBack(ids: Iterable<EventId>): void {
      db.exec('DELETE FROM taken_back');
      for (const id of ids) sql('INSERT INTO taken_back (id) VALUES (?)').run(id);
    },
    /** The last checkpoint before a key; the last of all when none is given. */
    checkpointBefore: (key: EventKey | null): CheckpointRow | undefined =>
      key === null
        ? first(
            'SELECT at, station, seq, body FROM checkpoint ORDER BY at DESC, station DESC, seq DESC LIMIT 1',
          )
        : first(
            'SELECT at, station, seq, body FROM checkpoint WHERE (at, station, seq) < (?, ?, ?) ORDER BY at DESC, station DESC, seq DESC LIMIT 1',
            key.at,
            key.station,
            key.seq,
          ),
    /** The hash of one event; null when it is not there. */
    hashOf: (key: EventKey): string | null =>
      first<{ hash: string }>('SELECT hash FROM event WHERE station = ? AND seq = ?', key.station, key.seq)
        ?.hash ?? null,
    /** The last event of every station. */
    heads: (): { station: string; seq: number; hash: string }[] =>
      all(
        'SELECT station, seq, hash FROM event WHERE (station, seq) IN (SELECT station, max(seq) FROM event GROUP BY station) ORDER BY station',
      ),
    /** Lines that are no events, with where they stand. */
    *unreadable(): Generator<{ number: number; station: string; seq: number }> {
      for (const row of sql('SELECT number, station, seq, body FROM event').iterate()) {
        const { number, station, seq, body } = row as {
          number: number;
          station: string;
          seq: number;
          body: string;
        };
        if (eventOfBody(body) === null) yield { number, station, seq };
      }
    },
    /** Take-backs recorded after a number whose target is not there. */
    withoutTarget: (after: number): { number: number; target: string }[] =>
      all(
        `SELECT number, json_extract(body, '$.target') AS target FROM event AS back WHERE number > ? AND kind = 'event-taken-back' AND NOT EXISTS (SELECT 1 FROM event WHERE event.id = json_extract(back.body, '$.target')) LIMIT 20`,
        after,
      ),
    checkpointOfShift: (shift: string): CheckpointRow | undefined =>
      first('SELECT at, station, seq, body FROM checkpoint WHERE shift = ? ORDER BY at DESC LIMIT 1', shift),
    lastShifts: (last: number): (CheckpointRow & { shift: string })[] =>
      all(
        'SELECT at, station, seq, shift, body FROM checkpoint WHERE shift IS NOT NULL ORDER BY at DESC, station DESC, seq DESC LIMIT ?',
        last,
      ),
    /** Where the seal of a shift stands; null when there is none that counts. */
    sealOf: (shift: string): EventKey | null =>
      first<EventKey>(
        `SELECT at, station, seq FROM event INDEXED BY event_shift WHERE kind = 'shift-sealed' AND json_extract(body, '$.of') = ? AND kind IN ('shift-opened', 'shift-sealed') AND ${alive} ORDER BY at DESC LIMIT 1`,
        shift,
      ) ?? null,
    /** Where the next shift opens after the opening of one; null when none does, or that one is not there. */
    openingAfter: (shift: string): EventKey | null =>
      first<EventKey>(
        `SELECT event.at, event.station, event.seq FROM event INDEXED BY event_shift, event AS opening WHERE opening.id = ? AND event.kind = 'shift-opened' AND event.kind IN ('shift-opened', 'shift-sealed') AND (event.at, event.station, event.seq) > (opening.at, opening.station, opening.seq) AND ${alive} ORDER BY event.at, event.station, event.seq LIMIT 1`,
        shift,
      ) ?? null,
    /** The last seals that count, oldest first. */
    lastSeals: (last: number): (EventKey & { shift: string })[] =>
      all<EventKey & { shift: string }>(
        `SELECT at, station, seq, json_extract(body, '$.of') AS shift FROM event INDEXED BY event_shift WHERE kind = 'shift-sealed' AND kind IN ('shift-opened', 'shift-sealed') AND ${alive} ORDER BY at DESC, station DESC, seq DESC LIMIT ?`,
        last,
      ).reverse(),
    addCheckpoint(key: EventKey, shift: string | null, date: string | null, body: string): void {
      sql(
        'INSERT OR REPLACE INTO checkpoint (at, station, seq, shift, date, body) VALUES (?, ?, ?, ?, ?, ?)',
      ).run(key.at, key.station, key.seq, shift, date, body);
    },
    dropCheckpoint(key: EventKey): void {
      sql('DELETE FROM checkpoint WHERE at = ? AND station = ? AND seq = ?').run(
        key.at,
        key.station,
        key.seq,
      );
    },
    /** Forgets every checkpoint at or after a key: what they summed up has changed. */
    dropCheckpoints(from: EventKey): void {
      sql('DELETE FROM checkpoint WHERE (at, station, seq) >= (?, ?, ?)').run(
        from.at,
        from.station,
        from.seq,
      );
    },
    dropAllCheckpoints: (): void => db.exec('DELETE FROM checkpoint'),
    /**
     * Opened shifts and what sealed them, in order: read as columns, because the years hold many and a report needs few of
     * them. The index is named, because the planner would rather walk all events in order than sort these few.
     */
    shiftMarks: (last: number, aside: ReadonlySet<number>): (ShiftMark & { readonly id: EventId })[] =>
      all<ShiftMark & { readonly id: EventId; readonly number: number }>(
        `SELECT number, id, at, json_extract(body, '$.date') AS date, json_extract(body, '$.of') AS "of" FROM event INDEXED BY event_shift WHERE kind IN ('shift-opened', 'shift-sealed') AND ${alive} ORDER BY at DESC, station DESC, seq DESC LIMIT ?`,
        last,
      ).filter(({ number }) => !aside.has(number)),
    /** What counts of a night whose opening does not: the first few. */
    withoutShift: (): EventId[] =>
      all<{ id: EventId }>(
        `SELECT id FROM event WHERE shift IS NOT NULL AND kind NOT IN (${beside}) AND ${alive} AND shift NOT IN (SELECT id FROM event INDEXED BY event_shift WHERE kind IN ('shift-opened', 'shift-sealed') AND ${alive}) LIMIT 20`,
      ).map(({ id }) => id),
    /** Lines of the till sold from one instant up to another. */
    sales: (from: string, to: string): Event[] =>
      eventsOf(
        all(
          `SELECT body FROM event WHERE kind = 'drink-sold' AND json_extract(body, '$.soldAt') >= ? AND json_extract(body, '$.soldAt') < ? AND ${alive} ORDER BY json_extract(body, '$.soldAt'), seq`,
          from,
          to,
        ),
      ),
    /** Notes on shifts and corrections of their reports, in the order they were made. */
    remarks: (shifts: readonly string[]): Event[] =>
      eventsOf(
        all(
          `SELECT body FROM event WHERE kind IN ('note-written', 'report-corrected') AND shift IN (SELECT value FROM json_each(?)) AND ${alive} ORDER BY at, station, seq`,
          JSON.stringify(shifts),
        ),
      ),
    /** Everything that counts of a stretch of time, for a chart. */
    between: (from: string, to: string): Event[] =>
      eventsOf(
        all(
          `SELECT body FROM event WHERE at >= ? AND at <= ? AND ${alive} ORDER BY at, station, seq`,
          from,
          to,
        ),
      ),
    dataVersion: (): number => Number(Object.values(sql('PRAGMA data_version').get() ?? {})[0]),
  };
}
