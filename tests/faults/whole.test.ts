// What is written is written whole or not at all: exports, pages, backups, restores; and never over books, a device or a link.
import { spawnSync } from 'node:child_process';
import {
  existsSync,
  linkSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, it, onTestFinished } from 'vitest';
import { BOOKS_FILE } from '../../src/store/file/open/names.ts';
import { furnished, type Night, stocked, tempFolder } from '../support/night.ts';

const program = new URL('../../.build/ullage.cjs', import.meta.url).pathname;
const fileOf = ({ folder }: Pick<Night, 'folder'>): string => join(folder, BOOKS_FILE);

/** The built program on the books of a night, as a process of its own. */
const run = (night: Night, ...words: string[]) =>
  spawnSync(process.execPath, [program, '--data', night.folder, ...words], {
    encoding: 'utf8',
    env: { ...process.env, XDG_CONFIG_HOME: night.folder },
  });

/** A night with three pours that stand only in the log beside the books, as after a kill of the rooms. */
async function killed(): Promise<Night> {
  const night = await stocked();
  // A reader keeps SQLite from bringing the log in when the last writer leaves.
  const reader = new DatabaseSync(fileOf(night));
  onTestFinished(() => reader.close());
  reader.exec('BEGIN');
  reader.prepare('SELECT count(*) FROM event').get();
  for (const count of [3, 4, 5]) await night.ok(`pour ${count} rye-lamp`);
  expect(statSync(`${fileOf(night)}-wal`).size).toBeGreaterThan(0);
  return night;
}

const poured = (night: Night): number[] =>
  night.store((store) =>
    [...store.allEvents()].flatMap((event) => (event.kind === 'drink-poured' ? [event.count] : [])),
  );

describe('where a file may be written', () => {
  const outputs = [['export', 'items', '--out'], ['report', '--html'], ['report', '--csv'], ['backup']];
  const places: readonly (readonly [string, (folder: string) => string])[] = [
    ['the books', (folder) => join(folder, BOOKS_FILE)],
    ['their log', (folder) => join(folder, `${BOOKS_FILE}-wal`)],
    ['books of another name', (folder) => join(folder, 'other.sqlite')],
    ['a device', () => '/dev/null'],
    ['a folder', (folder) => folder],
    ['a link', (folder) => join(folder, 'link')],
    ['a pipe', (folder) => join(folder, 'pipe')],
    ['a name that is too long', (folder) => join(folder, 'x'.repeat(300))],
    ['a folder that is not there', (folder) => join(folder, 'nowhere', 'x')],
  ];
  it.each(places)('%s is refused in one sentence, and stays as it is', async (_, place) => {
    const night = await stocked();
    writeFileSync(join(night.folder, 'target'), 'mine');
    symlinkSync(join(night.folder, 'target'), join(night.folder, 'link'));
    spawnSync('mkfifo', [join(night.folder, 'pipe')]);
    const other = new DatabaseSync(join(night.folder, 'other.sqlite'));
    other.exec('CREATE TABLE theirs (a); PRAGMA application_id = 7');
    other.close();
    for (const words of outputs) {
      const outcome = await night.run(words[0] as string, ...words.slice(1), place(night.folder));
      expect([words, outcome.exit, outcome.out]).toEqual([words, 73, '']);
      expect(outcome.err).toMatch(/^[^\n]+\.\n$/);
    }
    expect(readFileSync(join(night.folder, 'target'), 'utf8')).toBe('mine');
    expect(await night.ok('check')).toBe('');
    const db = new DatabaseSync(join(night.folder, 'other.sqlite'));
    expect(db.prepare('PRAGMA application_id').get()).toEqual({ application_id: 7 });
    db.close();
    expect(readdirSync(night.folder).filter((name) => name.endsWith('.tmp'))).toEqual([]);
  });

  it('a backup goes over an older backup, and over nothing else', async () => {
    const night = await stocked();
    const copy = join(night.folder, 'copy.sqlite');
    await night.ok('backup', copy);
    await night.ok('pour 1 rye-lamp');
    await night.ok('backup', copy);
    writeFileSync(join(night.folder, 'notes.txt'), 'mine');
    expect((await night.run('backup', join(night.folder, 'notes.txt'))).exit).toBe(73);
    const second = join(night.folder, 'second.sqlite');
    linkSync(fileOf(night), second);
    expect((await night.run('backup', second)).exit).not.toBe(0);
    rmSync(second);
    // Books of another folder that are in use.
    const other = await furnished();
    const away = join(night.folder, 'away.sqlite');
    renameSync(fileOf(other), away);
    writeFileSync(`${away}-wal`, '');
    expect((await night.run('backup', away)).err).toContain('in use');
  });

  it('a backup of altered books is refused: its copy could not be restored', async () => {
    const night = await stocked();
    await night.ok('pour 1 rye-lamp');
    const bytes = readFileSync(fileOf(night));
    bytes[bytes.lastIndexOf('"amount":60000') + 9] = '7'.charCodeAt(0);
    writeFileSync(fileOf(night), bytes);
    const { exit, out, err } = await night.run('backup', join(night.folder, 'copy.sqlite'));
    expect([exit, out, err]).toEqual([65, '', expect.stringContaining('the books are damaged')]);
    expect(existsSync(join(night.folder, 'copy.sqlite'))).toBe(false);
  });

  it('what an ended backup left is tidied by the next one, and a planted name is not followed', async () => {
    const night = await stocked();
    const left = join(night.folder, '.copy.sqlite.4194000.tmp');
    writeFileSync(left, 'half');
    await night.ok('backup', join(night.folder, 'copy.sqlite'));
    expect(existsSync(left)).toBe(false);
    const planted = join(night.folder, `.copy.sqlite.${process.pid}.tmp`);
    writeFileSync(join(night.folder, 'target'), 'mine');
    symlinkSync(join(night.folder, 'target'), planted);
    expect((await night.run('backup', join(night.folder, 'copy.sqlite'))).exit).toBe(73);
    expect(readFileSync(join(night.folder, 'target'), 'utf8')).toBe('mine');
  });
});

