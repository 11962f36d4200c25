// An older file is brought to the present: a copy first, then every step in one transaction.
import { chmodSync, existsSync, renameSync, rmSync } from 'node:fs';
import { DatabaseSync } from 'node:sqlite';
import { done, type Result, refuse } from '../../../domain/value/problem.ts';
import { clearAway, syncPath } from './birth.ts';
import { BUSY_TIMEOUT_MS } from './names.ts';
import { foreignParts } from './parts.ts';
import { damaged } from './problem.ts';
import { migrateSchema, SCHEMA_VERSION } from './schema.ts';

export const pragma = (db: DatabaseSync, name: string): unknown =>
  Object.values(db.prepare(`PRAGMA ${name}`).get() ?? {})[0];

/**
 * An older file: first a copy that was read back, then all steps, in one transaction that no other program can get into. Which
 * version it is from is asked inside of it: another program may have been faster.
 */
export function migrate(db: DatabaseSync, file: string): Result<null> {
  db.exec('BEGIN IMMEDIATE');
  const version = Number(pragma(db, 'user_version'));
  if (version < SCHEMA_VERSION && foreignParts(db, version).length > 0) {
    db.exec('ROLLBACK');
    return damaged(file);
  }
  if (version < SCHEMA_VERSION) {
    const kept = keepCopy(file, version);
    if (!kept.ok) {
      db.exec('ROLLBACK');
      return kept;
    }
    migrateSchema(db, version);
  }
  db.exec('COMMIT');
  return done(null);
}

/** The copy appears under its name only when it is whole and sound. */
function keepCopy(file: string, version: number): Result<null> {
  const copy = freeName(`${file}.v${version}-${new Date().toISOString().slice(0, 10)}`, '.bak');
  const temporary = `${copy}.${process.pid}.tmp`;
  try {
    copyBooks(file, temporary);
    const check = new DatabaseSync(temporary, { readOnly: true });
    const isSound = pragma(check, 'integrity_check') === 'ok';
    check.close();
    if (isSound) {
      syncPath(temporary);
      renameSync(temporary, copy);
      return done(null);
    }
  } catch {
    // told below: whatever went wrong with the copy, nothing was changed
  } finally {
    clearAway(temporary);
  }
  return refuse(
    'bad-copy',
    `The copy ${copy} made before updating is not sound. Nothing was changed; free some disk space and try again.`,
    73,
  );
}

/** A name that nothing has yet: a second old file of the same day keeps a copy of its own. */
export function freeName(name: string, ending: string): string {
  for (let number = 2, free = name + ending; ; number += 1) {
    if (!existsSync(free)) return free;
    free = `${name}-${number}${ending}`;
  }
}

/** Books as one plain file, with what still stands in their log: never the bytes of a file that is in use. */
export function copyBooks(from: string, to: string): void {
  rmSync(to, { force: true });
  const db = new DatabaseSync(from, { readOnly: true, timeout: BUSY_TIMEOUT_MS });
  try {
    db.prepare('VACUUM INTO ?').run(to);
  } finally {
    db.close();
  }
  chmodSync(to, 0o600);
}
