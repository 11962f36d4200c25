// The tables of the books, and the steps from one version of them to the next.
import type { DatabaseSync } from 'node:sqlite';

/** "ulg1" as four bytes: what tells our files from other SQLite files. */
export const APPLICATION_ID = 0x756c6731;
export const SCHEMA_VERSION = 7;

/** The first schema: kept as it was, so that an old file can be made again in a test and migrated. */
export const schemaV1 = `
  CREATE TABLE event (
    number INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) = 36),
    at TEXT NOT NULL CHECK (length(at) = 24),
    station TEXT NOT NULL CHECK (length(station) BETWEEN 1 AND 40),
    seq INTEGER NOT NULL CHECK (seq BETWEEN 1 AND 9007199254740991),
    kind TEXT NOT NULL CHECK (length(kind) BETWEEN 1 AND 40),
    shift TEXT CHECK (shift IS NULL OR length(shift) = 36),
    body TEXT NOT NULL CHECK (length(body) BETWEEN 2 AND 100000),
    hash TEXT NOT NULL CHECK (length(hash) = 64),
    UNIQUE (station, seq)
  ) STRICT;
  CREATE INDEX event_order ON event (at, station, seq);
  CREATE TRIGGER event_no_update BEFORE UPDATE ON event BEGIN SELECT RAISE(ABORT, 'events are never changed'); END;
  CREATE TRIGGER event_no_delete BEFORE DELETE ON event BEGIN SELECT RAISE(ABORT, 'events are never deleted'); END;
  CREATE TABLE taken_back (id TEXT PRIMARY KEY CHECK (length(id) = 36)) STRICT;
  CREATE TABLE checkpoint (
    at TEXT NOT NULL, station TEXT NOT NULL, seq INTEGER NOT NULL,
    shift TEXT, date TEXT,
    body TEXT NOT NULL,
    PRIMARY KEY (at, station, seq)
  ) STRICT;
`;

/** From version N to N + 1, by index N. */
const steps: Readonly<Record<number, string>> = {
  // Catalogue events are few but old: without this index start-up would walk the whole log to find them.
  1: `CREATE INDEX event_catalogue ON event (at, station, seq)
        WHERE kind IN ('house-set', 'item-written', 'spec-written', 'person-added', 'person-left');
      CREATE INDEX event_shift ON event (at) WHERE kind IN ('shift-opened', 'shift-sealed');
      CREATE INDEX checkpoint_shift ON checkpoint (shift) WHERE shift IS NOT NULL;`,
  // Three more kinds describe the house; lines of the till are looked up by when they were sold, remarks by their shift.
  2: `DROP INDEX event_catalogue;
      CREATE INDEX event_catalogue ON event (at, station, seq)
        WHERE kind IN ('house-set', 'item-written', 'spec-written', 'person-added', 'person-left',
          'till-name-matched', 'readings-compared', 'mise-edited');
      CREATE INDEX event_sold ON event (json_extract(body, '$.soldAt')) WHERE kind = 'drink-sold';
      CREATE INDEX event_remark ON event (shift) WHERE kind IN ('note-written', 'report-corrected');`,
  // Who takes back whom is asked with every take-back, however long the log is.
  3: `CREATE INDEX event_back ON event (json_extract(body, '$.target')) WHERE kind = 'event-taken-back';`,
  // What was lost stands as lines in a report, over a night or a year.
  4: `CREATE INDEX event_lost ON event (at) WHERE kind = 'stock-lost';`,
  // How a spreadsheet is read and who brings what belong to the house, too.
  5: `DROP INDEX event_catalogue;
      CREATE INDEX event_catalogue ON event (at, station, seq)
        WHERE kind IN ('house-set', 'item-written', 'spec-written', 'person-added', 'person-left',
          'till-name-matched', 'readings-compared', 'mise-edited', 'sheet-matched', 'supplier-written',
          'place-renamed', 'night-expected', 'order-placed', 'order-received');`,
  // Where several stations keep one house, what came too late for a seal stands beside it.
  6: `CREATE TABLE unseen (
        seal TEXT NOT NULL CHECK (length(seal) = 36), station TEXT NOT NULL,
        first INTEGER NOT NULL, last INTEGER NOT NULL,
        PRIMARY KEY (seal, station)
      ) STRICT;`,
};

/** Makes an empty database into new books. Call inside a transaction. */
export function createSchema(db: DatabaseSync): void {
  db.exec(schemaV1);
  migrateSchema(db, 1);
  db.exec(`PRAGMA application_id = ${APPLICATION_ID}`);
}

/** The schema of an older version, to hold a file against. */
export function createSchemaOf(db: DatabaseSync, version: number): void {
  db.exec(schemaV1);
  for (let step = 1; step < version; step += 1) db.exec(steps[step] ?? '');
}

/** Takes a schema of version `from` to the current one. Call inside a transaction: all steps or none. */
export function migrateSchema(db: DatabaseSync, from: number): void {
  for (let version = from; version < SCHEMA_VERSION; version += 1) db.exec(steps[version] ?? '');
  db.exec(`PRAGMA user_version = ${SCHEMA_VERSION}`);
}
