import { execFileSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  linkSync,
  readdirSync,
  readFileSync,
  renameSync,
  statSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, it } from 'vitest';
import { intendPersonAdded } from '../../src/domain/intent/intend-house.ts';
import { restoreFrom } from '../../src/store/file/backup.ts';
import { BOOKS_FILE } from '../../src/store/file/open/names.ts';
import { APPLICATION_ID, SCHEMA_VERSION, schemaV1 } from '../../src/store/file/open/schema.ts';
import { furnished, type Night, openNight } from '../support/night.ts';

const fileOf = (night: Night): string => join(night.folder, BOOKS_FILE);
const exitOf = async (night: Night): Promise<number> => (await night.run('levels')).exit;

/** A house that opens its night, and the events of a second station, which took in two bottles before that. */
async function twoStations(): Promise<{ readonly mine: Night; readonly file: string }> {
  const mine = await furnished();
  const theirs = openNight('2026-11-20T17:30:00.000Z', 'other');
  const file = join(theirs.folder, 'e.jsonl');
  await mine.ok('export events --out', file);
  await theirs.ok('import', file);
  await theirs.ok('receive 2', 'straight rye');
  await theirs.ok('export events --out', file);
  mine.at('2026-11-20T18:00:00.000Z');
  await mine.ok('open');
  return { mine, file };
}

async function backedUp(night: Night): Promise<string> {
  const copy = join(night.folder, 'backed-up.sqlite');
  await night.ok('backup', copy);
  return copy;
}

