// What was taken back, and what stands in the way of taking something back.
import type { TakeBack } from '../../../domain/ledger/take-back.ts';
import type { EventId, ItemId, PersonId, SpecId } from '../../../domain/value/ids.ts';
import { alive, type Statements } from './statements.ts';

export function backRows({ sql, all, first, exec }: Statements) {
  return {
    takeBacks: (): TakeBack[] =>
      all<TakeBack>(
        `SELECT id, json_extract(body, '$.target') AS target FROM event WHERE kind = 'event-taken-back'`,
      ),
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
    /** Something that counts names an item without moving it: a note, a correction, a comparison, 86 by hand, the till, an order. */
    isRemarked: (item: ItemId): boolean =>
      first(
        `SELECT 1 AS yes FROM event WHERE ${alive} AND (
           (kind IN ('note-written', 'report-corrected', 'readings-compared', 'marked-out', 'marked-back') AND json_extract(body, '$.item') = ?1)
           OR (kind = 'till-name-matched' AND json_extract(body, '$.straight.item') = ?1)
           OR (kind = 'order-placed' AND EXISTS (SELECT 1 FROM json_each(body, '$.lines') WHERE json_extract(value, '$.item') = ?1))
         ) LIMIT 1`,
        item,
      ) !== undefined,
    /** Something that counts was thrown away of a lot. */
    isThrownAway: (lot: EventId): boolean =>
      first(
        `SELECT 1 AS yes FROM event WHERE kind = 'stock-lost' AND json_extract(body, '$.lot') = ? AND ${alive} LIMIT 1`,
        lot,
      ) !== undefined,
    /** Somebody said that a card is out, or back. */
    isMarked: (spec: SpecId): boolean =>
      first(
        `SELECT 1 AS yes FROM event WHERE kind IN ('marked-out', 'marked-back') AND json_extract(body, '$.spec') = ? AND ${alive} LIMIT 1`,
        spec,
      ) !== undefined,
    setTakenBack(id: string, back: boolean): void {
      if (back) sql('INSERT OR IGNORE INTO taken_back (id) VALUES (?)').run(id);
      else sql('DELETE FROM taken_back WHERE id = ?').run(id);
    },
    replaceTakenBack(ids: Iterable<EventId>): void {
      exec('DELETE FROM taken_back');
      for (const id of ids) sql('INSERT INTO taken_back (id) VALUES (?)').run(id);
    },
    /** Take-backs recorded after a number whose target is not there. */
    withoutTarget: (after: number): { number: number; target: string }[] =>
      all(
        `SELECT number, json_extract(body, '$.target') AS target FROM event AS back WHERE number > ? AND kind = 'event-taken-back' AND NOT EXISTS (SELECT 1 FROM event WHERE event.id = json_extract(back.body, '$.target')) LIMIT 20`,
        after,
      ),
  };
}
