// What one can carry: the tarball installed and the one file, each in an empty folder with nothing else on the PATH.
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { stationNotes } from '../../src/shell/disk/station.ts';
import { tempFolder } from '../support/night.ts';
import { keys, startProgram } from '../support/pty.ts';
import { xlsx } from '../support/xlsx.ts';

const root = new URL('../..', import.meta.url).pathname;
const npm = process.env.npm_execpath;
/** What npm says, on both streams. */
function runNpm(...words: string[]): string {
  const [command, first] = npm === undefined ? ['npm', []] : [process.execPath, [npm]];
  const { status, stdout, stderr } = spawnSync(command, [...first, ...words], {
    cwd: root,
    encoding: 'utf8',
  });
  if (status !== 0) throw new Error(stderr);
  return `${stdout}${stderr}`;
}

/** Both ways, made once. */
function carried(folder: string): { readonly file: string; readonly tarball: string } {
  const said = execFileSync(process.execPath, ['.config/package.ts', '--out', folder], {
    cwd: root,
  }).toString();
  const [file = '', tarball = ''] = said.trim().split('\n');
  return { file, tarball };
}

/** What a bartender has on the first evening: a folder, and the program. */
async function firstEvening(command: string, PATH: string): Promise<void> {
  const home = tempFolder();
  const env = {
    PATH,
    HOME: home,
    XDG_CONFIG_HOME: '',
    XDG_STATE_HOME: '',
    XDG_DATA_HOME: '',
    TZ: 'Europe/London',
  };
  const run = (...words: string[]): string =>
    execFileSync(command, words, { cwd: home, env, stdio: ['ignore', 'pipe', 'pipe'] }).toString();
  expect(run('--version')).toMatch(/^ullage \d/);
  expect(run('demo', 'report')).toContain('Oddtide · closing report');
  writeFileSync(
    join(home, 'stock.xlsx'),
    xlsx([
      ['Product', 'Size', 'Cost'],
      ['Quay gin', '70cl', 18.9],
    ]),
  );
  expect(run('import', 'stock.xlsx')).toContain('1 items written');
  expect(run('check')).toBe('');
  const at = startProgram([], { command: [command], env, columns: 90, rows: 24 });
  await at.sees('What is the house called?');
  at.type(`The Slack Tide${keys.enter}`);
  await at.sees('Which clock does it go by?');
  at.type(keys.ctrl('c'));
  await at.sees('again to leave');
  at.type(keys.ctrl('c'));
  expect((await at.exit).exitCode).toBe(0);
  expect(run('house', 'name')).toContain('The Slack Tide');
  await joins(command, join(home, '.local/share/ullage'), env);
}

/** The thread that exchanges with a server is in it, too: it runs, and finds nobody. */
async function joins(command: string, folder: string, env: Readonly<Record<string, string>>): Promise<void> {
  const notes = stationNotes(folder, {
    ...env,
    XDG_CONFIG_HOME: join(env.HOME ?? '', '.config'),
    XDG_STATE_HOME: join(env.HOME ?? '', '.local/state'),
  });
  const access = {
    host: '127.0.0.1',
    port: 1,
    database: 'bars',
    user: 'bar',
    password: 'none',
    authority: null,
    tls: false,
  };
  const house = { id: '01900000-0000-7000-8000-000000000001', name: 'The Slack Tide' };
  expect(notes.keepJoined({ ullage: 'station', version: 1, house, station: 'bar', access })).toMatchObject({
    ok: true,
  });
  const at = startProgram([], { command: [command], env, columns: 90, rows: 24 });
  await at.sees('kept here: 0');
  at.type(keys.ctrl('c') + keys.ctrl('c'));
  expect((await at.exit).exitCode).toBe(0);
}

describe('what one can carry', () => {
  it('is a tarball that installs without a warning or a script, and one file', async () => {
    const out = tempFolder();
    const { file, tarball } = carried(out);
    expect([existsSync(file), existsSync(tarball)]).toEqual([true, true]);
    await firstEvening(file, '/nonexistent');
    const prefix = join(out, 'global');
    mkdirSync(prefix);
    // Offline, scripts allowed: it has none, carries what is built, and depends on nothing.
    const said = runNpm(
      'install',
      '--global',
      '--prefix',
      prefix,
      '--offline',
      '--no-audit',
      '--no-fund',
      tarball,
    );
    expect(said).not.toMatch(/warn|deprecated/i);
    expect(said).toContain('added 1 package');
    // Node alone beside it.
    const bin = join(out, 'bin');
    mkdirSync(bin);
    symlinkSync(process.execPath, join(bin, 'node'));
    await firstEvening(join(prefix, 'bin', 'ullage'), bin);
  }, 120_000);
});