describe('the file of the books', () => {
  it('belongs to its owner only, and so does a folder that is made for it; one that stood there keeps its mode', async () => {
    const night = await furnished();
    expect(statSync(fileOf(night)).mode & 0o777).toBe(0o600);
    chmodSync(night.folder, 0o1777);
    chmodSync(fileOf(night), 0o666);
    await night.ok('levels');
    expect(statSync(night.folder).mode & 0o7777).toBe(0o1777);
    expect(statSync(fileOf(night)).mode & 0o777).toBe(0o600);
    const made = join(night.folder, 'a', 'b');
    expect(restoreFrom(await backedUp(night), made, 'now')).toEqual({ ok: true, value: { keptAs: null } });
    expect([made, join(night.folder, 'a')].map((path) => statSync(path).mode & 0o777)).toEqual([
      0o700, 0o700,
    ]);
  });

  it('that is none of ours stays as it is, to the last byte', async () => {
    const night = openNight();
    const foreign = new DatabaseSync(fileOf(night));
    foreign.exec('CREATE TABLE theirs (a)');
    foreign.close();
    const before = readFileSync(fileOf(night));
    expect((await night.run('levels')).err).toContain('is not a file of ullage');
    expect(readFileSync(fileOf(night)).equals(before)).toBe(true);
  });

  it('refuses to change or delete an event', async () => {
    const night = await furnished();
    const db = new DatabaseSync(fileOf(night));
    expect(() => db.exec("UPDATE event SET body = '{}'")).toThrow('never changed');
    expect(() => db.exec('DELETE FROM event')).toThrow('never deleted');
    expect(() =>
      db.exec(
        "INSERT INTO event (id, at, station, seq, kind, body, hash) VALUES ('x', 'y', 's', 1, 'k', '{}', 'h')",
      ),
    ).toThrow();
    db.close();
  });

  it('is refused when empty, foreign, newer, cut, linked or no database, and left as it was', async () => {
    const spoil: [string, number, (file: string) => void][] = [
      ['empty', 65, (file) => truncateSync(file, 0)],
      [
        'text',
        65,
        (file) => writeFileSync(file, 'these are not your books at all, but a text file of some length'),
      ],
      ['cut', 65, (file) => truncateSync(file, statSync(file).size - 100)],
      ['foreign', 65, (file) => new DatabaseSync(file).exec('PRAGMA application_id = 7')],
      ['newer', 78, (file) => new DatabaseSync(file).exec('PRAGMA user_version = 999')],
      ['two names', 65, (file) => linkSync(file, `${file}.twin`)],
      [
        'a link',
        65,
        (file) => {
          renameSync(file, `${file}.real`);
          symlinkSync(`${file}.real`, file);
        },
      ],
    ];
    for (const [name, exit, damage] of spoil) {
      const night = await furnished();
      damage(fileOf(night));
      const before = readFileSync(fileOf(night));
      const outcome = await night.run('levels');
      expect([name, outcome.exit]).toEqual([name, exit]);
      expect(outcome.err).toMatch(/\.\n$/);
      expect(readFileSync(fileOf(night)).equals(before)).toBe(true);
    }
  });

  it('notices a changed byte of an event that SQLite itself does not', async () => {
    const night = await furnished();
    await night.ok('open');
    await night.ok('pour', 'lantern sour');
    const db = new DatabaseSync(fileOf(night));
    db.exec('PRAGMA wal_checkpoint(TRUNCATE)');
    db.close();
    const bytes = readFileSync(fileOf(night));
    const at = bytes.indexOf('"amount":60000');
    bytes[at + 9] = '7'.charCodeAt(0);
    writeFileSync(fileOf(night), bytes);
    const outcome = await night.run('check');
    expect(outcome.exit).toBe(1);
    expect(outcome.out).toContain('chain: Event');
    expect((await night.run('check store')).exit).toBe(0);
  });

  it('of an older version is copied, migrated, and says the same as before', async () => {
    const night = await furnished();
    await night.ok('open');
    await night.ok('pour 2', 'lantern sour');
    const report = await night.ok('close --json');
    const rows = new DatabaseSync(fileOf(night)).prepare('SELECT * FROM event ORDER BY number').all();
    const old = openNight('2026-11-20T17:00:00.000Z');
    const db = new DatabaseSync(fileOf(old));
    db.exec(schemaV1);
    db.exec(`PRAGMA application_id = ${APPLICATION_ID}; PRAGMA user_version = 1`);
    const insert = db.prepare(
      'INSERT INTO event (number, id, at, station, seq, kind, shift, body, hash) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)',
    );
    for (const row of rows) insert.run(...(Object.values(row) as string[]));
    db.close();
    expect(await old.ok('close --json')).toBe(report);
    expect(readdirSync(old.folder).filter((name) => /\.v1-.*\.bak$/.test(name))).toHaveLength(1);
    expect(new DatabaseSync(fileOf(old)).prepare('PRAGMA user_version').get()).toEqual({
      user_version: SCHEMA_VERSION,
    });
    expect(await old.ok('check')).toBe('');
    // The old file put back on the same day has a copy of its own.
    await old.ok(
      'restore',
      join(old.folder, readdirSync(old.folder).find((name) => name.endsWith('.bak')) ?? ''),
    );
    expect(await old.ok('close --json')).toBe(report);
    expect(readdirSync(old.folder).filter((name) => /\.v1-.*\.bak$/.test(name))).toHaveLength(2);
  });

  it('in which a line becomes unreadable while they are open set it aside, go on, and say so', async () => {
    const night = await furnished();
    night.store((store) => {
      const before = store.books();
      const db = new DatabaseSync(fileOf(night));
      db.prepare(
        'INSERT INTO event (id, at, station, seq, kind, shift, body, hash) VALUES (?, ?, ?, 1, ?, NULL, ?, ?)',
      ).run('0'.repeat(36), '2026-11-20T17:00:00.000Z', 'z', 'x', '{"kind":"no-such-thing"}', '0'.repeat(64));
      db.close();
      expect(store.books()).toEqual(before);
      expect(store.setAside()).toBe(1);
      expect(store.record((books) => intendPersonAdded(books, 'Wren')).ok).toBe(true);
      expect(store.setAside()).toBe(1);
    });
    expect(await night.run('people')).toMatchObject({
      exit: 0,
      out: expect.stringContaining('Wren'),
      err: expect.stringContaining("1 line of the books can't be read"),
    });
    expect((await night.run('check events')).out).toMatch(/^events: Line \d+ \(event 1 of station z\)/);
  });

  it('gone or replaced while open: nothing is said to be recorded', async () => {
    const night = await furnished();
    night.store((store) => {
      renameSync(fileOf(night), `${fileOf(night)}.away`);
      const result = store.record(() => ({
        ok: true,
        value: [{ kind: 'house-set', shift: null, by: null, key: 'name', value: 'x' }],
      }));
      expect(result).toMatchObject({ ok: false, problems: [{ code: 'file-gone', exit: 73 }] });
    });
  });

  it('a folder that cannot be made is refused', async () => {
    const night = openNight();
    const outcome = await night.run('levels');
    expect(outcome.exit).toBe(0);
    writeFileSync(join(night.folder, 'plain'), '');
    const program = new URL('../../.build/ullage.cjs', import.meta.url).pathname;
    expect(() =>
      execFileSync(process.execPath, [program, '--data', join(night.folder, 'plain', 'x'), 'levels'], {
        stdio: 'pipe',
      }),
    ).toThrow(expect.objectContaining({ status: 73 }));
  });
});

