// The SQL of the books in one place: every statement is prepared once and takes its values bound.

import type { DatabaseSync } from 'node:sqlite';
import { catalogueKinds, type Event, type EventKey } from '../../../domain/ledger/event.ts';
import { parseEvent } from '../../../domain/ledger/event-door.ts';
import { CHAIN_START, chainHash } from '../../chain.ts';
import { backRows } from './back-rows.ts';
import { sealRows } from './seal-rows.ts';
import { shiftRows } from './shift-rows.ts';
import { alive, statementsOf } from './statements.ts';

const PAGE = 500;
// The words of the partial index in schema.ts: the two must say the same for it to be used.
const catalogueFilter = `kind IN (${catalogueKinds.map((kind) => `'${kind}'`).join(', ')})`;
const firstKey: EventKey = { at: '', station: '', seq: 0 };

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
  const statements = statementsOf(db);
  const { sql, all, first } = statements;

  /**
   * Everything that counts after a key, in the order of the fold; `onBad` hears of the lines that can't be read; those
   * after the number `sound` passed the schema a moment ago.
   */
  const livingEvents = (
    after: EventKey | null,
    onBad?: (number: number) => void,
    sound?: number,
  ): Generator<NumberedEvent> => inOrder(after, alive, onBad, sound);

  function* inOrder(
    after: EventKey | null,
    wanted: string,
    onBad: (number: number) => void = () => undefined,
    sound = Number.POSITIVE_INFINITY,
  ): Generator<NumberedEvent> {
    let key = after ?? firstKey;
    for (;;) {
      const page = all<EventKey & { number: number; body: string }>(
        `SELECT number, at, station, seq, body FROM event WHERE (at, station, seq) > (?, ?, ?) AND ${wanted} ORDER BY at, station, seq LIMIT ${PAGE}`,
        key.at,
        key.station,
        key.seq,
      );
      for (const { number, body } of page) {
        const event = number > sound ? (JSON.parse(body) as Event) : eventOfBody(body);
        if (event === null) onBad(number);
        else yield { number, event };
      }
      key = page.at(-1) ?? key;
      if (page.length < PAGE) return;
    }
  }

  const lossesOf = (after: string, to: string, wanted: string): Event[] =>
    eventsOf(
      all(
        `SELECT body FROM event INDEXED BY event_lost WHERE kind = 'stock-lost' AND at > ? AND at <= ? AND ${wanted} ORDER BY at, station, seq`,
        after,
        to,
      ),
    );
  const stretchOf = (from: string, to: string, wanted: string): Event[] =>
    eventsOf(
      all(
        `SELECT body FROM event WHERE at >= ? AND at <= ? AND ${wanted} ORDER BY at, station, seq`,
        from,
        to,
      ),
    );

  /** The same with what was taken back in it. */
  const everyEvent = (after: EventKey | null): Generator<NumberedEvent> => inOrder(after, 'TRUE');

  return {
    ...backRows(statements),
    ...shiftRows(statements),
    ...sealRows(statements),
    livingEvents,
    everyEvent,
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
        // A number that no program can count on shows here, too: it can't be read.
        'SELECT number, id, at, station, seq, kind, shift, body, hash FROM event ORDER BY station, seq',
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
    /** Where an event stands, and of which kind it is. */
    placeOf: (id: string): (EventKey & { readonly kind: Event['kind'] }) | null =>
      first<EventKey & { kind: Event['kind'] }>(
        'SELECT at, station, seq, kind FROM event WHERE id = ?',
        id,
      ) ?? null,
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
    insert(
      event: Pick<Event, 'id' | 'at' | 'station' | 'seq' | 'kind' | 'shift'>,
      body: string,
      previousHash: string,
    ): string {
      const hash = chainHash(previousHash, body);
      sql(
        'INSERT INTO event (id, at, station, seq, kind, shift, body, hash) VALUES (?, ?, ?, ?, ?, ?, ?, ?)',
      ).run(event.id, event.at, event.station, event.seq, event.kind, event.shift, body, hash);
      return hash;
    },
    /** Everything that counts and describes the house. */
    catalogue: (): Event[] =>
      eventsOf(all(`SELECT body FROM event WHERE ${catalogueFilter} AND ${alive} ORDER BY at, station, seq`)),
    /** What was written last of the same thing before an event; where its name stands in the text is given. */
    versionBefore: (event: Event, path: string): EventKey | null =>
      first<EventKey>(
        `SELECT at, station, seq FROM event WHERE ${catalogueFilter} AND kind = ?1 AND json_extract(body, ?2) = (SELECT json_extract(body, ?2) FROM event WHERE id = ?3) AND (at, station, seq) < (?4, ?5, ?6) AND ${alive} ORDER BY at DESC, station DESC, seq DESC LIMIT 1`,
        event.kind,
        path,
        event.id,
        event.at,
        event.station,
        event.seq,
      ) ?? null,
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
    isSold: (line: string, soldAt: string): boolean =>
      first(
        `SELECT 1 AS yes FROM event WHERE kind = 'drink-sold' AND json_extract(body, '$.soldAt') = ?1 AND (id = ?2 OR json_extract(body, '$.line') = ?2) LIMIT 1`,
        soldAt,
        line,
      ) !== undefined,
    /** Lines of the till sold from one instant up to another. */
    sales: (from: string, to: string): Event[] =>
      eventsOf(
        all(
          `SELECT body FROM event WHERE kind = 'drink-sold' AND json_extract(body, '$.soldAt') >= ? AND json_extract(body, '$.soldAt') < ? AND ${alive} ORDER BY json_extract(body, '$.soldAt'), at, station, seq`,
          from,
          to,
        ),
      ),
    /** What was lost after one instant, up to another. */
    losses: (after: string, to: string): Event[] => lossesOf(after, to, alive),
    everyLoss: (after: string, to: string): Event[] => lossesOf(after, to, 'TRUE'),
    /** Notes on shifts and corrections of their reports, in the order they were made. */
    remarks: (shifts: readonly string[]): Event[] =>
      eventsOf(
        all(
          `SELECT body FROM event WHERE kind IN ('note-written', 'report-corrected') AND shift IN (SELECT value FROM json_each(?)) AND ${alive} ORDER BY at, station, seq`,
          JSON.stringify(shifts),
        ),
      ),
    /** Everything that counts of a stretch of time, for a chart. */
    between: (from: string, to: string): Event[] => stretchOf(from, to, alive),
    everyBetween: (from: string, to: string): Event[] => stretchOf(from, to, 'TRUE'),
    dataVersion: (): number => Number(Object.values(sql('PRAGMA data_version').get() ?? {})[0]),
  };
}
