// Making what was not there: the folder of the books, and the books, whole or not at all. They are made under another name and
// get their own by a second link, so that of several programs that start at once one is first and all see the same file, and a
// crash at any point leaves nothing that could be taken for damaged books.
import {
  closeSync,
  existsSync,
  fsyncSync,
  linkSync,
  lstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  renameSync,
  rmSync,
} from 'node:fs';
import { dirname, join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { createSchema } from './schema.ts';

/** Step by step: on some file systems (/proc) Node's own recursive way never comes back. A folder that stands keeps its mode. */
export function makeFolders(folder: string): void {
  if (existsSync(folder)) return;
  const parent = dirname(folder);
  if (parent !== folder) makeFolders(parent);
  try {
    mkdirSync(folder, { mode: 0o700 });
  } catch (error) {
    // Another program was faster.
    if ((error as { code?: string }).code !== 'EEXIST') throw error;
  }
}

export function syncPath(path: string): void {
  const handle = openSync(path, 'r');
  fsyncSync(handle);
  closeSync(handle);
}

/** Clears away what is ours; a disk that refuses even that leaves it to the next start. */
export function clearAway(path: string): void {
  try {
    rmSync(path, { recursive: true, force: true });
  } catch {
    // told already, or nobody's trouble
  }
}

const UNBORN = /^\.unborn-(\d+)\.sqlite/;

/** Makes new books where there are none. Another program may be faster: then its books stand there. */
export function makeBooks(file: string): void {
  const folder = dirname(file);
  tidyUnborn(folder);
  const unborn = join(folder, `.unborn-${process.pid}.sqlite`);
  try {
    const db = new DatabaseSync(unborn);
    try {
      db.exec('BEGIN IMMEDIATE');
      createSchema(db);
      db.exec('COMMIT');
    } finally {
      db.close();
    }
    syncPath(unborn);
    giveName(unborn, file);
    syncPath(folder);
  } finally {
    for (const ending of ['', '-journal']) clearAway(unborn + ending);
  }
}

function giveName(unborn: string, file: string): void {
  try {
    linkSync(unborn, file);
  } catch (error) {
    const { code } = error as { code?: string };
    if (code === 'EEXIST') return;
    // A file system that knows no second names.
    if (code !== 'EPERM' && code !== 'ENOTSUP' && code !== 'ENOSYS') throw error;
    if (!existsSync(file)) renameSync(unborn, file);
  }
}

/** What first starts left that ended before their books had a name, or just after. */
export function tidyUnborn(folder: string): void {
  for (const name of readdirSync(folder)) {
    const pid = UNBORN.exec(name)?.[1];
    if (pid !== undefined && !isAlive(Number(pid))) clearAway(join(folder, name));
  }
}

/** Whether the second name of the books is only that of their birth. */
export function isBeingBorn(file: string): boolean {
  const { ino } = lstatSync(file);
  return readdirSync(dirname(file)).some(
    (name) =>
      UNBORN.test(name) && lstatSync(join(dirname(file), name), { throwIfNoEntry: false })?.ino === ino,
  );
}

/** Folders of one kind, named after their makers, whose makers ended before they could clear them away. */
export function tidyLeft(place: string, start: string): void {
  try {
    for (const name of readdirSync(place)) {
      const pid = name.startsWith(start) ? /^(\d+)-/.exec(name.slice(start.length))?.[1] : undefined;
      if (pid !== undefined && !isAlive(Number(pid))) clearAway(join(place, name));
    }
  } catch {
    // somebody else's, or not to be read: it stays
  }
}

export function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as { code?: string }).code === 'EPERM';
  }
}