describe('two programs on the same books', () => {
  it('lose nothing and keep gapless numbers', async () => {
    const night = await furnished();
    await night.ok('open');
    const program = new URL('../../.build/ullage.cjs', import.meta.url).pathname;
    const { spawn } = await import('node:child_process');
    const env = { ...process.env, XDG_CONFIG_HOME: night.folder };
    const one = () =>
      new Promise<number>((resolve) =>
        spawn(process.execPath, [program, '--data', night.folder, 'pour', 'lantern sour'], {
          env,
          stdio: 'ignore',
        }).on('exit', (code) => resolve(code ?? 1)),
      );
    const codes = await Promise.all(Array.from({ length: 24 }, one));
    expect(codes.every((code) => code === 0)).toBe(true);
    night.store((store) => {
      expect(store.books().shift?.drinks.get('lantern-sour' as never)?.count).toBe(24);
      // The programs wrote at the real time, which for this test's clock is the future.
      expect(store.check(['store', 'chain', 'replay', 'conservation'])).toEqual([]);
    });
  });

  it('one sees what the other wrote, also what was taken back or entered late', async () => {
    const night = await furnished();
    await night.ok('open');
    night.store((mine) => {
      night.store((theirs) => {
        night.later(5);
        const pour = {
          kind: 'measure-poured' as const,
          shift: mine.books().shift?.id ?? null,
          by: null,
          count: 1,
          as: 'sale' as const,
          draws: [{ item: 'dry-gin' as never, place: 'bar', amount: 40_000, costMillis: null }],
        };
        theirs.record(() => ({ ok: true, value: [pour] }));
        expect(mine.isStale()).toBe(true);
        expect(mine.books().stock.get('dry-gin\nbar')?.amount).toBe(-40_000);
        theirs.record(() => ({ ok: true, value: [{ ...pour, at: '2026-11-20T17:01:00.000Z' }] }));
        expect(mine.books().stock.get('dry-gin\nbar')?.amount).toBe(-80_000);
        const [last] = theirs.log(1);
        theirs.record(() => ({
          ok: true,
          value: [{ kind: 'event-taken-back', shift: null, by: null, target: last?.event.id as never }],
        }));
        expect(mine.books().stock.get('dry-gin\nbar')?.amount).toBe(-40_000);
      });
    });
  });
});

describe('checkpoints', () => {
  it('are only a cache: with and without them the books are the same', async () => {
    const night = await furnished();
    for (let shift = 0; shift < 4; shift += 1) {
      await night.ok('open');
      await night.ok('receive 2', 'dry gin', '--cost', `1${shift}.00`);
      await night.ok('pour 3', 'lantern sour');
      await night.ok('count', 'dry gin', '1.4');
      night.later(60);
      await night.ok('close --seal');
      night.later(60);
    }
    const first = await night.ok('report --json');
    const db = new DatabaseSync(fileOf(night));
    expect(Number(db.prepare('SELECT count(*) AS n FROM checkpoint').get()?.n)).toBe(4);
    db.exec('DELETE FROM checkpoint');
    db.close();
    expect(await night.ok('report --json')).toBe(first);
    expect(await night.ok('check')).toBe('');
  });
});

