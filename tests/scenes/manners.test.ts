// A good citizen: silent when idle, the terminal given back after a bug, busy books, folders where they belong.
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, readlinkSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, it } from 'vitest';
import { BOOKS_FILE } from '../../src/store/file/open/names.ts';
import { furnished, tempFolder } from '../support/night.ts';
import { keys, processesWith, startProgram } from '../support/pty.ts';

const program = new URL('../../.build/ullage.cjs', import.meta.url).pathname;
const run = (words: string[], env: Record<string, string>) =>
  spawnSync(process.execPath, [program, ...words], { encoding: 'utf8', env: { ...process.env, ...env } });

describe('the rooms', () => {
  it('write nothing while nothing happens, but for the clock once a minute', async () => {
    const night = await furnished(new Date(Date.now() - 600_000).toISOString());
    const at = startProgram(['--data', night.folder], { env: { XDG_CONFIG_HOME: night.folder } });
    await at.sees('Rye Lamp');
    await new Promise((resolve) => setTimeout(resolve, 300));
    const before = at.raw().length;
    // Idleness can only be waited for.
    await new Promise((resolve) => setTimeout(resolve, 4000));
    expect(at.raw().length - before).toBeLessThan(300);
    expect(at.raw().slice(before)).not.toContain('Rye Lamp');
  });

  it('after a bug give the terminal back, say one thing, and leave a note without names', async () => {
    const night = await furnished(new Date(Date.now() - 600_000).toISOString());
    const script = `${process.execPath} ${program} --data ${night.folder}; echo "EXIT $?"; stty -a | grep -o -- '-\\?icanon'`;
    const at = startProgram(['-c', script], {
      command: ['bash'],
      env: {
        XDG_CONFIG_HOME: night.folder,
        XDG_STATE_HOME: night.folder,
        // What the program can't expect: something throws on a signal.
        NODE_OPTIONS: `--import data:text/javascript,process.on('SIGUSR2',()=>{throw(new(Error)(unescape('%49nes')))})`,
      },
    });
    await at.sees('Rye Lamp');
    for (const pid of processesWith(night.folder)) process.kill(pid, 'SIGUSR2');
    await at.sees('EXIT 70');
    await at.sees('icanon');
    expect(at.buffer()).toBe('normal');
    expect(at.screen().join('\n')).toContain('everything shown as recorded is saved');
    const folder = join(night.folder, 'ullage');
    const note = readdirSync(folder).find((name) => name.startsWith('crash-')) ?? '';
    expect(readFileSync(join(folder, note), 'utf8')).not.toMatch(/Ines|Lantern/);
  });

  it('that find their books damaged while they are open say so, and close', async () => {
    const night = await furnished(new Date(Date.now() - 600_000).toISOString());
    const script = `${process.execPath} ${program} --data ${night.folder}; echo "EXIT $?"`;
    const at = startProgram(['-c', script], {
      command: ['bash'],
      env: { XDG_CONFIG_HOME: night.folder, XDG_STATE_HOME: night.folder },
    });
    await at.sees('Rye Lamp');
    const db = new DatabaseSync(join(night.folder, BOOKS_FILE));
    db.exec('ALTER TABLE event RENAME TO elsewhere');
    db.close();
    await at.sees('EXIT 65');
    expect(at.screen().join('\n')).toContain('is damaged');
    expect(existsSync(join(night.folder, 'ullage'))).toBe(true);
    expect(readdirSync(join(night.folder, 'ullage')).filter((name) => name.startsWith('crash-'))).toEqual([]);
  });

  it('whose window is closed end as hung up, with every tap stored and no word of a bug', async () => {
    const night = await furnished(new Date(Date.now() - 600_000).toISOString());
    await night.ok('open --by Ines');
    const at = startProgram(['--data', night.folder], {
      env: { XDG_CONFIG_HOME: night.folder, XDG_STATE_HOME: night.folder },
    });
    await at.sees('Ines pouring');
    at.type('7 rye\r');
    await at.sees('✓ Poured 7 Rye Lamp');
    at.hangUp();
    const { exitCode, signal } = await at.exit;
    expect([exitCode, signal]).toEqual(signal === 0 ? [129, 0] : [exitCode, 1]);
    expect(existsSync(join(night.folder, 'ullage', 'config.json'))).toBe(true);
    expect(readdirSync(join(night.folder, 'ullage')).filter((name) => name.startsWith('crash-'))).toEqual([]);
    expect(await night.ok('log')).toContain('Poured 7 Rye Lamp');
  });

  it('stopped from outside give the terminal back first, and come back to the same screen', async () => {
    const night = await furnished(new Date(Date.now() - 600_000).toISOString());
    await night.ok('open --by Ines');
    const at = startProgram(['--norc', '-i'], {
      command: ['bash'],
      env: { XDG_CONFIG_HOME: night.folder, PS1: 'shell> ' },
    });
    await at.sees('shell>');
    at.type(`${process.execPath} ${program} --data ${night.folder}\r`);
    await at.sees('Ines pouring');
    at.type('4 rye');
    await at.sees('▸ 4 rye');
    process.kill(processesWith(night.folder).at(-1) ?? 0, 'SIGTSTP');
    await at.sees('Stopped');
    expect(at.buffer()).toBe('normal');
    expect(at.raw().lastIndexOf('\u001b[?25h')).toBeGreaterThan(at.raw().lastIndexOf('\u001b[?25l'));
    at.type('fg\r');
    await at.until('the rooms again', (rows) => rows.some((row) => row.includes('▸ 4 rye')));
    expect(at.buffer()).toBe('alternate');
    at.type('\r');
    await at.sees('✓ Poured 4 Rye Lamp');
  });

  it('give way to ^C in the middle of a paste that never ends', async () => {
    const night = await furnished(new Date(Date.now() - 600_000).toISOString());
    await night.ok('open --by Ines');
    const at = startProgram(['--data', night.folder], { env: { XDG_CONFIG_HOME: night.folder } });
    await at.sees('Ines pouring');
    at.type('\u001b[200~');
    at.type('2 rye\r');
    // Nothing shows that it was read, and ^C is to come alone.
    await new Promise((resolve) => setTimeout(resolve, 300));
    at.type('\u0003');
    await at.sees('2 rye');
    at.type('\u0003\u0003');
    expect((await at.exit).exitCode).toBe(0);
  });

  it('take the first line of a paste that comes as keys, and nothing after it', async () => {
    const night = await furnished(new Date(Date.now() - 600_000).toISOString());
    await night.ok('open --by Ines');
    const at = startProgram(['--data', night.folder], { env: { XDG_CONFIG_HOME: night.folder } });
    await at.sees('Ines pouring');
    at.type('9 rye\r'.repeat(580));
    await at.sees('looked like a paste');
    await at.sees('Poured 9 Rye Lamp');
    const poured = night.store((store) =>
      store.log(900).filter(({ event }) => event.kind === 'drink-poured'),
    );
    expect(poured).toHaveLength(1);
  });

  it('open no door to a debugger, on any signal', async () => {
    const night = await furnished(new Date(Date.now() - 600_000).toISOString());
    const at = startProgram(['--data', night.folder], { env: { XDG_CONFIG_HOME: night.folder } });
    await at.sees('Rye Lamp');
    at.kill('SIGUSR1');
    at.type('lan');
    await at.sees('▸ lan');
    expect(at.raw()).not.toContain('Debugger');
    const sockets = (pid: number): string[] =>
      readdirSync(`/proc/${pid}/fd`).flatMap((fd) => {
        try {
          return [readlinkSync(`/proc/${pid}/fd/${fd}`)].filter((path) => path.startsWith('socket:'));
        } catch {
          return [];
        }
      });
    const listening = readFileSync('/proc/net/tcp', 'utf8')
      .split('\n')
      .filter((row) => row.split(/\s+/)[4] === '0A')
      .map((row) => `socket:[${row.trim().split(/\s+/)[9]}]`);
    for (const pid of processesWith(night.folder))
      expect(sockets(pid).filter((socket) => listening.includes(socket))).toEqual([]);
  });

  it('two windows on the same books see one another within a second', async () => {
    const night = await furnished(new Date(Date.now() - 600_000).toISOString());
    await night.ok('open --by Ines');
    const env = { XDG_CONFIG_HOME: night.folder };
    const [one, two] = [
      startProgram(['--data', night.folder], { env }),
      startProgram(['--data', night.folder], { env }),
    ];
    await one.sees('Ines pouring');
    await two.sees('Ines pouring');
    one.type('3 rye\r');
    await one.sees('✓ Poured 3 Rye Lamp');
    await two.sees('3 Rye Lamp (Ines)');
    two.type('2 rye\r');
    await one.sees('2 Rye Lamp (Ines)');
    for (const at of [one, two]) at.type(keys.ctrl('c') + keys.ctrl('c'));
    expect(await Promise.all([one.exit, two.exit])).toMatchObject([{ exitCode: 0 }, { exitCode: 0 }]);
  });
});

