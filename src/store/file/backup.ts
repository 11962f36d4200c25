// A safe copy of the books while they are in use, and a copy back. SQLite's own backup makes the copy; it is checked
// before it gets its name.
import { chmodSync, closeSync, existsSync, openSync, readdirSync, renameSync, statSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { backup, DatabaseSync } from 'node:sqlite';
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import { chainFindings } from './checks.ts';
import { prepareRows } from './log/rows.ts';
import { clearAway, isAlive, syncPath } from './open/birth.ts';
import { copyBooks } from './open/migrate.ts';
import { prepareFolder } from './open/open-file.ts';
import { foreignParts } from './open/parts.ts';
import { openingProblem } from './open/problem.ts';
import { APPLICATION_ID, SCHEMA_VERSION } from './open/schema.ts';
import { putInPlace } from './open/swap.ts';
import { checkTarget } from './target.ts';

const journals = ['', '-wal', '-shm', '-journal'] as const;

/** Writes a copy as one plain file; it appears under its name only when it is whole and sound. */
export async function backupTo(db: DatabaseSync, books: string, target: string): Promise<Result<null>> {
  const file = resolve(target);
  const temporary = join(dirname(file), `.${basename(file)}.${process.pid}.tmp`);
  try {
    if (statSync(file, { throwIfNoEntry: false })?.ino === statSync(books).ino)
      return refuse('unsafe-target', `${clean(target)} is the books themselves. Give another name.`, 73);
    const safe = checkTarget(file, 'backup');
    if (!safe.ok) return safe;
    tidyCopies(file);
    // Made here and nowhere else: a link that somebody planted under this name is never followed.
    closeSync(openSync(temporary, 'wx', 0o600));
  } catch {
    return unwritable(target);
  }
  try {
    await backup(db, temporary);
    const copy = new DatabaseSync(temporary);
    copy.exec('PRAGMA journal_mode = DELETE');
    const sound = Object.values(copy.prepare('PRAGMA integrity_check').get() ?? {})[0];
    const [broken] = sound === 'ok' ? chainFindings(prepareRows(copy)) : [String(sound)];
    copy.close();
    if (broken !== undefined)
      return refuse(
        'damaged',
        `The copy is not sound (${clean(broken).slice(0, 80)}), so the books are damaged. Run ullage check, and keep what you have.`,
      );
    chmodSync(temporary, 0o600);
    syncPath(temporary);
    renameSync(temporary, file);
    syncPath(dirname(file));
    return done(null);
  } catch (error) {
    return (error as { errcode?: number }).errcode === undefined
      ? unwritable(target)
      : openingProblem(error, target);
  } finally {
    for (const ending of journals) clearAway(temporary + ending);
  }
}

const unwritable = (target: string): Result<never> =>
  refuse(
    'cannot-write',
    `${clean(target)} can't be written. Give a file in a folder you may write to, with space left.`,
    73,
  );

/** What backups to this name left that were ended before they were whole. */
function tidyCopies(file: string): void {
  const folder = dirname(file);
  const start = `.${basename(file)}.`;
  for (const name of readdirSync(folder)) {
    const pid = name.startsWith(start) ? /^(\d+)\.tmp/.exec(name.slice(start.length))?.[1] : undefined;
    if (pid !== undefined && !isAlive(Number(pid))) clearAway(join(folder, name));
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
  const temporary = join(folder, `.restoring-${process.pid}.sqlite`);
  try {
    copyBooks(source, temporary);
    syncPath(temporary);
    return done({ keptAs: putInPlace(temporary, folder, stamp) });
  } catch (error) {
    const { errcode } = error as { errcode?: number };
    if (errcode !== undefined && ((errcode & 255) === 5 || (errcode & 255) === 6))
      return openingProblem(error, folder);
    return refuse(
      'cannot-write',
      `The books in ${folder} can't be replaced. Mend the rights of the folder, free some space, or give another with --data.`,
      73,
    );
  } finally {
    for (const ending of journals) clearAway(temporary + ending);
  }
}

function checkCopy(source: string): Result<null> {
  const bad = refuse(
    'bad-copy',
    `${source} is not a sound copy of the books. Give a file that ullage backup wrote.`,
  );
  try {
    if (!statSync(source).isFile()) return bad;
    const db = new DatabaseSync(source, { readOnly: true });
    try {
      db.exec('PRAGMA trusted_schema = OFF');
      const value = (name: string): unknown => Object.values(db.prepare(`PRAGMA ${name}`).get() ?? {})[0];
      if (value('application_id') !== APPLICATION_ID || value('integrity_check') !== 'ok') return bad;
      const version = Number(value('user_version'));
      if (version > SCHEMA_VERSION) {
        return refuse(
          'newer-file',
          `${source} was made by a newer ullage. Update ullage; nothing was changed.`,
          78,
        );
      }
      const [foreign] = foreignParts(db, version);
      if (foreign !== undefined)
        return refuse(
          'bad-copy',
          `${source} holds something that no copy of ullage has (${clean(foreign).slice(0, 60)}). Give a file that ullage backup wrote.`,
        );
      return chainFindings(prepareRows(db)).length > 0 ? bad : done(null);
    } finally {
      db.close();
    }
  } catch (error) {
    const { code, errcode } = error as { code?: string; errcode?: number };
    // Not to be read is not the same as not sound.
    if (code === 'EACCES' || code === 'EPERM' || errcode === CANNOT_OPEN)
      return refuse('no-file', `${source} can't be read. Mend its rights, or give another copy.`, 66);
    return bad;
  }
}

/** SQLITE_CANTOPEN, sqlite.org/rescode.html. */
const CANNOT_OPEN = 14;
