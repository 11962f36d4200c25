// Opening the file of the books: every setting is read back, a foreign, empty, newer or cut file is refused, an older
// one is migrated after a verified copy. Nothing here ever writes to a file it does not know.
import { chmodSync, lstatSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { isMainThread } from 'node:worker_threads';
import { done, type Problem, type Result, refuse } from '../../../domain/value/problem.ts';
import { isBeingBorn, makeBooks, makeFolders, tidyUnborn } from './birth.ts';
import { migrate, pragma } from './migrate.ts';
import { BOOKS_FILE, BUSY_TIMEOUT_MS } from './names.ts';
import { isWhole, mendParts } from './parts.ts';
import { damaged, openingProblem } from './problem.ts';
import { openToRead } from './reading.ts';
import { APPLICATION_ID, migrateSchema, SCHEMA_VERSION } from './schema.ts';
import { endSwap, tidyKept } from './swap.ts';

const OLDEST_SQLITE = [3, 51, 3] as const;

/** Books that are open; `readOnly` says why nothing can be recorded, or is null. */
export type OpenBooks = {
  readonly db: DatabaseSync;
  readonly readOnly: Problem | null;
  readonly release: () => void;
};

/** Opens the books in a folder, making folder and file when there are none; where they can't be written, to read them. */
export function openBooksFile(folder: string): Result<OpenBooks> {
  const writing = openToWrite(folder);
  if (writing.ok) {
    const db = writing.value;
    return done({ db, readOnly: null, release: () => db.close() });
  }
  const [why] = writing.problems;
  if (why === undefined || !mayRead.has(why.code)) return writing;
  const file = join(folder, BOOKS_FILE);
  // Where there are no books there is nothing to read, and nothing may be made.
  if (!isPlainFile(file)) return writing;
  const reading = openToRead(file, (db, isCopy) => prepareToRead(db, file, isCopy));
  return reading === null ? writing : done({ ...reading, readOnly: why });
}

function isPlainFile(file: string): boolean {
  try {
    return lstatSync(file).isFile();
  } catch {
    return false;
  }
}

/** What keeps one from writing and not from reading. */
const mayRead: ReadonlySet<string> = new Set(['cannot-write', 'disk-full', 'setting-refused']);

function prepareToRead(db: DatabaseSync, file: string, isCopy: boolean): boolean {
  db.exec('PRAGMA trusted_schema = OFF');
  db.exec('PRAGMA temp_store = MEMORY');
  const version = checkIdentity(db, file);
  if (!version.ok) return false;
  if (!isCopy) return version.value === SCHEMA_VERSION && isWhole(db);
  if (version.value < SCHEMA_VERSION) {
    db.exec('BEGIN IMMEDIATE');
    migrateSchema(db, version.value);
    db.exec('COMMIT');
  }
  return mendParts(db);
}

export function openToWrite(folder: string): Result<DatabaseSync> {
  const made = prepareFolder(folder);
  if (!made.ok) return made;
  const file = join(folder, BOOKS_FILE);
  try {
    endSwap(file);
    if (lstatSync(file, { throwIfNoEntry: false }) === undefined) {
      if ((statSync(`${file}-wal`, { throwIfNoEntry: false })?.size ?? 0) > 0) return without(file);
      makeBooks(file);
    }
  } catch (error) {
    return (error as { errcode?: number }).errcode === undefined
      ? unwritable(folder)
      : openingProblem(error, file);
  }
  const sound = checkFile(file);
  return sound.ok ? openDatabase(file) : sound;
}

/** Somebody took the books away and left their log: new ones in their place would read it as theirs. */
const without = (file: string): Result<never> =>
  refuse(
    'books-gone',
    `${file} is gone, but its log (${BOOKS_FILE}-wal) is there. Put the file back, or restore a copy with ullage restore FILE.`,
  );

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
    tidyKept(file);
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
    // A thread has that of its process, which is set already.
    if (isMainThread) process.umask(0o077);
    db = new DatabaseSync(file, { timeout: BUSY_TIMEOUT_MS });
    // First whose file it is: a setting such as the journal's changes the file.
    const known = checkIdentity(db, file);
    if (!known.ok) return closing(db, known);
    const set = applySettings(db, file);
    if (!set.ok) return closing(db, set);
    const current = known.value < SCHEMA_VERSION ? migrate(db, file) : done(null);
    if (!current.ok) return closing(db, current);
    return mendParts(db) ? done(db) : closing(db, damaged(file));
  } catch (error) {
    db?.close();
    return openingProblem(error, file);
  }
}

function closing<T>(db: DatabaseSync, result: Result<T>): Result<never> {
  db.close();
  return result as Result<never>;
}

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
