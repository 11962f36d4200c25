// Every system call of every deed that writes: killed there, or failed with EIO and ENOSPC there. What stands afterwards is the old
// books or the new ones, whole; what was said to be done is done.
import { copyFileSync, mkdirSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { furnish } from './house.ts';
import { copyBooks, inFolder, must, run, stateOf } from './program.ts';

const CALLS = 'pwrite64,fdatasync,fsync,ftruncate,unlink,rename,link';

type Deed = {
  readonly name: string;
  /** Makes the books it starts from; hands back the words of the command. */
  readonly prepare: (folder: string, home: string) => readonly string[];
};

const deeds: readonly Deed[] = [
  { name: 'first start', prepare: () => ['people', 'add', 'Wren'] },
  {
    name: 'tap',
    prepare: (folder, home) => {
      furnish(folder, home);
      return ['pour', '5 rye-lamp'];
    },
  },
  {
    name: 'tap, something in the log',
    prepare: (folder, home) => {
      furnish(folder, home);
      leaveLog(folder, home);
      return ['pour', '5 rye-lamp'];
    },
  },
  {
    name: 'seal',
    prepare: (folder, home) => {
      furnish(folder, home);
      return ['close', '--seal'];
    },
  },
  {
    name: 'take back',
    prepare: (folder, home) => {
      furnish(folder, home);
      must(folder, home, 'pour', '3 rye-lamp');
      return ['undo'];
    },
  },
  {
    name: 'import',
    prepare: (folder, home) => {
      furnish(folder, home);
      must(folder, home, 'export', 'events', '--out', join(home, 'events.jsonl'));
      copyBooks('/nowhere', folder);
      return ['import', join(home, 'events.jsonl')];
    },
  },
  {
    name: 'backup',
    prepare: (folder, home) => {
      furnish(folder, home);
      return ['backup', join(home, 'copy.sqlite')];
    },
  },
  {
    name: 'restore',
    prepare: (folder, home) => {
      furnish(folder, home);
      must(folder, home, 'backup', join(home, 'copy.sqlite'));
      must(folder, home, 'pour', '3 rye-lamp');
      leaveLog(folder, home);
      return ['restore', join(home, 'copy.sqlite')];
    },
  },
  {
    name: 'migration',
    prepare: (folder, home) => {
      furnish(folder, home);
      const file = join(folder, 'books.sqlite');
      const db = new DatabaseSync(file);
      // As version 2 had it: without the index of take-backs, of the till, and what came with stations.
      db.exec(
        'DROP INDEX event_back; DROP INDEX event_sold; DROP INDEX event_remark; DROP INDEX event_catalogue; DROP INDEX event_lost; DROP TABLE unseen',
      );
      db.exec(`CREATE INDEX event_catalogue ON event (at, station, seq)
        WHERE kind IN ('house-set', 'item-written', 'spec-written', 'person-added', 'person-left')`);
      db.exec('PRAGMA user_version = 2');
      db.close();
      return ['people', 'add', 'Wren'];
    },
  },
];

/** Leaves taps in the log beside the books, as a kill of the rooms does. */
function leaveLog(folder: string, home: string): void {
  const file = join(folder, 'books.sqlite');
  const reader = new DatabaseSync(file);
  reader.exec('BEGIN');
  reader.prepare('SELECT count(*) FROM event').get();
  must(folder, home, 'pour', '4 rye-lamp');
  for (const ending of ['', '-wal']) copyFileSync(file + ending, join(home, `kept${ending}`));
  reader.exec('COMMIT');
  reader.close();
  copyBooks('/nowhere', folder);
  mkdirSync(folder, { recursive: true });
  for (const ending of ['', '-wal']) renameSync(join(home, `kept${ending}`), file + ending);
}

export type PointsResult = {
  readonly name: string;
  readonly points: number;
  readonly bad: readonly string[];
};

/** So many calls in a row that a fault did not hurt are past the last one that matters. */
const QUIET = 12;
const MOST_CALLS = 400;

/** One deed, a fault at each of its calls until it runs through untouched. */
function tryDeed({ name, prepare }: Deed, inject: string): PointsResult {
  const bad: string[] = [];
  let points = 0;
  const isKill = inject.startsWith('signal');
  inFolder((top) => {
    const [start, folder, home] = [join(top, 'start'), join(top, 'books'), join(top, 'home')];
    mkdirSync(home);
    const words = prepare(folder, home);
    copyBooks(folder, start);
    const old = stateOrWhy(folder);
    copyBooks(start, folder);
    const clean = run(folder, home, words);
    const fresh = stateOf(folder);
    if (clean.status !== 0) throw new Error(`${name}: ${clean.err}`);
    for (let at = 1, quiet = 0; at < MOST_CALLS && quiet < (isKill ? 1 : QUIET); at += 1) {
      copyBooks(start, folder);
      const ended = run(folder, home, words, { calls: CALLS, inject, at });
      const isHurt = ended.signal !== null || ended.status !== 0;
      quiet = isHurt ? 0 : quiet + 1;
      if (isHurt) points += 1;
      const found = stateOrWhy(folder);
      if (found !== fresh && found !== old) bad.push(`${name}, call ${at}: ${found.slice(0, 120)}`);
      if (!isHurt && found !== fresh) bad.push(`${name}, call ${at}: said done and is not`);
      if (!isKill && isHurt && !/\.\n$/.test(ended.err))
        bad.push(`${name}, call ${at}: says "${ended.err.slice(0, 90)}"`);
      if (ended.status === 70) bad.push(`${name}, call ${at}: ${ended.err.slice(0, 90)}`);
    }
  });
  return { name, points, bad };
}

function stateOrWhy(folder: string): string {
  try {
    return stateOf(folder);
  } catch (error) {
    return `CLOSED ${(error as Error).message}`;
  }
}

export const killedEverywhere = (): PointsResult[] => deeds.map((deed) => tryDeed(deed, 'signal=SIGKILL'));

/** The deeds that are failed rather than killed. */
const failing = new Set(['first start', 'tap', 'seal', 'restore', 'migration']);
export const failedEverywhere = (error: 'EIO' | 'ENOSPC'): PointsResult[] =>
  deeds.filter(({ name }) => failing.has(name)).map((deed) => tryDeed(deed, `error=${error}`));
