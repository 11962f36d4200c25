import { describe, expect, it } from 'vitest';
import { furnished, type Night } from '../support/night.ts';
import { keys, type Pty, processesWith, startProgram } from '../support/pty.ts';

const program = new URL('../../.build/ullage.cjs', import.meta.url).pathname;
const house = (): Promise<Night> => furnished(new Date(Date.now() - 600_000).toISOString());
const start = (night: Night, words: readonly string[] = [], setting = {}): Pty =>
  startProgram(['--data', night.folder, ...words], { env: { XDG_CONFIG_HOME: night.folder }, ...setting });

/** The process of the rooms that run on a folder, below any shell or launcher. */
const roomsOn = (folder: string): number => processesWith(`ullage.cjs --data ${folder}`).at(-1) as number;

describe('suspended', () => {
  const inShell = (night: Night): Pty =>
    startProgram(['--norc', '-i'], {
      command: ['bash'],
      env: { XDG_CONFIG_HOME: night.folder, PS1: 'shell> ', BASH_SILENCE_DEPRECATION_WARNING: '1' },
    });

  it.each(['^Z', 'a bare stop'])(
    'by %s: the shell has its turn, and fg brings back the same screen',
    async (how) => {
      const night = await house();
      const at = inShell(night);
      await at.sees('shell>');
      at.type(`${process.execPath} ${program} --data ${night.folder}\r`);
      await at.sees('Rye Lamp');
      at.type('lan');
      await at.sees('dry shake');
      const before = at.screen();
      if (how === '^Z') at.type(keys.ctrl('z'));
      else process.kill(roomsOn(night.folder), 'SIGSTOP');
      if (how === '^Z') {
        await at.until('the shell', (rows) => rows.some((row) => row.includes('Stopped')));
        expect(at.buffer()).toBe('normal');
        at.type('echo on$((40+2))ly\r');
        await at.sees('on42ly');
      } else await at.until('the shell', () => at.raw().includes('Stopped'));
      at.type('fg\r');
      await at.until(
        'the rooms',
        (rows) =>
          rows.some((row) => row.startsWith('[Pour]')) &&
          at.buffer() === 'alternate' &&
          rows.some((row) => row.includes('dry shake')),
      );
      at.type('t');
      await at.sees('▸ lant');
      at.type('\u007f');
      await at.until(
        'the screen as it was',
        (rows) => rows.join('\n') === before.join('\n') || rows[2] === before[2],
      );
      // Keys are keys again, none is echoed.
      at.type(keys.down + keys.up);
      at.type(keys.ctrl('c') + keys.ctrl('c'));
      await at.until(
        'the shell',
        (rows) => at.buffer() === 'normal' && rows.some((row) => row.includes('shell>')),
      );
      at.type('stty -a | tr -d "\\n" | grep -c " icanon.* echo "\r');
      await at.until('a sane line', (rows) => rows.some((row) => row.trim() === '1'));
    },
  );
});

describe('for a screen reader', () => {
  it.each([
    ['--screen-reader', ['--screen-reader'], {}],
    ['INK_SCREEN_READER', [], { INK_SCREEN_READER: 'true' }],
  ])('%s: line by line, nothing drawn, the cursor in the field', async (_, words, env) => {
    const night = await house();
    await night.ok('open --by Ines');
    const at = start(night, words, { rows: 50, env: { XDG_CONFIG_HOME: night.folder, ...env } });
    await at.sees('field (');
    at.type('rye');
    await at.sees('field: rye');
    await at.sees('(selected) Rye Lamp');
    at.type(keys.enter);
    await at.sees('Poured 1 Rye Lamp');
    for (let room = 0; room < 8; room += 1) {
      at.type(keys.tab);
      await at.until('the next room', (rows) =>
        rows.some((row) => /^\[(Levels|Count|Close|Drift|Book|Log|Ready|Pour)\]/.test(row)),
      );
    }
    at.type('?');
    await at.sees('Keys');
    at.type('?');
    expect(at.raw()).not.toContain('\u001b[?1049h');
    expect(at.raw()).not.toMatch(/[\u2500-\u259f]/);
    at.type(keys.ctrl('c') + keys.ctrl('c'));
    expect((await at.exit).exitCode).toBe(0);
  });
});

it('never asks for the mouse', async () => {
  const night = await house();
  const at = start(night);
  await at.sees('Rye Lamp');
  at.type('lan\t\t\t\t\t\t\t\t');
  at.type(keys.ctrl('c') + keys.ctrl('c'));
  await at.exit;
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the sequences looked for
  expect(at.raw()).not.toMatch(/\u001b\[\?100[0-6]h/);
});

describe('resized at random', () => {
  it.each([
    ['while typing', 'lan'],
    ['with the help open', '?'],
    ['with a question open', keys.ctrl('o')],
  ])('%s: ends as a fresh start at that size', async (_, typed) => {
    const night = await house();
    let state = 20261125;
    const chance = (most: number): number => {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
      return state % most;
    };
    const end = [60 + chance(90), 16 + chance(30)] as const;
    const at = start(night, [], { columns: 80, rows: 24 });
    await at.sees('Rye Lamp');
    at.type(typed);
    for (let turn = 0; turn < 30; turn += 1) at.resize(8 + chance(180), 3 + chance(60));
    at.resize(50, 14);
    await at.sees('need 60×16, this is 50×14');
    at.resize(...end);
    const fresh = start(night, [], { columns: end[0], rows: end[1] });
    await fresh.sees('Rye Lamp');
    fresh.type(typed);
    // The clock in the corner may move on between the two.
    const still = (rows: readonly string[]): string => rows.join('\n').replace(/\d\d:\d\d/g, '');
    await at.until(
      'the same screen',
      (rows) => still(rows) === still(fresh.screen()) && rows.some((row) => row.includes('leave')),
    );
    expect(at.raw()).not.toContain('\u001b[3J');
  });
});
