// Shifts as the log has them, and the checkpoints that were made at their seals.
import { besideKinds, type EventKey } from '../../../domain/ledger/event.ts';
import type { ShiftMark } from '../../../domain/ledger/shift-order.ts';
import type { EventId } from '../../../domain/value/ids.ts';
import { alive, type Statements, sealNaming } from './statements.ts';

export type CheckpointRow = { at: string; station: string; seq: number; body: string };

const beside = [...besideKinds].map((kind) => `'${kind}'`).join(', ');

type RawMark = Omit<ShiftMark, 'apart' | 'also'> & {
  readonly apart: number;
  readonly also: string | null;
  readonly number: number;
};

export function shiftRows({ sql, all, first, exec }: Statements) {
  const marksOf = (last: number, aside: ReadonlySet<number>, wanted: string): ShiftMark[] =>
    all<RawMark>(
      `SELECT number, id, at, station, json_extract(body, '$.date') AS date, json_extract(body, '$.of') AS "of", json_extract(body, '$.also') AS also, json_extract(body, '$.seen') IS NOT NULL AS apart FROM event INDEXED BY event_shift WHERE kind IN ('shift-opened', 'shift-sealed') AND ${wanted} ORDER BY at DESC, station DESC, seq DESC LIMIT ?`,
      last,
    ).flatMap(({ number, ...mark }) =>
      aside.has(number)
        ? []
        : [{ ...mark, apart: mark.apart === 1, also: mark.also === null ? [] : JSON.parse(mark.also) }],
    );
  return {
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
    checkpointOfShift: (shift: string): CheckpointRow | undefined =>
      first('SELECT at, station, seq, body FROM checkpoint WHERE shift = ? ORDER BY at DESC LIMIT 1', shift),
    /** Where the seal of a shift stands, the first one when stations sealed it apart; null when there is none that counts. */
    sealOf: (shift: string): EventKey | null =>
      first<EventKey>(
        `SELECT at, station, seq FROM event INDEXED BY event_shift WHERE ${sealNaming} AND ${alive} ORDER BY at, station, seq LIMIT 1`,
        shift,
      ) ?? null,
    /** Where the next shift opens after the opening of one; null when none does, or that one is not there. */
    openingAfter: (shift: string): EventKey | null =>
      first<EventKey>(
        `SELECT event.at, event.station, event.seq FROM event INDEXED BY event_shift, event AS opening WHERE opening.id = ? AND event.kind = 'shift-opened' AND event.kind IN ('shift-opened', 'shift-sealed') AND (event.at, event.station, event.seq) > (opening.at, opening.station, opening.seq) AND ${alive} ORDER BY event.at, event.station, event.seq LIMIT 1`,
        shift,
      ) ?? null,
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
    dropAllCheckpoints: (): void => exec('DELETE FROM checkpoint'),
    /**
     * Opened shifts and what sealed them, in order: read as columns, because the years hold many and a report needs few of
     * them. The index is named, because the planner would rather walk all events in order than sort these few.
     */
    shiftMarks: (last: number, aside: ReadonlySet<number>): ShiftMark[] => marksOf(last, aside, alive),
    /** The same with what was taken back among them. */
    everyShiftMark: (aside: ReadonlySet<number>): ShiftMark[] => marksOf(-1, aside, 'TRUE'),
    /** What counts of a night whose opening does not: the first few. */
    withoutShift: (): EventId[] =>
      all<{ id: EventId }>(
        `SELECT id FROM event WHERE shift IS NOT NULL AND kind NOT IN (${beside}) AND ${alive} AND shift NOT IN (SELECT id FROM event INDEXED BY event_shift WHERE kind IN ('shift-opened', 'shift-sealed') AND ${alive}) LIMIT 20`,
      ).map(({ id }) => id),
  };
}
