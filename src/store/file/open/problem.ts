// What SQLite reports, as one sentence with a remedy.
import { readdirSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { type Result, refuse } from '../../../domain/value/problem.ts';

/** SQLite's own codes as sentences. `errcode & 255` is the family. */
export function openingProblem(error: unknown, file: string): Result<never> {
  const code = (error as { errcode?: number }).errcode;
  const family = code === undefined ? -1 : code & 255;
  if (family === 5 || family === 6)
    return refuse('busy', 'Another program holds the books. Try again in a moment.', 75);
  if (family === 13 || code === IOERR_WRITE || code === IOERR_SHMSIZE)
    return refuse('disk-full', 'The disk is full; nothing was recorded. Free some space and try again.', 73);
  if (code === IOERR_FSYNC || code === IOERR_DIR_FSYNC)
    return refuse(
      'not-synced',
      `The disk would not confirm what was written to ${file}, so it may or may not be saved. Look at the disk, then run ullage check and ullage log.`,
      73,
    );
  if (family === 10)
    return refuse(
      'disk-error',
      `The disk failed on ${file}; nothing was recorded. Look at the disk, and try again.`,
      73,
    );
  if (family === 8 || family === 14) {
    return refuse(
      'cannot-write',
      `${file} can't be written. Give another folder with --data, or mend its rights.`,
      73,
    );
  }
  if (code === undefined || family === 21) throw error;
  return damaged(file);
}

/** SQLite's result codes (sqlite.org/rescode.html): a write that had no room, memory that could not grow, a sync that failed. */
const [IOERR_WRITE, IOERR_SHMSIZE, IOERR_FSYNC, IOERR_DIR_FSYNC] = [778, 4874, 1034, 1290];

export const damaged = (file: string): Result<never> =>
  refuse(
    'damaged',
    `${file} is damaged or no file of ullage. Keep it, and restore a copy with ullage restore FILE.${newestBackup(file)}`,
  );

/** The newest copy that stands beside the books, by its name's ending; a hint, not a promise. */
function newestBackup(file: string): string {
  try {
    const [newest] = readdirSync(dirname(file))
      .filter((name) => /^books\.sqlite\.(before-|v\d).*(?<!-wal|-shm|\.tmp)$/.test(name))
      .map((name) => ({ name, at: statSync(join(dirname(file), name)).mtimeMs }))
      .sort((a, b) => b.at - a.at);
    return newest === undefined ? '' : ` Beside it stands ${newest.name}.`;
  } catch {
    return '';
  }
}