describe('commands', () => {
  it('say busy with 75 when another program holds the books', async () => {
    const night = await furnished();
    const db = new DatabaseSync(join(night.folder, BOOKS_FILE));
    db.exec('BEGIN IMMEDIATE');
    const result = run(['--data', night.folder, 'house', 'name', 'Other'], { XDG_CONFIG_HOME: night.folder });
    db.exec('ROLLBACK');
    db.close();
    expect(result).toMatchObject({ status: 75, stdout: '' });
    expect(result.stderr).toContain('Try again');
  });

  it('keep to the XDG folders, ignore relative ones, and write nothing elsewhere', () => {
    const home = tempFolder();
    const env = {
      HOME: home,
      XDG_DATA_HOME: join(home, 'd'),
      XDG_CONFIG_HOME: join(home, 'c'),
      XDG_STATE_HOME: 'relative',
    };
    mkdirSync(join(home, 'd'));
    expect(run(['people', 'add', 'Ines'], env).status).toBe(0);
    expect(readdirSync(home).sort()).toEqual(['c', 'd']);
    expect(existsSync(join(home, 'd', 'ullage', BOOKS_FILE))).toBe(true);
    expect(run(['people', 'add', 'Tom'], { ...env, ULLAGE_DATA: join(home, 'own') }).status).toBe(0);
    expect(existsSync(join(home, 'own', BOOKS_FILE))).toBe(true);
    expect(run(['people', 'add', 'Ines'], { ...env, XDG_DATA_HOME: 'relative' }).status).toBe(0);
    expect(existsSync(join(home, '.local', 'share', 'ullage', BOOKS_FILE))).toBe(true);
  });

  it('give one JSON document and nothing else', () => {
    const env = { XDG_CONFIG_HOME: tempFolder() };
    for (const words of [
      ['items'],
      ['specs'],
      ['levels'],
      ['log'],
      ['report'],
      ['drift'],
      ['spec', 'negroni'],
      ['house'],
      ['people'],
      ['check'],
    ]) {
      const { stdout, stderr, status } = run(['demo', ...words, '--json'], env);
      expect([words, status, stderr]).toEqual([words, 0, '']);
      expect(() => JSON.parse(stdout)).not.toThrow();
      expect(stdout).not.toContain('\u001b');
    }
  });

  it('complete in bash', () => {
    const script = `source <("$0" "$1" completion bash); COMP_WORDS=(ullage po); COMP_CWORD=1; _ullage; echo "\${COMPREPLY[@]}"`;
    expect(execFileSync('bash', ['-c', script, process.execPath, program], { encoding: 'utf8' }).trim()).toBe(
      'pour',
    );
  });
});
