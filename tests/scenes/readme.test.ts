// The README's first night, to the letter: its own words are run, in a house that has nothing.
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { tempFolder } from '../support/night.ts';
import { keys, startProgram } from '../support/pty.ts';

const program = new URL('../../.build/ullage.cjs', import.meta.url).pathname;
const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
const begin = readme.indexOf('## Five minutes to a first night');
const steps = readme.slice(begin, readme.indexOf('\n## ', begin + 5)).replace(/\s+/g, ' ');

/** Every command that the steps name, in their order, as words. */
const commands = [...steps.matchAll(/`(?:npm run -s ullage -- )((?:[^`"]|"[^"]*")+)`/g)].map(
  ([, words = '']) => [...words.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, bare]) => quoted ?? bare ?? ''),
);

it('its commands are done one after the other, then the rooms as it says', async () => {
  const folder = tempFolder();
  const env = { ...process.env, XDG_CONFIG_HOME: folder, ULLAGE_DATA: `${folder}/books` };
  // Said in one breath: "house currency EUR, house zone Europe/London, house name ...".
  const more = [...steps.matchAll(/`(house (?:zone|name) [^`]+)`/g)].map(([, words = '']) =>
    [...words.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, bare]) => quoted ?? bare ?? ''),
  );
  expect([commands.length, more.length]).toEqual([5, 2]);
  const at = commands.findIndex(([word]) => word === 'import');
  for (const words of [...commands.slice(0, at), ...more, ...commands.slice(at)]) {
    const { status, stderr } = spawnSync(process.execPath, [program, ...words], {
      cwd: folder,
      encoding: 'utf8',
      env,
    });
    expect([words, status, stderr]).toEqual([words, 0, '']);
  }
  const rooms = startProgram([], { env: { XDG_CONFIG_HOME: folder, ULLAGE_DATA: `${folder}/books` } });
  await rooms.sees('Your bar');
  // "count once (Count room: 2.7 is two sealed and 0.7 of the open one …)"
  rooms.type(`${keys.tab}${keys.tab}`);
  await rooms.sees('0 of 4 counted');
  for (const reading of ['2.7', '2+350ml', '1+350ml', '14']) {
    rooms.type(`${reading}\r`);
    await rooms.sees(reading);
  }
  await rooms.sees('All is counted');
  // "Ctrl-O opens the shift. Type hou, press Enter: a House Sour is poured … Ctrl-U takes it back."
  rooms.type(keys.ctrl('o'));
  await rooms.sees('Ines');
  rooms.type('\r');
  await rooms.sees('[Pour]');
  rooms.type('hou\r');
  await rooms.sees('Poured 1 House Sour');
  rooms.type(keys.ctrl('u'));
  await rooms.sees('Took back: Poured 1 House Sour');
  // "Ctrl-X and the word seal close the night for good."
  rooms.type(`${keys.tab}${keys.tab}${keys.tab}`);
  await rooms.sees('[Close]');
  rooms.type(`${keys.ctrl('x')}seal\r`);
  await rooms.sees('Sealed the shift');
  rooms.type(`${keys.ctrl('c')}${keys.ctrl('c')}`);
  expect((await rooms.exit).exitCode).toBe(0);
});
