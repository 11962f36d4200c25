// Books of another house, read from its server and kept nowhere: in memory, to be asked and never written.
import { DatabaseSync } from 'node:sqlite';
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import type { SharedRow } from '../exchange.ts';
import type { Store, StoreSetting } from '../store.ts';
import { prepareRows } from './log/rows.ts';
import { takeIn } from './log/take-in.ts';
import { createSchema } from './open/schema.ts';
import { storeOn } from './sqlite.ts';

const onlyRead = refuse(
  'only-read',
  'A house is only read from here. What is recorded is recorded at its stations.',
  73,
);

/** A store of what a server holds of one house; pages come in the order in which they got there. */
export async function openMemoryStore(
  pages: AsyncIterable<Result<readonly SharedRow[]>>,
  setting: StoreSetting,
): Promise<Result<Store>> {
  const db = new DatabaseSync(':memory:');
  db.exec('BEGIN');
  createSchema(db);
  db.exec('COMMIT');
  const rows = prepareRows(db);
  for await (const page of pages) {
    if (!page.ok) return closing(db, page);
    db.exec('BEGIN');
    const taken = takeIn(rows, page.value);
    db.exec(taken.ok ? 'COMMIT' : 'ROLLBACK');
    if (!taken.ok) return closing(db, taken);
  }
  const [readOnly] = onlyRead.ok ? [] : onlyRead.problems;
  return done(
    storeOn({ db, readOnly: readOnly ?? null, release: () => db.close() }, '', setting, () => onlyRead),
  );
}

function closing(db: DatabaseSync, result: Result<unknown>): Result<never> {
  db.close();
  return result as Result<never>;
}
