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
