// Other books in the place of these, whole or not at all. The new file gets the name of one that is ready: from then on the swap is
// decided, and whoever opens the books next ends it. Before that nothing has changed. While it goes on, the lock of the old books
// is held, so that no tap falls between them.
import {
  constants,
  copyFileSync,
  existsSync,
  linkSync,
  lstatSync,
  readdirSync,
  renameSync,
  rmSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { clearAway, isAlive, syncPath } from './birth.ts';
import { freeName } from './migrate.ts';
import { BOOKS_FILE, BUSY_TIMEOUT_MS } from './names.ts';

const readyOf = (file: string): string => `${file}.restored`;
const isPlain = (file: string): boolean => lstatSync(file, { throwIfNoEntry: false })?.isFile() === true;

/** Puts a whole and synced file in the place of the books of a folder. What stood there is kept: says where, or null for nothing. */
export function putInPlace(fresh: string, folder: string, stamp: string): string | null {
  const file = join(folder, BOOKS_FILE);
  endSwap(file);
  return withLock(file, () => {
    const kept = keep(file, freeName(`${file}.before-${stamp}`, ''));
    renameSync(fresh, readyOf(file));
    syncPath(folder);
    swap(file);
    return kept;
  });
}

/** Ends a swap that was decided and cut short. */
export function endSwap(file: string): void {
  if (!isPlain(readyOf(file))) return;
  withLock(file, () => {
    // Another program may have been faster.
    if (isPlain(readyOf(file))) swap(file);
  });
}

/** The log of the old books must not be read as the log of the new ones. */
function swap(file: string): void {
  for (const ending of ['-wal', '-shm', '-journal']) rmSync(file + ending, { force: true });
  renameSync(readyOf(file), file);
  syncPath(dirname(file));
}

/** The old books under a second name, with what still stands in their log: as one, because nobody can write meanwhile. */
function keep(file: string, name: string): string | null {
  const parts = ['-wal', ''].filter((ending) => isPlain(file + ending));
  for (const ending of parts) second(file + ending, name + ending);
  syncPath(dirname(file));
  return parts.length === 0 ? null : name;
}

function second(file: string, name: string): void {
  try {
    linkSync(file, name);
  } catch (error) {
    if ((error as { code?: string }).code === 'EEXIST') throw error;
    // A file system that knows no second names.
    copyFileSync(file, name, constants.COPYFILE_EXCL);
    syncPath(name);
  }
}

/** A swap that ended before it was decided left the books a second name, and perhaps the whole new file: neither is needed. */
export function tidyKept(file: string): void {
  const folder = dirname(file);
  const { ino } = lstatSync(file);
  const start = `${basename(file)}.before-`;
  for (const name of readdirSync(folder)) {
    const path = join(folder, name);
    const pid = /^\.restoring-(\d+)\.sqlite/.exec(name)?.[1];
    if (pid !== undefined && !isAlive(Number(pid))) clearAway(path);
    const isSecond = name.startsWith(start) && lstatSync(path, { throwIfNoEntry: false })?.ino === ino;
    if (isSecond) for (const ending of ['-wal', '']) clearAway(path + ending);
  }
}

/** Holds the books' own lock, as a writer does. Books that are none, or too damaged to be locked, have no writers. */
function withLock<T>(file: string, work: () => T): T {
  const db = isPlain(file) && existsSync(file) ? lockOf(file) : null;
  try {
    return work();
  } finally {
    // Moved files are left alone by SQLite when it closes: neither their log nor that of their heirs is touched.
    db?.close();
  }
}

function lockOf(file: string): DatabaseSync | null {
  let db: DatabaseSync | null = null;
  try {
    db = new DatabaseSync(file, { timeout: BUSY_TIMEOUT_MS });
    db.exec('BEGIN IMMEDIATE');
    return db;
  } catch (error) {
    db?.close();
    const family = ((error as { errcode?: number }).errcode ?? 0) & 255;
    if (family === 5 || family === 6) throw error;
    return null;
  }
}