describe('what the promises rest on', () => {
  it('the settings of the file, read back', async () => {
    const { openBooksFile } = await import('../../src/store/file/open/open-file.ts');
    const opened = openBooksFile(openNight().folder);
    if (!opened.ok) throw new Error('not opened');
    const value = (name: string): unknown =>
      Object.values(opened.value.db.prepare(`PRAGMA ${name}`).get() ?? {})[0];
    expect(
      ['synchronous', 'journal_mode', 'busy_timeout', 'foreign_keys', 'trusted_schema', 'temp_store'].map(
        value,
      ),
    ).toEqual([2, 'wal', 5000, 1, 0, 2]);
    opened.value.release();
  });

  it('a late entry before a checkpoint makes it worthless, and it is dropped', async () => {
    const night = await furnished();
    await night.ok('open');
    const pours = (count: number) =>
      night.store((store) => {
        const draft = {
          kind: 'measure-poured' as const,
          shift: store.books().shift?.id ?? null,
          by: null,
          count: 1,
          as: 'sale' as const,
          draws: [{ item: 'dry-gin' as never, place: 'bar', amount: 1000, costMillis: null }],
        };
        return store.record(() => ({ ok: true, value: Array.from({ length: count }, () => draft) }));
      });
    night.later(10);
    pours(2100);
    night.store((store) => store.books());
    const db = new DatabaseSync(fileOf(night));
    expect(Number(db.prepare('SELECT count(*) AS n FROM checkpoint').get()?.n)).toBeGreaterThan(0);
    db.close();
    await night.ok('lose 5ml', 'dry gin', '--why', 'spill', '--at', '2026-11-20T17:02:00Z');
    expect(await night.ok('check')).toBe('');
    expect(night.books().stock.get('dry-gin\nbar')?.amount).toBe(-2_105_000);
  });

  it('events of another station from before a seal are refused, with their line: what was sealed stays', async () => {
    const { mine, file } = await twoStations();
    await mine.ok('count', 'dry gin', '1.0');
    await mine.ok('close --seal');
    const before = await mine.ok('report --json');
    const refused = await mine.run('import', file);
    expect(refused).toMatchObject({ exit: 65, out: '' });
    expect(refused.err).toMatch(/line 14: That moment lies before the last seal \(the shift of Fri 20 Nov\)/);
    expect(await mine.ok('report --json')).toBe(before);
    expect(await mine.ok('check')).toBe('');
  });

  it('events of another station from before a seal are taken in before it', async () => {
    const { mine, file } = await twoStations();
    await mine.ok('import', file);
    await mine.ok('close --seal');
    expect(mine.books().stock.get('rye\nbar')?.amount).toBe(1_400_000);
    expect(await mine.ok('check')).toBe('');
  });

  it.each([
    ['a future moment', { at: '2026-11-21T17:00:00.000Z' }, /lies in the future/],
    ['an item nobody wrote', { item: 'old-tom' }, /The item "old-tom" is not stocked/],
    ['a moment before its item', { at: '2026-11-20T16:00:00.000Z' }, /nothing of it can have moved before/],
    ['a shift nobody opened', { shift: '01920000-0000-7000-8000-00000000000f' }, /is not there/],
  ])('an event from outside with %s is refused with its line', async (_, part, said) => {
    const night = await furnished();
    night.at('2026-11-20T18:00:00.000Z');
    const file = join(night.folder, 'one.jsonl');
    const event = {
      id: '01920000-0000-7000-8000-00000000000e',
      at: '2026-11-20T17:30:00.000Z',
      station: 'laptop',
      seq: 1,
      shift: null,
      by: null,
      kind: 'stock-lost',
      item: 'dry-gin',
      place: 'bar',
      amount: 40_000,
      why: 'spill',
    };
    writeFileSync(file, `${JSON.stringify({ ...event, ...part })}\n`);
    const outcome = await night.run('import', file);
    expect(outcome).toMatchObject({ exit: 65, out: '' });
    expect(outcome.err).toMatch(/line 1: /);
    expect(outcome.err).toMatch(said);
    expect(night.books().stock.size).toBe(0);
  });

  it('a second open shift from outside is refused', async () => {
    const night = await furnished();
    await night.ok('open');
    night.later(10);
    const file = join(night.folder, 'open.jsonl');
    writeFileSync(
      file,
      `${JSON.stringify({ id: '01920000-0000-7000-8000-00000000000e', at: '2026-11-20T17:05:00.000Z', station: 'laptop', seq: 1, shift: null, by: null, kind: 'shift-opened', date: '2026-11-20' })}\n`,
    );
    expect((await night.run('import', file)).err).toMatch(
      /line 1: The shift of 2026-11-20 opens while that of/,
    );
    expect(await night.ok('check')).toBe('');
  });

  it('a gap in the numbers of a station is refused, with the line', async () => {
    const night = await furnished();
    const file = join(night.folder, 'e.jsonl');
    await night.ok('export events --out', file);
    const lines = readFileSync(file, 'utf8').trim().split('\n');
    lines.splice(3, 1);
    writeFileSync(file, `${lines.join('\n')}\n`);
    const other = openNight();
    const outcome = await other.run('import', file);
    expect(outcome).toMatchObject({ exit: 65, out: '' });
    expect(outcome.err).toMatch(/line 4: Station test goes from 3 to 5/);
    expect(other.books().items.size).toBe(0);
  });
});

