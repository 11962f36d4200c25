// Whole nights with the real program in a pseudo-terminal.
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { counted, demoFile, type Night, tempFolder } from '../support/night.ts';
import { keys, processesWith, startProgram } from '../support/pty.ts';

const program = new URL('../../.build/ullage.cjs', import.meta.url).pathname;
const ullage = (folder: string, ...words: string[]): string =>
  execFileSync(process.execPath, [program, '--data', folder, ...words], {
    encoding: 'utf8',
    env: { ...process.env, XDG_CONFIG_HOME: folder },
  });

/** Stocked half an hour before now, by the real clock, so that the program under test goes on from there. */
function stocked(): Promise<Night> {
  const readings = { 'dry-gin': '2.4', 'lemon-juice': '2+300ml' };
  return counted(readings, new Date(Date.now() - 1_800_000).toISOString());
}
const open = (night: Night, setting = {}) =>
  startProgram(['--data', night.folder], { env: { XDG_CONFIG_HOME: night.folder }, ...setting });

describe('a night', () => {
  it.each([
    [80, 24],
    [120, 40],
  ])(
    'at %i×%i: search, pour, round, take back, count by three methods, close, seal',
    async (columns, rows) => {
      const night = await stocked();
      const at = open(night, { columns, rows });
      await at.sees('No shift is open. Press ^O');
      at.type(keys.ctrl('o'));
      await at.sees('Who is pouring?');
      at.type(keys.enter);
      await at.sees('Ines pouring');
      at.type('lan');
      await at.sees('dry shake');
      at.type(keys.enter);
      await at.sees('✓ Poured 1 Lantern Sour');
      at.type('2 lan, 1 rye\r');
      await at.sees('Poured 2 Lantern Sour · Poured 1 Rye Lamp');
      at.type(keys.ctrl('u'));
      await at.sees('Took back: Poured 2 Lantern Sour · Poured 1 Rye Lamp');
      at.type('2 lan\r');
      await at.sees('✓ Poured 2 Lantern Sour');
      at.type('\t\t');
      await at.sees('0 of 6 counted');
      at.type('2+0\r');
      await at.sees('1\u202f500 ml');
      at.type('1+855g\r');
      await at.sees('2 of 6 counted');
      at.type('9\r2+240ml\r1+990ml\r9\r');
      await at.sees('All is counted');
      at.type(keys.tab);
      await at.sees('[Close]');
      await at.sees('100 ml missing');
      at.type(keys.ctrl('x'));
      await at.sees('Seal this shift for good?');
      at.type('seal\r');
      await at.sees('Sealed the shift');
      at.type(`${keys.ctrl('c')}${keys.ctrl('c')}`);
      expect(await at.exit).toMatchObject({ exitCode: 0 });
      expect(at.buffer()).toBe('normal');
      const report = JSON.parse(ullage(night.folder, 'report', '--json'));
      expect(report.drinks).toEqual([
        { spec: 'lantern-sour', name: 'Lantern Sour', count: 3, as: { sale: 3 }, soldMinor: 4200 },
      ]);
      expect(report.items.find(({ item }: { item: string }) => item === 'dry-gin')).toMatchObject({
        opening: 1680,
        poured: 180,
        counted: 1400,
        missing: 100,
        verdict: 'real',
      });
      expect(ullage(night.folder, 'check')).toBe('');
    },
  );

  it('never sends a clear screen after the start, and an arrow key few bytes', async () => {
    const night = await stocked();
    const at = open(night);
    await at.sees('Rye Lamp');
    const start = at.raw().length;
    at.type(keys.down);
    await at.sees('› ');
    const arrow = at.raw().length;
    at.type(keys.down);
    await at.until('the second row marked', (screen) =>
      screen.some((row) => row.startsWith('› ') && !row.includes('Lantern')),
    );
    expect(at.raw().length - arrow).toBeLessThanOrEqual(700);
    at.type('\t\t\t\t\t\t');
    await at.sees('[Pour]');
    const sent = at.raw().slice(start);
    for (const sequence of [
      '\u001b[2J',
      '\u001b[3J',
      '\u001b[?1049h',
      '\u001b[?1000h',
      '\u001b[?1002h',
      '\u001b[?1006h',
    ])
      expect(sent.includes(sequence)).toBe(false);
  });

  it('takes keys that come in one write as so many keys', async () => {
    const night = await stocked();
    await night.ok('open --by Ines');
    const at = open(night);
    await at.sees('Ines pouring');
    // Some of this and some of that: fifty of the same would be asked about.
    at.type('1 rye\r2 rye\r1 lan\r3 rye\r2 lan\r'.repeat(4));
    await at.until('twenty pours', () => ullage(night.folder, 'report', '--json').includes('"count": 24'));
    at.type(`${keys.ctrl('c')}${keys.ctrl('c')}`);
    await at.exit;
  });

  it('types a bracketed paste into the field and pours nothing', async () => {
    const night = await stocked();
    await night.ok('open --by Ines');
    const at = open(night);
    await at.sees('Ines pouring');
    at.type('\u001b[200~lan\rlan\r\u001b[201~');
    await at.sees('▸ lan lan');
    expect(JSON.parse(ullage(night.folder, 'report', '--json')).drinks).toEqual([]);
  });

  it('resizes to anything and back, and says when the window is too small', async () => {
    const night = await stocked();
    const at = open(night);
    await at.sees('Rye Lamp');
    at.type('lan');
    await at.sees('dry shake');
    for (const [columns, rows] of [
      [20, 5],
      [200, 60],
      [60, 16],
      [40, 12],
      [120, 40],
      [10, 2],
    ] as const)
      at.resize(columns, rows);
    at.resize(50, 14);
    await at.sees('need 60×16, this is 50×14');
    at.resize(80, 24);
    await at.sees('dry shake');
    expect(at.screen().filter((row) => row.includes('[Pour]'))).toHaveLength(1);
  });
});

