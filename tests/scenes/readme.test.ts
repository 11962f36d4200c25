// The README's first night, to the letter: its own table is pressed, in a folder that has nothing, and its keys are counted.
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { tempFolder } from '../support/night.ts';
import { keys, type Pty, startProgram } from '../support/pty.ts';

const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');
const table = /<!-- first night -->\n([\s\S]*?)\n<!-- end of first night -->/.exec(readme)?.[1] ?? '';
const rows = table
  .split('\n')
  .slice(2)
  .map((row) => row.split('|').map((cell) => cell.trim()))
  .map(([, sees = '', presses = '']) => ({
    sees,
    presses: [...presses.matchAll(/`([^`]+)`/g)].map(([, key = '']) => key),
  }));

const named: Readonly<Record<string, string>> = { Enter: keys.enter, Space: ' ', Tab: keys.tab };
const bytesOf = (key: string): string =>
  named[key] ?? (/^\^[A-Z]$/.test(key) ? keys.ctrl(key.slice(1).toLowerCase()) : key);
const countOf = (key: string): number => (key in named || key.startsWith('^') ? 1 : [...key].length);

/** Nobody presses the same key twice in less. */
const LIFTED_MS = 200;

/** Until the screen has answered the last key: what is typed before that would be another hand's. */
async function settled(at: Pty): Promise<void> {
  let before = '';
  await at.until('a screen that stands', (screen) => {
    const now = screen.join('\n');
    const stands = now === before;
    before = now;
    return stands;
  });
}

it('an empty folder, the table pressed row by row: a house, a drink of one’s own, poured, counted, sealed', async () => {
  expect(rows.length).toBeGreaterThan(20);
  const home = tempFolder();
  const env = {
    XDG_CONFIG_HOME: home,
    XDG_STATE_HOME: home,
    ULLAGE_DATA: `${home}/books`,
    TZ: 'Europe/London',
  };
  const at = startProgram([], { env });
  let [pressed, poured, last, when] = [0, 0, '', 0];
  for (const { sees, presses } of rows) {
    await at.sees(sees);
    if (sees === 'Poured 1 Ropewalk' && poured === 0) poured = pressed;
    for (const key of presses) {
      // A finger that is not lifted holds the key down, and a held key counts once.
      if (key === last) await at.until('a finger that is lifted', () => Date.now() - when > LIFTED_MS);
      at.type(bytesOf(key));
      [last, when] = [key, Date.now()];
      pressed += countOf(key);
      await settled(at);
    }
  }
  expect((await at.exit).exitCode).toBe(0);
  // Three minutes at two keys a second.
  process.stdout.write(
    `keys from an empty folder to the first drink of one's own: ${poured}, to the seal: ${pressed}\n`,
  );
  expect(poured).toBeLessThanOrEqual(360);
}, 60_000);
