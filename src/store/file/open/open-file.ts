// Opening the file of the books: every setting is read back, a foreign, empty, newer or cut file is refused, an older
// one is migrated after a verified copy. Nothing here ever writes to a file it does not know.
import { chmodSync, existsSync, lstatSync, renameSync, rmSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { done, type Result, refuse } from '../../../domain/value/problem.ts';
import { isBeingBorn, makeBooks, makeFolders, syncPath, tidyUnborn } from './birth.ts';
import { APPLICATION_ID, migrateSchema, SCHEMA_VERSION } from './schema.ts';

export const BOOKS_FILE = 'books.sqlite';
export const BUSY_TIMEOUT_MS = 5000;
const OLDEST_SQLITE = [3, 51, 3] as const;

/** Opens the books in a folder, making folder and file when there are none. */
export function openBooksFile(folder: string): Result<DatabaseSync> {
  const made = prepareFolder(folder);
  if (!made.ok) return made;
  const file = join(folder, BOOKS_FILE);
  try {
    if (lstatSync(file, { throwIfNoEntry: false }) === undefined) makeBooks(file);
  } catch (error) {
    return (error as { errcode?: number }).errcode === undefined
      ? unwritable(folder)
      : openingProblem(error, file);
  }
  const sound = checkFile(file);
  return sound.ok ? openDatabase(file) : sound;
}

const unwritable = (folder: string): Result<never> =>
  refuse(
    'cannot-write',
    `The folder ${folder} can't be made or changed. Give another with --data, or mend its rights.`,
    73,
  );

/** The folder of the books, made if need be. One that stands is somebody's: its mode is not ours to change. */
export function prepareFolder(folder: string): Result<null> {
  try {
    makeFolders(folder);
    if (!statSync(folder).isDirectory())
      return refuse('not-a-folder', `${folder} is not a folder. Give another with --data.`, 73);
    return done(null);
  } catch {
    return unwritable(folder);
  }
}

/** What can be told from outside the database: a plain file, one name, not empty, not cut. */
function checkFile(file: string): Result<null> {
  let stat = lstatSync(file);
  if (stat.nlink > 1 && !stat.isSymbolicLink()) {
    tidyUnborn(dirname(file));
    stat = lstatSync(file);
  }
  if (stat.isSymbolicLink() || (stat.nlink > 1 && !isBeingBorn(file))) {
    return refuse(
      'linked',
      `${file} is a link or has two names, which can break the books. Give the real folder with --data.`,
    );
  }
  if (!stat.isFile())
    return refuse('not-a-file', `${file} is not a file. Move it away or give another folder with --data.`);
  if (stat.size === 0)
    return refuse(
      'empty-file',
      `${file} is empty, so these are not your books. Restore a copy with ullage restore FILE.`,
    );
  if ((stat.mode & 0o077) !== 0) {
    try {
      chmodSync(file, 0o600);
    } catch {
      // not the owner: reading may still be allowed, and opening will say so if not
    }
  }
  return done(null);
}

function openDatabase(file: string): Result<DatabaseSync> {
  let db: DatabaseSync | null = null;
  try {
    process.umask(0o077);
    db = new DatabaseSync(file, { timeout: BUSY_TIMEOUT_MS });
    // First whose file it is: a setting such as the journal's changes the file.
    const known = checkIdentity(db, file);
    if (!known.ok) return closing(db, known);
    const set = applySettings(db, file);
    if (!set.ok) return closing(db, set);
    const current = known.value < SCHEMA_VERSION ? migrate(db, file) : done(null);
    return current.ok ? done(db) : closing(db, current);
  } catch (error) {
    db?.close();
    return openingProblem(error, file);
  }
}

function closing<T>(db: DatabaseSync, result: Result<T>): Result<never> {
  db.close();
  return result as Result<never>;
}

const pragma = (db: DatabaseSync, name: string): unknown =>
  Object.values(db.prepare(`PRAGMA ${name}`).get() ?? {})[0];

/** Sets what the promises rest on and reads each back. */
function applySettings(db: DatabaseSync, file: string): Result<null> {
  const version = String(Object.values(db.prepare('SELECT sqlite_version()').get() ?? {})[0]);
  const parts = version.split('.').map(Number);
  const older = OLDEST_SQLITE.findIndex((part, index) => part !== parts[index]);
  if (older >= 0 && (parts[older] ?? 0) < (OLDEST_SQLITE[older] ?? 0)) {
    return refuse(
      'old-sqlite',
      `This Node brings SQLite ${version}, which can damage books that two programs write. Use Node 24.15 or newer.`,
      78,
    );
  }
  const wanted: readonly (readonly [string, string, unknown])[] = [
    ['trusted_schema', 'OFF', 0],
    ['foreign_keys', 'ON', 1],
    ['mmap_size', '0', 0],
    ['temp_store', 'MEMORY', 2],
    ['journal_mode', 'WAL', 'wal'],
    ['synchronous', 'FULL', 2],
    ['busy_timeout', String(BUSY_TIMEOUT_MS), BUSY_TIMEOUT_MS],
  ];
  for (const [name, value, expected] of wanted) {
    db.exec(`PRAGMA ${name} = ${value}`);
    const actual = pragma(db, name);
    // mmap may be compiled out and then answers with nothing: that is as good as 0.
    if (actual === expected || (name === 'mmap_size' && actual === undefined)) continue;
    return refuse(
      'setting-refused',
      `${file} does not take the setting ${name}=${value}. Keep the books on a local disk.`,
      73,
    );
  }
  return done(null);
}

/** The version of books that are ours, whole as far as can be told, and not newer than we are. */
function checkIdentity(db: DatabaseSync, file: string): Result<number> {
  const [application, version] = [pragma(db, 'application_id'), Number(pragma(db, 'user_version'))];
  if (application !== APPLICATION_ID) {
    return refuse(
      'foreign-file',
      `${file} is not a file of ullage. Give another folder with --data, or move it away.`,
    );
  }
  if (version > SCHEMA_VERSION) {
    return refuse(
      'newer-file',
      `${file} was made by a newer ullage (books version ${version}, this one knows ${SCHEMA_VERSION}). Update ullage; nothing was changed.`,
      78,
    );
  }
  const pages = Number(pragma(db, 'page_count')) * Number(pragma(db, 'page_size'));
  if (statSync(file).size % Number(pragma(db, 'page_size')) !== 0 || statSync(file).size > pages + 1e9) {
    return refuse(
      'cut-file',
      `${file} was cut short or damaged. Keep it, and restore a copy with ullage restore FILE.`,
    );
  }
  return done(version);
}

/**
 * An older file: first a copy that was read back, then all steps, in one transaction that no other program can get into. Which
 * version it is from is asked inside of it: another program may have been faster.
 */
function migrate(db: DatabaseSync, file: string): Result<null> {
  db.exec('BEGIN IMMEDIATE');
  const version = Number(pragma(db, 'user_version'));
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
    rmSync(temporary, { force: true });
  }
  return refuse(
    'bad-copy',
    `The copy ${copy} made before updating is not sound. Nothing was changed; free some disk space and try again.`,
    73,
  );
}

/** A name that nothing has yet: a second old file of the same day keeps a copy of its own. */
function freeName(name: string, ending: string): string {
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

/** SQLite's own codes as sentences. `errcode & 255` is the family. */
export function openingProblem(error: unknown, file: string): Result<never> {
  const code = (error as { errcode?: number }).errcode;
  const family = code === undefined ? -1 : code & 255;
  if (family === 5 || family === 6)
    return refuse('busy', 'Another program holds the books. Try again in a moment.', 75);
  if (family === 26 || family === 11) {
    return refuse(
      'damaged',
      `${file} is damaged or no file of ullage. Keep it, and restore a copy with ullage restore FILE.`,
    );
  }
  if (family === 13)
    return refuse('disk-full', 'The disk is full; nothing was recorded. Free some space and try again.', 73);
  if (family === 8 || family === 14 || family === 10) {
    return refuse(
      'cannot-write',
      `${file} can't be written. Give another folder with --data, or mend its rights.`,
      73,
    );
  }
  throw error;
}
