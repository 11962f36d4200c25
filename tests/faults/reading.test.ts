// Where nothing can be written everything can still be read: another user's books, a mount that is only readable, a full disk.
import { execFileSync, spawnSync } from 'node:child_process';
import { chmodSync, cpSync, mkdirSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { expect, it, onTestFinished } from 'vitest';
import { BOOKS_FILE } from '../../src/store/file/open/names.ts';
import { type Night, sealed } from '../support/night.ts';

const program = new URL('../../.build/ullage.cjs', import.meta.url).pathname;
const reading = [
  ['report', '--json'],
  ['levels', '--json'],
  ['log'],
  ['drift'],
  ['people'],
  ['export', 'events'],
  ['check'],
];
const writing = [['people', 'add', 'Wren'], ['open']];

/** A sealed night with one more person written, which stands only in the log beside the books when asked for. */
async function books(withLog: boolean): Promise<Night> {
  const night = await sealed();
  if (!withLog) return night;
  const reader = new DatabaseSync(join(night.folder, BOOKS_FILE));
  onTestFinished(() => reader.close());
  reader.exec('BEGIN');
  reader.prepare('SELECT count(*) FROM event').get();
  await night.ok('people add Zora');
  return night;
}

type Run = (...words: string[]) => { status: number | null; stdout: string; stderr: string };
const runner =
  (night: Night, folder: string, before: readonly string[] = [], home = night.folder): Run =>
  (...words) => {
    const [command, ...rest] = [...before, process.execPath, program, '--data', folder, ...words];
    return spawnSync(command as string, rest, {
      encoding: 'utf8',
      env: { ...process.env, XDG_CONFIG_HOME: home, ULLAGE_NOW: new Date(night.world.now()).toISOString() },
    });
  };

/** Every look says what it says where one may write; every change is refused, and no byte of the books is touched. */
async function readsOnly(night: Night, barred: Run, folder: string): Promise<void> {
  const bytes = (): string => readFileSync(join(folder, BOOKS_FILE)).toString('base64');
  const before = bytes();
  for (const words of reading) {
    const { status, stdout } = barred(...words);
    expect([words, status, stdout]).toEqual([words, 0, await night.ok(words.join(' '))]);
  }
  for (const words of writing) {
    const { status, stdout, stderr } = barred(...words);
    expect([words, status, stdout]).toEqual([words, 73, '']);
    expect(stderr).toMatch(/^[^\n]+\.\n$/);
  }
  expect(bytes()).toBe(before);
}

const mounted = (...words: string[]): boolean => spawnSync('mount', words).status === 0;
const leftInTemp = (): string[] => readdirSync('/tmp').filter((name) => name.startsWith('ullage-read-'));

it.each([false, true])('a mount that is only readable, something still in the log: %s', async (withLog) => {
  const night = await books(withLog);
  const copy = `${night.folder}-copy`;
  cpSync(night.folder, copy, { recursive: true });
  onTestFinished(() => rmSync(copy, { recursive: true, force: true }));
  const here = join(copy, '..', `${copy.split('/').at(-1)}-mount`);
  mkdirSync(here);
  onTestFinished(() => rmSync(here, { recursive: true, force: true }));
  if (!mounted('--bind', copy, here)) return;
  try {
    execFileSync('mount', ['-o', 'remount,bind,ro', here]);
    const before = leftInTemp();
    await readsOnly(night, runner(night, here), here);
    expect(leftInTemp()).toEqual(before);
    expect(runner(night, here)('people').stdout.includes('Zora')).toBe(withLog);
  } finally {
    execFileSync('umount', [here]);
  }
});

it.each([false, true])('books of another user, something still in the log: %s', async (withLog) => {
  const night = await books(withLog);
  const isRoot = process.getuid?.() === 0 && spawnSync('setpriv', ['--version']).status === 0;
  if (!isRoot) return;
  const copy = `${night.folder}-theirs`;
  cpSync(night.folder, copy, { recursive: true });
  onTestFinished(() => rmSync(copy, { recursive: true, force: true }));
  chmodSync(copy, 0o755);
  for (const name of readdirSync(copy)) chmodSync(join(copy, name), 0o644);
  const user = ['setpriv', '--reuid=65534', '--regid=65534', '--clear-groups'];
  const barred = runner(night, copy, user, '/nowhere');
  await readsOnly(night, barred, copy);
  chmodSync(join(copy, BOOKS_FILE), 0o600);
  const shut = barred('levels');
  expect([shut.status, shut.stdout]).toEqual([73, '']);
  expect(shut.stderr).toMatch(/^[^\n]+\.\n$/);
  // A copy that may not be read is not called unsound.
  const own = `${night.folder}-own`;
  onTestFinished(() => rmSync(own, { recursive: true, force: true }));
  mkdirSync(own);
  chmodSync(own, 0o777);
  const restored = runner(night, own, user, '/nowhere')('restore', join(copy, BOOKS_FILE));
  expect([restored.status, restored.stderr]).toEqual([66, expect.stringContaining("can't be read")]);
});

it.each([false, true])('a disk without a free byte, something still in the log: %s', async (withLog) => {
  const night = await books(withLog);
  const small = join(night.folder, 'small');
  mkdirSync(small);
  if (!mounted('-t', 'tmpfs', '-o', 'size=1400k,mode=700', 'tmpfs', small)) return;
  try {
    for (const name of readdirSync(night.folder).filter((one) => /^books\.sqlite(-wal)?$/.test(one)))
      cpSync(join(night.folder, name), join(small, name));
    spawnSync('dd', ['if=/dev/zero', `of=${small}/fill`, 'bs=1k', 'count=9999']);
    spawnSync('bash', ['-c', `cat /dev/zero >> ${small}/fill`]);
    const barred = runner(night, small);
    await readsOnly(night, barred, small);
    execFileSync('rm', [join(small, 'fill')]);
    expect(barred('people', 'add', 'Wren').status).toBe(0);
    expect(barred('check').stdout).toBe('');
  } finally {
    execFileSync('umount', [small]);
  }
});
