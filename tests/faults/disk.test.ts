// A full disk and a folder that can't be written: said at once, nothing half recorded, nothing damaged.
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { furnished, type Night } from '../support/night.ts';
import { processesWith, startProgram } from '../support/pty.ts';

const program = new URL('../../.build/ullage.cjs', import.meta.url).pathname;

function mounted(folder: string, words: string[]): boolean {
  return spawnSync('mount', [...words, folder]).status === 0;
}

/** A disk of its own that is soon full; the test is skipped where mounting is not allowed. */
function smallDisk(night: Night, size: string, skip: (why: string) => void): string {
  const small = join(night.folder, 'small');
  mkdirSync(small);
  if (!mounted(small, ['-t', 'tmpfs', '-o', `size=${size},mode=700`, 'tmpfs']))
    skip('mounting is not allowed here');
  onTestFinished(() => {
    execFileSync('umount', ['-l', small]);
  });
  return small;
}

const commandsIn =
  (small: string, env: Readonly<Record<string, string>>) =>
  (...words: string[]) =>
    spawnSync(process.execPath, [program, '--data', small, ...words], {
      encoding: 'utf8',
      env: { ...process.env, ...env },
    });

/** A night with Ines pouring, brought to a small disk. */
async function openNightOn(skip: (why: string) => void) {
  const night = await furnished(new Date(Date.now() - 600_000).toISOString());
  await night.ok('open --by Ines');
  const small = smallDisk(night, '900k', skip);
  const env = { XDG_CONFIG_HOME: night.folder, XDG_STATE_HOME: night.folder };
  const run = commandsIn(small, env);
  const copy = join(night.folder, 'copy.sqlite');
  await night.ok('backup', copy);
  expect(run('restore', copy).status).toBe(0);
  return { night, small, env, run };
}