describe('the terminal is given back', () => {
  const script = (night: Night): string =>
    `stty -a > ${night.folder}/before; node ${program} --data ${night.folder}; echo "EXIT $?"; stty -a > ${night.folder}/after; echo DONE`;
  const inShell = (night: Night) =>
    startProgram(['-c', script(night).replace('node ', `${process.execPath} `)], {
      command: ['bash'],
      env: { XDG_CONFIG_HOME: night.folder, XDG_STATE_HOME: night.folder },
    });

  it.each([
    ['SIGTERM', 143],
    ['SIGINT', 130],
    ['SIGHUP', 129],
    ['SIGQUIT', 131],
  ])('after %s, with exit code %i', async (signal, code) => {
    const night = await stocked();
    const at = inShell(night);
    await at.sees('Rye Lamp');
    process.kill(processesWith(`--data ${night.folder}`)[0] as number, signal);
    await at.sees(`EXIT ${code}`);
    await at.sees('DONE');
    expect(at.buffer()).toBe('normal');
    expect(readFileSync(join(night.folder, 'after'), 'utf8')).toBe(
      readFileSync(join(night.folder, 'before'), 'utf8'),
    );
    expect(at.raw().lastIndexOf('\u001b[?25h')).toBeGreaterThan(at.raw().lastIndexOf('\u001b[?25l'));
  });
});

