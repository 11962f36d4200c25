// The parts of the schema that only serve: indexes and triggers, and the two tables that follow from the events. What is missing
// is made anew, what is not ours (a planted trigger) goes, before anything is read or written through it.
import { DatabaseSync } from 'node:sqlite';
import { takenBack } from '../../../domain/ledger/take-back.ts';
import { prepareRows } from '../log/rows.ts';
import { seeAnew } from '../log/unseen.ts';
import { createSchemaOf, SCHEMA_VERSION } from './schema.ts';

type Part = { readonly type: string; readonly name: string; readonly sql: string };

const all = <T>(db: DatabaseSync, text: string): T[] => db.prepare(text).all() as T[];
const partsOf = (db: DatabaseSync): Part[] =>
  all(
    db,
    "SELECT type, name, sql FROM sqlite_schema WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\'",
  );

const expected = new Map<number, readonly Part[]>();

/** What the books of a version consist of. */
function partsOfVersion(version: number): readonly Part[] {
  const known = expected.get(version);
  if (known !== undefined) return known;
  const db = new DatabaseSync(':memory:');
  createSchemaOf(db, version);
  const parts = partsOf(db);
  db.close();
  expected.set(version, parts);
  return parts;
}

const isSame = (a: Part, b: Part): boolean => a.type === b.type && a.name === b.name && a.sql === b.sql;

/** Names of what stands in the file and in no books of that version. */
export function foreignParts(db: DatabaseSync, version: number): string[] {
  const wanted = partsOfVersion(version);
  return partsOf(db)
    .filter((part) => !wanted.some((one) => isSame(one, part)))
    .map(({ name }) => name);
}

/** The table of events: the one part that nothing can be made anew from. */
const TRUTH = 'event';

export const isWhole = (db: DatabaseSync): boolean => {
  const [actual, wanted] = [partsOf(db), partsOfVersion(SCHEMA_VERSION)];
  return actual.length === wanted.length && wanted.every((part) => actual.some((one) => isSame(one, part)));
};

/** Makes the serving parts what they should be; false when the events themselves are not where they belong. */
export function mendParts(db: DatabaseSync): boolean {
  if (isWhole(db)) return true;
  const wanted = partsOfVersion(SCHEMA_VERSION);
  const truth = wanted.find(({ name }) => name === TRUTH);
  if (truth === undefined || !partsOf(db).some((part) => isSame(part, truth))) return false;
  db.exec('BEGIN IMMEDIATE');
  // A table of somebody else holds what nobody can make anew, and is in nobody's way.
  for (const { type, name } of partsOf(db).filter((part) => !wanted.some((one) => isSame(one, part))))
    if (type !== 'table' || wanted.some((part) => part.name === name))
      db.exec(`DROP ${type.toUpperCase()} IF EXISTS "${name.replaceAll('"', '""')}"`);
  const left = partsOf(db);
  for (const part of wanted) if (!left.some((one) => isSame(one, part))) db.exec(part.sql);
  const rows = prepareRows(db);
  rows.replaceTakenBack(takenBack(rows.takeBacks()));
  seeAnew(rows);
  rows.dropAllCheckpoints();
  db.exec('COMMIT');
  return true;
}
