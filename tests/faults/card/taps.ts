// Records taps one after the other and says each when it is on disk: what a power cut is played on. `loose` is the control: writes
// that are not synced, on a file of its own, which must be seen to lose.
import { writeSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { v7 as uuid } from 'uuid';
import { intendNote } from '../../../src/domain/intent/intend-remark.ts';
import type { EventId } from '../../../src/domain/value/ids.ts';
import { openSqliteStore } from '../../../src/store/file/sqlite.ts';

const [folder = '', many = '12', how = 'kept'] = process.argv.slice(2);

function loose(): void {
  const db = new DatabaseSync(join(folder, 'loose.sqlite'));
  db.exec(
    'PRAGMA journal_mode = WAL; PRAGMA synchronous = NORMAL; CREATE TABLE IF NOT EXISTS tap (n INTEGER)',
  );
  for (let tap = 1; tap <= Number(many); tap += 1) {
    db.prepare('INSERT INTO tap VALUES (?)').run(tap);
    writeSync(1, `${tap}\n`);
  }
}

function kept(): void {
  const opened = openSqliteStore(folder, {
    now: () => Date.parse('2026-11-20T20:00:00.000Z'),
    newId: () => uuid() as EventId,
    station: () => 'proof',
  });
  if (!opened.ok) throw new Error(opened.problems[0]?.message);
  const { shift } = opened.value.books();
  for (let tap = 1; tap <= Number(many); tap += 1) {
    const recorded = opened.value.record(() =>
      intendNote(shift?.id ?? null, { text: `tap ${tap}`, item: null, by: null }),
    );
    if (!recorded.ok) throw new Error(recorded.problems[0]?.message);
    writeSync(1, `${tap}\n`);
  }
}

if (how === 'loose') loose();
else kept();
