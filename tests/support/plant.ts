// Lines put into the books past every door, as an older version, a damaged disk or a stranger may have left them.
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { canonicalJson } from '../../src/domain/value/canonical.ts';
import { CHAIN_START, chainHash } from '../../src/store/chain.ts';
import { BOOKS_FILE } from '../../src/store/file/open/names.ts';

type Planted = { readonly id: string; readonly at: string; readonly station: string; readonly seq: number };

/** Each as the next line of its station, with a hash that fits. */
export function plant(
  folder: string,
  events: readonly (Planted & Readonly<Record<string, unknown>>)[],
): void {
  const db = new DatabaseSync(join(folder, BOOKS_FILE));
  const last = db.prepare('SELECT hash FROM event WHERE station = ? ORDER BY seq DESC LIMIT 1');
  const insert = db.prepare(
    'INSERT INTO event (id, at, station, seq, kind, shift, body, hash) VALUES (?, ?, ?, ?, ?, ?, ?, ?)',
  );
  for (const event of events) {
    const body = canonicalJson(event);
    const before = String(last.get(event.station)?.hash ?? CHAIN_START);
    const { kind, shift = null } = event as { kind?: unknown; shift?: unknown };
    insert.run(
      event.id,
      event.at,
      event.station,
      event.seq,
      String(kind),
      shift === null ? null : String(shift),
      body,
      chainHash(before, body),
    );
  }
  // Nothing was summed up over them yet.
  db.exec('DELETE FROM checkpoint');
  db.close();
}
