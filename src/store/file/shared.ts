// The books as the exchange with the other stations needs them: rows in and out, nothing folded. It runs beside the rooms, on a
// connection of its own.
import { lstatSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { done, type Result } from '../../domain/value/problem.ts';
import type { SharedBooks } from '../exchange.ts';
import { prepareRows } from './log/rows.ts';
import { takeIn } from './log/take-in.ts';
import { BOOKS_FILE } from './open/names.ts';
import { openToWrite } from './open/open-file.ts';
import { openingProblem } from './open/problem.ts';

/** Opens the books in a folder for an exchange. */
export function openShared(folder: string): Result<SharedBooks> {
  const opened = openToWrite(folder);
  if (!opened.ok) return opened;
  const db = opened.value;
  const file = join(folder, BOOKS_FILE);
  const inode = statSync(file).ino;
  const rows = prepareRows(db);
  /** Whatever SQLite says becomes a problem: the exchange waits and tries again. */
  const asked = <T>(work: () => T): Result<T> => {
    try {
      return done(work());
    } catch (error) {
      if (db.isTransaction) db.exec('ROLLBACK');
      if ((error as { errcode?: number }).errcode === undefined) throw error;
      return openingProblem(error, file);
    }
  };
  return done({
    heads: () => asked(() => rows.heads()),
    rowsAfter: (station, seq, most) => asked(() => rows.rowsAfter(station, seq, most)),
    hashAt: (station, seq) => asked(() => rows.hashOf({ at: '', station, seq })),
    takeIn: (incoming) => {
      const result = asked(() => {
        db.exec('BEGIN IMMEDIATE');
        const taken = takeIn(rows, incoming);
        db.exec(taken.ok ? 'COMMIT' : 'ROLLBACK');
        return taken;
      });
      return result.ok ? result.value : result;
    },
    isReplaced: () => lstatSync(file, { throwIfNoEntry: false })?.ino !== inode,
    close: () => db.close(),
  });
}
