// The first start: of many at once one is first, and a kill at any moment leaves books or nothing, never a folder that is refused.
import { spawn, spawnSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { openNight } from '../support/night.ts';

const program = new URL('../../.build/ullage.cjs', import.meta.url).pathname;
const wordsOf = (folder: string, name: string): string[] => [
  program,
  '--data',
  folder,
  'people',
  'add',
  name,
];

it('eight programs at once: all of them record, in one and the same books', async () => {
  const night = openNight();
  const folder = join(night.folder, 'new');
  const env = { ...process.env, XDG_CONFIG_HOME: night.folder };
  const names = ['Ada', 'Ben', 'Cleo', 'Dov', 'Eve', 'Finn', 'Gus', 'Hal'];
  const ended = await Promise.all(
    names.map(
      (name) =>
        new Promise<number | null>((resolve) => {
          spawn(process.execPath, wordsOf(folder, name), { env, stdio: 'ignore' }).on('exit', resolve);
        }),
    ),
  );
  expect(ended).toEqual(names.map(() => 0));
  const list = spawnSync(process.execPath, [program, '--data', folder, 'people'], { env, encoding: 'utf8' });
  for (const name of names) expect(list.stdout).toContain(name);
  expect(readdirSync(folder).filter((name) => name.startsWith('.'))).toEqual([]);
});

it('killed after so many system calls on files: the next start works', { timeout: 120_000 }, async ({
  skip,
}) => {
  if (spawnSync('strace', ['-V']).status !== 0) skip('strace is not here');
  const night = openNight();
  const env = { ...process.env, XDG_CONFIG_HOME: night.folder };
  for (let at = 1; at <= 12; at += 1) {
    const folder = join(night.folder, `killed-${at}`);
    const calls = 'pwrite64,fdatasync,fsync,link,rename,unlink';
    spawnSync(
      'strace',
      [
        '-f',
        '-qq',
        '-o',
        '/dev/null',
        '-e',
        `trace=${calls}`,
        '-e',
        `inject=${calls}:signal=SIGKILL:when=${at}`,
      ].concat([process.execPath], wordsOf(folder, 'Ada')),
      { env },
    );
    const next = spawnSync(process.execPath, wordsOf(folder, 'Ben'), { env, encoding: 'utf8' });
    expect([at, next.status, next.stderr]).toEqual([at, 0, '']);
  }
});
