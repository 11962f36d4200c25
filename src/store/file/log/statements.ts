// Statements of one open file: each prepared once, its values always bound.
import type { DatabaseSync, StatementSync } from 'node:sqlite';

export type Value = string | number;

/** What the rows are read and written with. */
export type Statements = {
  readonly sql: (text: string) => StatementSync;
  readonly all: <T>(text: string, ...values: Value[]) => T[];
  readonly first: <T>(text: string, ...values: Value[]) => T | undefined;
  readonly exec: (text: string) => void;
};

export function statementsOf(db: DatabaseSync): Statements {
  const prepared = new Map<string, StatementSync>();
  const sql = (text: string): StatementSync => {
    const known = prepared.get(text) ?? db.prepare(text);
    prepared.set(text, known);
    return known;
  };
  return {
    sql,
    all: <T>(text: string, ...values: Value[]): T[] => sql(text).all(...values) as T[],
    first: <T>(text: string, ...values: Value[]): T | undefined => sql(text).get(...values) as T | undefined,
    exec: (text) => db.exec(text),
  };
}

/** An event that nothing took back. */
export const alive = 'NOT EXISTS (SELECT 1 FROM taken_back WHERE taken_back.id = event.id)';

/** A seal of a shift, by its own id, by the shift's, or by that of one of its openings; none of these lies after it. */
export const sealNaming = `at >= coalesce((SELECT named.at FROM event AS named WHERE named.id = ?1), '') AND kind = 'shift-sealed' AND kind IN ('shift-opened', 'shift-sealed') AND (id = ?1 OR json_extract(body, '$.of') = ?1 OR EXISTS (SELECT 1 FROM json_each(body, '$.also') WHERE value = ?1))`;

/** A night has a seal and an opening, or several of stations that opened it apart; so many are looked at for each. */
export const MARKS_OF_A_NIGHT = 6;
/** Whose night a late event names is among so many openings and seals. */
export const MARKS_LOOKED_AT = 1000;