describe('a file that comes in', () => {
  it.each([
    ['a pipe', (folder: string) => join(folder, 'pipe.jsonl')],
    ['an endless device', () => '/dev/zero'],
    ['a link to one', (folder: string) => join(folder, 'zero.csv')],
    ['a folder', (folder: string) => folder],
    ['a name that is too long', (folder: string) => join(folder, `${'x'.repeat(300)}.jsonl`)],
  ])('%s is refused in one sentence and never waited for', async (_, place) => {
    const night = await furnished();
    spawnSync('mkfifo', [join(night.folder, 'pipe.jsonl')]);
    symlinkSync('/dev/zero', join(night.folder, 'zero.csv'));
    const outcome = await night.run('import', place(night.folder));
    expect([outcome.exit, outcome.out]).toEqual([66, '']);
    expect(outcome.err).toMatch(/^[^\n]+\.\n$/);
  });
});

describe('a disk that is full', () => {
  it('an export through the shell says so and does not pass for whole', async () => {
    const night = await stocked();
    for (let index = 0; index < 300; index += 1)
      await night.ok('house name', `House ${index} ${'x'.repeat(40)}`);
    const out = join(night.folder, 'out.jsonl');
    const { status, stderr } = spawnSync(
      'bash',
      ['-c', 'ulimit -f 64; trap "" XFSZ; "$0" "$1" --data "$2" export events > "$3"'].concat([
        process.execPath,
        program,
        night.folder,
        out,
      ]),
      { encoding: 'utf8', env: { ...process.env, XDG_CONFIG_HOME: night.folder } },
    );
    expect([status, stderr]).toEqual([73, expect.stringContaining('could not be written')]);
    expect(run(night, 'export', 'events').status).toBe(0);
  });
});

