// All cards, items or people in the editor of the machine: a mistake is named and it opens again, with the text kept.

import { spawnSync } from 'node:child_process';
import { chmodSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import type { Outcome, World } from '../../src/commands/line/command.ts';
import { runCommand } from '../../src/commands/run.ts';
import { done, refuse } from '../../src/domain/value/problem.ts';
import { furnished, type Night } from '../support/night.ts';

const program = new URL('../../.build/ullage.cjs', import.meta.url).pathname;

/** Names of files that stand in the folder already. */
const taken: string[] = [];

/** Somebody who does one thing after the other in the editor, and answers what is asked. */
async function edited(
  night: Night,
  what: string,
  ...hands: readonly ((text: string) => string)[]
): Promise<{ outcome: Outcome; told: string[]; opened: string[]; kept: Map<string, string> }> {
  const [told, opened, kept] = [[] as string[], [] as string[], new Map<string, string>()];
  let turn = 0;
  const world: World = {
    ...night.world,
    edit: async (text) => {
      opened.push(text);
      const hand = hands[turn] ?? ((same: string) => same);
      turn += 1;
      return done(hand(text));
    },
    tell: async (text) => {
      told.push(text);
      return true;
    },
    readFile: (name) =>
      taken.includes(name) ? done(new Uint8Array()) : refuse('no-file', 'It is not there.'),
    writeFile: (name, text) => {
      kept.set(name, text);
      return done(null);
    },
  };
  return { outcome: await runCommand(['edit', what], world), told, opened, kept };
}

it('writes what was changed, and says what that was', async () => {
  const night = await furnished();
  const { outcome } = await edited(night, 'specs', (text) =>
    text.replace('price: 13.00', 'price: 13.50').concat('\n# Grey Heron\n40 ml rye\ndo: stir\n'),
  );
  expect([outcome.exit, outcome.out]).toEqual([0, 'Wrote spec Rye Lamp\nWrote spec Grey Heron\n']);
  expect(night.books().specs.get('rye-lamp' as never)?.priceMinor).toBe(1350);
  expect((await edited(night, 'specs')).outcome.out).toBe('Nothing was changed.\n');
});

it('names a mistake with its line and opens again with the text kept', async () => {
  const night = await furnished();
  const { outcome, told, opened } = await edited(
    night,
    'items',
    (text) => text.replace('spirit,700 ml', 'spirit,700 furlongs'),
    (text) => text.replace('700 furlongs', '750 ml'),
  );
  expect(told[0]).toMatch(/^line 2: .*size/);
  expect(opened[1]).toContain('700 furlongs');
  expect([outcome.exit, outcome.out]).toEqual([0, 'Wrote item Dry gin\n']);
});

it('closed unchanged it is given up: nothing is written, and what was typed is kept', async () => {
  const night = await furnished();
  const before = night.books();
  const { outcome, kept } = await edited(night, 'specs', (text) => `${text}\n# Half\n40 ml samovar\n`);
  expect([outcome.exit, outcome.err]).toEqual([
    65,
    expect.stringMatching(/Nothing was written: line .*samovar.*kept in/),
  ]);
  expect(kept.get('ullage-specs.txt')).toContain('40 ml samovar');
  expect(night.books().specs).toEqual(before.specs);
});

it('what was kept before is not written over', async () => {
  const night = await furnished();
  const half = (text: string): string => `${text}\n# Half\n40 ml samovar\n`;
  taken.push('ullage-specs.txt');
  const { kept, outcome } = await edited(night, 'specs', half);
  taken.pop();
  expect([...kept.keys()]).toEqual(['ullage-2-specs.txt']);
  expect(outcome.err).toContain('kept in ullage-2-specs.txt, in this folder');
});

it('people are a name a line: who is new joins, who is gone has left', async () => {
  const night = await furnished();
  const { outcome } = await edited(night, 'people', (text) => text.replace('Tom', 'Wren'));
  expect(outcome.out).toContain('Wren works here');
  expect([...night.books().people.values()].filter(({ here }) => here).map(({ name }) => name)).toEqual([
    'Ines',
    'Mara',
    'Wren',
  ]);
});

it('runs the editor that is set, on a file nobody else can read, and leaves no trace', async () => {
  const night = await furnished();
  const script = join(night.folder, 'my editor.sh');
  writeFileSync(
    script,
    `#!/bin/sh\nstat -c '%a %n' "$1" > ${night.folder}/seen\nsed -i 's/price: 13.00/price: 15.00/' "$1"\n`,
  );
  chmodSync(script, 0o755);
  const run = (env: Record<string, string>) =>
    spawnSync(process.execPath, [program, '--data', night.folder, 'edit', 'specs'], {
      encoding: 'utf8',
      env: { PATH: process.env.PATH ?? '', XDG_CONFIG_HOME: night.folder, ...env },
    });
  const { status, stdout } = run({ VISUAL: `'${script}'`, EDITOR: 'false' });
  expect([status, stdout]).toEqual([0, 'Wrote spec Rye Lamp\n']);
  const [mode = '', file = ''] = readFileSync(join(night.folder, 'seen'), 'utf8').trim().split(' ');
  expect([mode, existsSync(file)]).toEqual(['600', false]);
  expect(run({ EDITOR: 'false' })).toMatchObject({
    status: 73,
    stderr: expect.stringContaining('editor ended'),
  });
  expect(run({})).toMatchObject({ status: 78, stderr: expect.stringContaining('Set EDITOR') });
});