it('a full disk: exit 73, what was recorded before is whole', async ({ skip }) => {
  const night = await furnished();
  const small = smallDisk(night, '600k', skip);
  const run = commandsIn(small, { XDG_CONFIG_HOME: night.folder });
  expect(run('people', 'add', 'Ines').status).toBe(0);
  let stored = 0;
  let last = run('open');
  for (let index = 0; index < 400 && last.status === 0; index += 1) {
    last = run('house', 'name', `House number ${index} ${'x'.repeat(30)}`);
    if (last.status === 0) stored = index;
    if (index === 2)
      execFileSync('bash', ['-c', `dd if=/dev/zero of=${small}/fill bs=1k count=2000 2>/dev/null || true`]);
  }
  expect(last.status).toBe(73);
  expect(last.stderr).toMatch(/disk is full|can't be written/);
  execFileSync('rm', [`${small}/fill`]);
  expect(run('house', 'name').stdout).toContain(`House number ${stored} `);
  expect(run('check', 'store', 'chain', 'replay').status).toBe(0);
});

it('a full disk under open rooms: taps are held at the head of the screen, and saved in order when there is room', async ({
  skip,
}) => {
  const { small, env, run } = await openNightOn(skip);
  const at = startProgram(['--data', small], { env });
  await at.sees('Ines pouring');
  at.type('1 rye\r');
  await at.sees('Poured 1 Rye Lamp');
  spawnSync('bash', ['-c', `cat /dev/zero > ${small}/fill`]);
  at.type('2 rye\r3 rye\r4 lan\r');
  await at.sees('NOT SAVED: 3 taps');
  await at.sees('The disk is full: free some space.');
  execFileSync('rm', [`${small}/fill`]);
  await at.sees('Everything is saved again.');
  at.type('5 rye\r');
  await at.sees('Poured 5 Rye Lamp');
  at.type('\u0003\u0003');
  expect((await at.exit).exitCode).toBe(0);
  const counts = JSON.parse(run('log', '--json', '--last', '6').stdout) as { text: string }[];
  expect(counts.map(({ text }) => text).filter((text) => text.startsWith('Poured'))).toEqual([
    'Poured 1 Rye Lamp',
    'Poured 2 Rye Lamp',
    'Poured 3 Rye Lamp',
    'Poured 4 Lantern Sour',
    'Poured 5 Rye Lamp',
  ]);
  expect(run('check').stdout).toBe('');
});

it('a window closed while the disk is full: what was not saved is kept elsewhere and taken in at the next start, once', async ({
  skip,
}) => {
  const { night, small, env, run } = await openNightOn(skip);
  // Beside the books when the few bytes fit there, else with this machine's own notes.
  const kept = () =>
    [small, join(night.folder, 'ullage')]
      .flatMap((folder) => readdirSync(folder))
      .filter((name) => name.startsWith('unsaved'));
  const at = startProgram(['--data', small], { env });
  await at.sees('Ines pouring');
  spawnSync('bash', ['-c', `cat /dev/zero > ${small}/fill`]);
  at.type('2 rye\r3 lan\r');
  await at.sees('NOT SAVED: 2 taps');
  at.hangUp();
  await at.exit;
  expect(kept()).toHaveLength(1);
  // Still full: said, and kept; a second window that closes adds nothing.
  const full = startProgram(['--data', small], { env });
  await full.sees('unsaved.jsonl');
  full.type('\u0003\u0003');
  await full.exit;
  expect(kept()).toHaveLength(1);
  execFileSync('rm', [`${small}/fill`]);
  const again = startProgram(['--data', small], { env });
  await again.sees('Saved now, from when the rooms closed');
  again.type('\u0003\u0003');
  await again.exit;
  expect(kept()).toEqual([]);
  const log = JSON.parse(run('log', '--json', '--last', '9').stdout) as { text: string }[];
  expect(log.map(({ text }) => text).filter((text) => text.startsWith('Poured'))).toEqual([
    'Poured 2 Rye Lamp',
    'Poured 3 Lantern Sour',
  ]);
  expect(run('check').stdout).toBe('');
});

it('a bug while taps wait for room: they are kept in a file, said, and recorded at the next start', async ({
  skip,
}) => {
  const { small, env, run } = await openNightOn(skip);
  // A bug of ours on a signal: thrown where nobody catches it.
  const bug = 'data:text/javascript,process.on(`SIGUSR2`,()=>{throw(new(Error)(`planted`))})';
  const at = startProgram(['--data', small], { env: { ...env, NODE_OPTIONS: `--import=${bug}` } });
  await at.sees('Ines pouring');
  spawnSync('bash', ['-c', `cat /dev/zero > ${small}/fill`]);
  at.type('2 rye\r3 lan\r');
  await at.sees('NOT SAVED: 2 taps');
  process.kill(Number(processesWith(small).at(-1)), 'SIGUSR2');
  expect((await at.exit).exitCode).toBe(70);
  const said = at.raw().slice(at.raw().lastIndexOf('\u001b[?1049l'));
  expect(said).toContain('met a bug and stopped; what is not saved yet follows.');
  expect(said.match(/Poured 2 Rye Lamp/g)).toHaveLength(1);
  execFileSync('rm', [`${small}/fill`]);
  const again = startProgram(['--data', small], { env });
  await again.sees('Saved now, from when the rooms closed');
  again.type('\u0003\u0003');
  await again.exit;
  const log = JSON.parse(run('log', '--json', '--last', '9').stdout) as { text: string }[];
  expect(log.filter(({ text }) => text.startsWith('Poured'))).toHaveLength(2);
});

it('a folder that can only be read: exit 73 with a remedy', async ({ skip }) => {
  const night = await furnished();
  const folder = join(night.folder, 'fixed');
  mkdirSync(folder);
  if (spawnSync('mount', ['--bind', folder, folder]).status !== 0) skip('mounting is not allowed here');
  try {
    execFileSync('mount', ['-o', 'remount,bind,ro', folder]);
    const result = spawnSync(process.execPath, [program, '--data', join(folder, 'books'), 'open'], {
      encoding: 'utf8',
      env: { ...process.env, XDG_CONFIG_HOME: night.folder },
    });
    expect(result).toMatchObject({ status: 73, stdout: '' });
    expect(result.stderr).toContain('--data');
  } finally {
    execFileSync('umount', [folder]);
  }
});

it('an export that the disk has no room for: exit 73, and the older file stays whole', async () => {
  const night = await furnished();
  const file = join(night.folder, 'events.jsonl');
  await night.ok('export events --out', file);
  const older = readFileSync(file);
  for (let index = 0; index < 400; index += 1)
    await night.ok('house name', `House ${index} ${'x'.repeat(40)}`);
  // In a shell that lets no file grow past 64 kB: the same as a disk that is full after so many.
  const { status, stderr } = spawnSync(
    'bash',
    ['-c', 'ulimit -f 64; trap "" XFSZ; exec "$@"', '-', process.execPath, program].concat([
      '--data',
      night.folder,
      'export',
      'events',
      '--out',
      file,
    ]),
    { encoding: 'utf8', env: { ...process.env, XDG_CONFIG_HOME: night.folder } },
  );
  expect([status, stderr]).toEqual([73, expect.stringContaining("can't be written")]);
  expect(readFileSync(file).equals(older)).toBe(true);
  expect(readdirSync(night.folder).filter((name) => name.includes('.tmp'))).toEqual([]);
});
