// A safe copy of the books while they are in use, and a copy back. SQLite's own backup makes the copy; it is checked
// before it gets its name.
import { chmodSync, existsSync, renameSync, rmSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { backup, DatabaseSync } from 'node:sqlite';
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import { chainFindings } from './checks.ts';
import { prepareRows } from './log/rows.ts';
import { syncPath } from './open/birth.ts';
import { BOOKS_FILE, copyBooks, prepareFolder } from './open/open-file.ts';
import { APPLICATION_ID, SCHEMA_VERSION } from './open/schema.ts';

/** Writes a copy as one plain file; it appears under its name only when it is whole and sound. */
export async function backupTo(db: DatabaseSync, target: string): Promise<void> {
  const file = resolve(target);
  const temporary = join(dirname(file), `.${basename(file)}.${process.pid}.tmp`);
  try {
    await backup(db, temporary);
    const copy = new DatabaseSync(temporary);
    copy.exec('PRAGMA journal_mode = DELETE');
    const sound = Object.values(copy.prepare('PRAGMA integrity_check').get() ?? {})[0];
    copy.close();
    if (sound !== 'ok') throw new Error(`the copy is not sound: ${String(sound)}`);
    chmodSync(temporary, 0o600);
    syncPath(temporary);
    renameSync(temporary, file);
    syncPath(dirname(file));
  } finally {
    for (const ending of ['', '-wal', '-shm', '-journal']) rmSync(temporary + ending, { force: true });
  }
}

/** Puts a copy in the place of the books; what stood there is kept beside it. Says where. */
export function restoreFrom(
  source: string,
  folder: string,
  stamp: string,
): Result<{ keptAs: string | null }> {
  if (!existsSync(source))
    return refuse('no-file', `There is no file ${source}. Give the file a backup was written to.`, 66);
  const sound = checkCopy(source);
  if (!sound.ok) return sound;
  const made = prepareFolder(folder);
  if (!made.ok) return made;
  const file = join(folder, BOOKS_FILE);
  const temporary = `${file}.restoring`;
  try {
    copyBooks(source, temporary);
    syncPath(temporary);
    const keptAs = existsSync(file) ? `${file}.before-${stamp}` : null;
    for (const ending of ['-wal', '-shm', '']) {
      if (keptAs !== null && existsSync(file + ending)) renameSync(file + ending, keptAs + ending);
    }
    renameSync(temporary, file);
    syncPath(folder);
    return done({ keptAs });
  } catch {
    rmSync(temporary, { force: true });
    return refuse(
      'cannot-write',
      `The books in ${folder} can't be replaced. Mend the rights of the folder, or give another with --data.`,
      73,
    );
  }
}

function checkCopy(source: string): Result<null> {
  const bad = refuse(
    'bad-copy',
    `${source} is not a sound copy of the books. Give a file that ullage backup wrote.`,
  );
  try {
    const db = new DatabaseSync(source, { readOnly: true });
    try {
      const value = (name: string): unknown => Object.values(db.prepare(`PRAGMA ${name}`).get() ?? {})[0];
      if (value('application_id') !== APPLICATION_ID || value('integrity_check') !== 'ok') return bad;
      if (Number(value('user_version')) > SCHEMA_VERSION) {
        return refuse(
          'newer-file',
          `${source} was made by a newer ullage. Update ullage; nothing was changed.`,
          78,
        );
      }
      return chainFindings(prepareRows(db)).length > 0 ? bad : done(null);
    } finally {
      db.close();
    }
  } catch {
    return bad;
  }
}