describe('a restore', () => {
  it('takes its source with what stands in the log beside it, and can be undone to the last tap', async () => {
    const night = await stocked();
    const copy = join(night.folder, 'copy.sqlite');
    await night.ok('backup', copy);
    const shown = await killed();
    expect(await shown.ok('restore', copy)).toContain('Restored');
    expect(poured(shown)).toEqual([]);
    const kept = readdirSync(shown.folder).find((name) => /before-.*Z$/.test(name)) ?? '';
    expect(await shown.ok('restore', join(shown.folder, kept))).toContain('Restored');
    expect(poured(shown)).toEqual([3, 4, 5]);
    expect(await shown.ok('check')).toBe('');
  });

  it('does not read a log that somebody left as the log of the copy', async () => {
    const night = await killed();
    const copy = join(night.folder, 'copy.sqlite');
    const other = await stocked();
    await other.ok('backup', copy);
    const aside = mkdtempSync(join(tmpdir(), 'ullage-test-'));
    onTestFinished(() => rmSync(aside, { recursive: true }));
    renameSync(fileOf(night), join(aside, 'moved'));
    const orphan = await night.run('levels');
    expect([orphan.exit, orphan.err]).toEqual([65, expect.stringContaining('is gone, but its log')]);
    await night.ok('restore', copy);
    expect(poured(night)).toEqual([]);
    expect(await night.ok('check')).toBe('');
    expect(readdirSync(night.folder).some((name) => /before-.*Z-wal$/.test(name))).toBe(true);
  });

  it('while the books are open: the next tap there is refused, and none is lost on the way', async () => {
    const night = await stocked();
    const copy = join(night.folder, 'copy.sqlite');
    await night.ok('backup', copy);
    await night.ok('pour 2 rye-lamp');
    const { openSqliteStore } = await import('../../src/store/file/sqlite.ts');
    const { newEventId } = await import('../../src/shell/world.ts');
    const opened = openSqliteStore(night.folder, {
      now: night.world.now,
      newId: newEventId,
      station: () => 'test',
    });
    if (!opened.ok) throw new Error('not opened');
    await night.ok('restore', copy);
    const refused = opened.value.record(() => ({ ok: true, value: [] }));
    expect(refused).toMatchObject({ ok: false, problems: [{ code: 'file-gone', exit: 73 }] });
    opened.value.close();
    await night.ok('pour 7 rye-lamp');
    expect(poured(night)).toEqual([7]);
    expect(await night.ok('check')).toBe('');
  });

  it('refuses a copy with a trigger that no copy of ours has', async () => {
    const night = await stocked();
    const copy = join(night.folder, 'copy.sqlite');
    await night.ok('backup', copy);
    const db = new DatabaseSync(copy);
    db.exec('CREATE TRIGGER planted AFTER INSERT ON event BEGIN DELETE FROM checkpoint; END');
    db.close();
    expect(await night.run('restore', copy)).toMatchObject({
      exit: 65,
      err: expect.stringContaining('planted'),
    });
  });

  it('that ended before it was decided leaves nothing behind that shuts the books', async () => {
    const night = await killed();
    const file = fileOf(night);
    for (const ending of ['', '-wal']) linkSync(file + ending, `${file}.before-then${ending}`);
    writeFileSync(join(night.folder, '.restoring-4194000.sqlite'), 'half');
    expect(poured(night)).toEqual([3, 4, 5]);
    expect(await night.ok('check')).toBe('');
    expect(readdirSync(night.folder).filter((name) => /before-|restoring/.test(name))).toEqual([]);
  });

  it('is decided by one name: what was begun is ended by whoever opens the books next', async () => {
    const night = await killed();
    const other = await stocked();
    await other.ok('pour 9 rye-lamp');
    const copy = join(night.folder, 'copy.sqlite');
    await other.ok('backup', copy);
    renameSync(copy, `${fileOf(night)}.restored`);
    expect(poured(night)).toEqual([9]);
    expect(await night.ok('check')).toBe('');
    // A link of that name is nobody's decision.
    symlinkSync(copy, `${fileOf(night)}.restored`);
    expect(poured(night)).toEqual([9]);
  });

  it('killed at any of its calls leaves the old books or the new ones, whole', { timeout: 240_000 }, async ({
    skip,
  }) => {
    if (spawnSync('strace', ['-V']).status !== 0) skip('strace is not here');
    const source = await stocked();
    await source.ok('pour 9 rye-lamp');
    const copy = join(tempFolder(), 'copy.sqlite');
    await source.ok('backup', copy);
    const calls = 'link,rename,unlink';
    let ended = false;
    const seen = new Set<string>();
    for (let at = 1; !ended && at < 60; at += 1) {
      const night = await killed();
      const { signal } = spawnSync(
        'strace',
        [
          ...['-f', '-qq', '-o', '/dev/null', '-e', `trace=${calls}`],
          ...['-e', `inject=${calls}:signal=SIGKILL:when=${at}`],
          ...[process.execPath, program, '--data', night.folder, 'restore', copy],
        ],
        { env: { ...process.env, XDG_CONFIG_HOME: night.folder } },
      );
      ended = signal === null;
      const found = poured(night).join(' ');
      expect([at, found]).toEqual([at, expect.stringMatching(/^(3 4 5|9)$/)]);
      expect(await night.ok('check')).toBe('');
      seen.add(found);
    }
    expect([ended, seen.size]).toEqual([true, 2]);
  });
});

it('a folder of the books is not taken over by the names of others', async () => {
  const night = await furnished();
  mkdirSync(join(night.folder, `${BOOKS_FILE}.restored`));
  expect((await night.run('levels')).exit).toBe(0);
});
