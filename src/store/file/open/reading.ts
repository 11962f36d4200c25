// Books that can be read but not written: somebody else's, on a disk that is full or only readable. SQLite's log needs to write
// even to be read, so they are read without it when it is empty, else from a private copy with it.
import { copyFileSync, mkdtempSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { pathToFileURL } from 'node:url';
import { clearAway, tidyLeft } from './birth.ts';
import { BUSY_TIMEOUT_MS } from './names.ts';

export type Reading = { readonly db: DatabaseSync; readonly release: () => void };

/** Opens a file as it stands; `prepare` refuses what is not ours, and may write when it is a copy. */
export function openToRead(
  file: string,
  prepare: (db: DatabaseSync, isCopy: boolean) => boolean,
): Reading | null {
  const hasLog = (statSync(`${file}-wal`, { throwIfNoEntry: false })?.size ?? 0) > 0;
  return (
    (hasLog ? null : attempt(() => asItStands(file), prepare, false)) ??
    attempt(() => fromCopy(file), prepare, true) ??
    // Without room for a copy: alone, so that no shared memory must be written either.
    attempt(() => alone(file), prepare, false)
  );
}

function attempt(
  open: () => Reading,
  prepare: (db: DatabaseSync, isCopy: boolean) => boolean,
  isCopy: boolean,
): Reading | null {
  let reading: Reading | null = null;
  try {
    reading = open();
    if (prepare(reading.db, isCopy)) return reading;
  } catch {
    // the next way, or none
  }
  reading?.release();
  return null;
}

function asItStands(file: string): Reading {
  const url = pathToFileURL(file);
  url.searchParams.set('immutable', '1');
  const db = new DatabaseSync(url, { readOnly: true });
  return { db, release: () => db.close() };
}

function alone(file: string): Reading {
  const db = new DatabaseSync(file, { timeout: BUSY_TIMEOUT_MS });
  db.exec('PRAGMA locking_mode = EXCLUSIVE');
  return { db, release: () => db.close() };
}

/** Memory serves where the disk is full. */
const places = (): string[] => [tmpdir(), '/dev/shm', '/run/shm'];

function fromCopy(file: string): Reading {
  for (const place of places()) {
    let folder: string | null = null;
    try {
      tidyLeft(place, 'ullage-read-');
      folder = mkdtempSync(join(place, `ullage-read-${process.pid}-`));
      const copy = join(folder, 'books.sqlite');
      copyFileSync(file, copy);
      if (statSync(`${file}-wal`, { throwIfNoEntry: false }) !== undefined)
        copyFileSync(`${file}-wal`, `${copy}-wal`);
      const db = new DatabaseSync(copy);
      const kept = folder;
      return {
        db,
        release: () => {
          db.close();
          clearAway(kept);
        },
      };
    } catch {
      if (folder !== null) clearAway(folder);
    }
  }
  throw new Error('no place for a copy');
}