describe('colour', () => {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the codes looked for
  const colours = /\u001b\[(?:\d+;)*(?:3[0-8]|4[0-8]|9[0-7])m/;
  it.each<[string, Record<string, string>, boolean, boolean]>([
    ['by default', {}, true, true],
    ['NO_COLOR=1', { NO_COLOR: '1' }, false, true],
    ['NO_COLOR empty', { NO_COLOR: '' }, true, true],
    ['FORCE_COLOR=0', { FORCE_COLOR: '0' }, false, false],
  ])('%s', async (_, env, colour, weight) => {
    const night = await stocked();
    const at = open(night, { env: { XDG_CONFIG_HOME: night.folder, ...env } });
    await at.sees('Rye Lamp');
    at.type('lan');
    await at.sees('raw egg');
    expect([colours.test(at.raw()), at.raw().includes('\u001b[1m')]).toEqual([colour, weight]);
    for (const faint of ['34', '90', '2']) expect(at.raw().includes(`\u001b[${faint}m`)).toBe(false);
  });
});

describe('the demo', () => {
  it('opens the rooms in the middle of a night: the first Enter pours', async () => {
    const at = startProgram(['demo'], { env: { XDG_CONFIG_HOME: tempFolder() } });
    await at.sees('Ines pouring');
    at.type('\r');
    await at.sees('Poured 1 ');
    // And letters find another, as if nothing were marked.
    at.type('2 neg\r');
    await at.sees('Poured 2 Negroni');
    at.type(`${keys.ctrl('c')}${keys.ctrl('c')}`);
    expect(await at.exit).toMatchObject({ exitCode: 0 });
  });

  it('without a terminal prints the last closing report and says how to open the rooms', () => {
    const { status, stdout, stderr } = spawn(['demo']);
    expect(status).toBe(0);
    expect(stdout).toContain('closing report of Sun 22 Nov');
    expect(stderr).toContain('npm run demo');
  });

  it('is what its generator makes', async () => {
    const { makeDemoEvents } = await import('../../data-demo/generate.ts');
    expect(makeDemoEvents()).toBe(readFileSync(demoFile('events.jsonl'), 'utf8'));
  });
});

function spawn(words: readonly string[], env: Record<string, string> = {}) {
  try {
    return {
      status: 0,
      stdout: execFileSync(process.execPath, [program, ...words], {
        encoding: 'utf8',
        stdio: 'pipe',
        env: { ...process.env, XDG_CONFIG_HOME: tempFolder(), ...env },
      }),
      stderr: run2(words),
    };
  } catch (error) {
    const { status, stdout, stderr } = error as { status: number; stdout: string; stderr: string };
    return { status, stdout, stderr };
  }
}
function run2(words: readonly string[]): string {
  return execFileSync('bash', ['-c', `"$0" "$@" 2>&1 >/dev/null`, process.execPath, program, ...words], {
    encoding: 'utf8',
  });
}

describe('outside the full screen', () => {
  it.each([
    [['--help'], 0],
    [['help'], 0],
    [['-h'], 0],
    [['--version'], 0],
    [['pour', '--help'], 0],
    [['completion', 'bash'], 0],
    [['completion', 'fish'], 0],
  ] as const)('%j ends with %i and touches no books', (words, status) => {
    const folder = tempFolder();
    const result = spawn(words, { XDG_DATA_HOME: join(folder, 'data') });
    expect(result.status).toBe(status);
    expect(result.stdout.length).toBeGreaterThan(10);
    expect(result.stdout).not.toContain('\u001b');
  });

  it('says what to do when there is no terminal', () => {
    const result = spawn([]);
    expect(result).toMatchObject({ status: 64, stdout: '' });
    expect(result.stderr).toContain('ullage levels');
  });

  it('ends quietly when its reader goes away, and says when a disk is full', () => {
    const result = execFileSync(
      'bash',
      [
        '-c',
        `"$0" "$1" demo log --last 3000 | head -1; echo "\${PIPESTATUS[0]}"; "$0" "$1" demo log > /dev/full; echo "$?"`,
        process.execPath,
        program,
      ],
      { encoding: 'utf8', stdio: ['ignore', 'pipe', 'pipe'] },
    );
    const [, pipe, full] = result.trim().split('\n');
    expect(['141', '0']).toContain(pipe);
    expect(full).toBe('73');
  });

  it('runs on an old Node through its own launcher', () => {
    expect(readFileSync(program, 'utf8').startsWith('#!/usr/bin/env node')).toBe(true);
  });
});
