// Where a file may be written: never over books, a device or through a link, and over nothing that is not of its kind.
import { closeSync, existsSync, lstatSync, openSync, readSync, type Stats } from 'node:fs';
import { basename } from 'node:path';
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import { BOOKS_FILE } from './open/names.ts';
import { APPLICATION_ID } from './open/schema.ts';

/** What SQLite itself keeps beside a database, and what we keep beside the books. */
const beside = /^(.+)-(wal|shm|journal)$/;
const ofBooks = new RegExp(`^${BOOKS_FILE.replace('.', '\\.')}(-wal|-shm|-journal|\\..*)?$`);
/** The header of the SQLite file format, sections 1.2 and 1.3: sixteen letters, and the application's own number at byte 68. */
const MAGIC = 'SQLite format 3\0';
const APPLICATION_AT = 68;

/** Refuses a place where writing would destroy something; `kind` is what would be written there. */
export function checkTarget(path: string, kind: 'text' | 'backup'): Result<null> {
  const stat = lstatSync(path, { throwIfNoEntry: false });
  const shown = clean(path);
  const name = basename(path);
  const base = beside.exec(path)?.[1];
  if (ofBooks.test(name) || (base !== undefined && existsSync(base)))
    return unsafe(`${shown} is the name of books, or of a part of them. Give another name.`);
  if (stat === undefined) return done(null);
  if (stat.isSymbolicLink()) return unsafe(`${shown} is a link. Give the file itself, or another name.`);
  if (!stat.isFile())
    return unsafe(`${shown} is no plain file, so it is not written to. Give the name of a file.`);
  const what = kindOf(path, stat);
  if (kind === 'text')
    return what === 'text'
      ? done(null)
      : unsafe(`${shown} is a database, not a file of that kind. Give another name.`);
  if (what !== 'books')
    return unsafe(`${shown} is there already and is no copy of the books. Give another name.`);
  return ['-wal', '-shm', '-journal'].some((ending) => existsSync(path + ending))
    ? unsafe(`${shown} is in use, or holds books themselves. Give another name.`)
    : done(null);
}

const unsafe = (message: string): Result<never> => refuse('unsafe-target', message, 73);

function kindOf(path: string, { size }: Stats): 'text' | 'database' | 'books' {
  const head = Buffer.alloc(100);
  const handle = openSync(path, 'r');
  try {
    readSync(handle, head, 0, head.length, 0);
  } finally {
    closeSync(handle);
  }
  if (size < MAGIC.length || head.toString('latin1', 0, MAGIC.length) !== MAGIC) return 'text';
  return head.readUInt32BE(APPLICATION_AT) === APPLICATION_ID ? 'books' : 'database';
}