describe('backup and restore', () => {
  it('takes what still stands in the log of a copy, as a program that was killed leaves it', async () => {
    const night = await furnished();
    const other = openNight();
    // Books that are open elsewhere have not brought home their log.
    const holds = new DatabaseSync(fileOf(night));
    holds.exec('BEGIN; SELECT count(*) FROM event');
    await night.ok('people add Wren');
    await other.ok('restore', fileOf(night));
    holds.close();
    expect(await other.ok('people')).toContain('Wren');
  });

  it('copy the books whole, refuse what is no copy, and keep what was there', async () => {
    const night = await furnished();
    await night.ok('open');
    await night.ok('pour', 'lantern sour');
    const copy = join(night.folder, 'copy.sqlite');
    await night.ok('backup', copy);
    expect(statSync(copy).mode & 0o777).toBe(0o600);
    const before = await night.ok('log --json --last 100');
    await night.ok('pour 5', 'lantern sour');
    expect(await night.ok('restore', copy)).toContain('kept as');
    expect(await night.ok('log --json --last 100')).toBe(before);
    expect(await night.ok('check')).toBe('');
    expect(
      readdirSync(night.folder).filter(
        (name) => name.includes('before-') && !name.includes('-wal') && !name.includes('-shm'),
      ),
    ).toHaveLength(1);
    writeFileSync(copy, 'nonsense');
    expect((await night.run('restore', copy)).exit).toBe(65);
    expect(existsSync(fileOf(night))).toBe(true);
    expect(await exitOf(night)).toBe(0);
  });
});

it('start-up finds the catalogue by its index, not by a walk through all events', async () => {
  const night = await furnished();
  const { catalogueKinds } = await import('../../src/domain/ledger/event.ts');
  const filter = `kind IN (${catalogueKinds.map((kind) => `'${kind}'`).join(', ')})`;
  const db = new DatabaseSync(fileOf(night));
  const plan = db
    .prepare(
      `EXPLAIN QUERY PLAN SELECT body FROM event WHERE ${filter} AND (at, station, seq) <= ('x', 'x', 1) ORDER BY at, station, seq`,
    )
    .all();
  db.close();
  expect(plan.map((row) => String(row.detail)).join()).toContain('event_catalogue');
});
