// Seals that say how far they saw each station, and what came later for their nights. What came later is kept by ranges of running
// numbers, as a cache that follows from the events: what stands in them is asked anew.
import type { EventKey } from '../../../domain/ledger/event.ts';
import type { EventId } from '../../../domain/value/ids.ts';
import { alive, type Statements, sealNaming } from './statements.ts';

export type SealRow = EventKey & {
  readonly id: EventId;
  readonly of: EventId;
  readonly seen: Readonly<Record<string, number>>;
};

/** Numbers of a station that a seal did not see and that may touch what it sealed. */
export type Unseen = { readonly station: string; readonly first: number; readonly last: number };

const isSeal = `kind = 'shift-sealed' AND kind IN ('shift-opened', 'shift-sealed')`;
const columns = `id, at, station, seq, json_extract(body, '$.of') AS "of", json_extract(body, '$.seen') AS seen`;

type Raw = Omit<SealRow, 'seen'> & { readonly seen: string | null };
const sealsOf = (rows: readonly Raw[]): SealRow[] =>
  rows.flatMap((row) => (row.seen === null ? [] : [{ ...row, seen: JSON.parse(row.seen) }]));

export function sealRows({ sql, all, first, exec }: Statements) {
  return {
    /** Seals that say what they saw, from an instant on. */
    sealsFrom: (at: string): SealRow[] =>
      sealsOf(
        all<Raw>(`SELECT ${columns} FROM event INDEXED BY event_shift WHERE ${isSeal} AND at >= ?`, at),
      ),
    /** The seal of a shift, when it counts and says what it saw. */
    seeingSealOf: (shift: string): SealRow | null =>
      sealsOf(
        all<Raw>(
          `SELECT ${columns} FROM event INDEXED BY event_shift WHERE ${sealNaming} AND ${alive} ORDER BY at, station, seq LIMIT 1`,
          shift,
        ),
      )[0] ?? null,
    /** Something came too late for some seal. */
    hasUnseen: (): boolean => first('SELECT 1 AS yes FROM unseen LIMIT 1') !== undefined,
    unseenBy: (seal: EventId): Unseen[] =>
      all<Unseen>('SELECT station, first, last FROM unseen WHERE seal = ? ORDER BY station', seal),
    noteUnseen(seal: EventId, station: string, seq: number): void {
      sql(
        `INSERT INTO unseen (seal, station, first, last) VALUES (?1, ?2, ?3, ?3)
         ON CONFLICT (seal, station) DO UPDATE SET first = min(first, ?3), last = max(last, ?3)`,
      ).run(seal, station, seq);
    },
    allUnseen: (): (Unseen & { readonly seal: EventId })[] =>
      all('SELECT seal, station, first, last FROM unseen ORDER BY seal, station'),
    forgetUnseen: (): void => exec('DELETE FROM unseen'),
    /** Texts of a station's events, from one running number to another. */
    bodiesOf: (station: string, first: number, last: number): { readonly body: string }[] =>
      all(
        'SELECT body FROM event WHERE station = ? AND seq >= ? AND seq <= ? ORDER BY seq',
        station,
        first,
        last,
      ),
    /** A station's events after a running number, as they stand: what another one takes in. */
    rowsAfter: (
      station: string,
      seq: number,
      most: number,
    ): { readonly station: string; readonly seq: number; readonly body: string; readonly hash: string }[] =>
      all(
        'SELECT station, seq, body, hash FROM event WHERE station = ? AND seq > ? ORDER BY seq LIMIT ?',
        station,
        seq,
        most,
      ),
  };
}
