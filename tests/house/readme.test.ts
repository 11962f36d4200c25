// The generated parts of the README are fresh, and its promises are kept by the files beside it.
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { freshPictures } from '../../.config/pictures.ts';
import { freshReadme } from '../../.config/readme.ts';

const readme = readFileSync(new URL('../../README.md', import.meta.url), 'utf8');

it('has the key table and the commands of the program as it is; npm run readme makes them', () => {
  expect(freshReadme(readme)).toBe(readme);
  expect(readme).toContain('| Pour | Enter | pours what is marked');
  expect(readme).toContain('`ullage pour [N] SPEC');
});

it('names no machine and no address', () => {
  expect(readme).not.toMatch(/https?:|\/work\/|registry/);
});

it('shows real frames: the pictures beside it are those that the rooms draw now', async () => {
  const made = await freshPictures();
  expect([...made.keys()]).toEqual(['pour-dark.svg', 'pour-light.svg', 'close-dark.svg', 'close-light.svg']);
  for (const [name, svg] of made) {
    expect([name, readFileSync(new URL(`../../.pictures/${name}`, import.meta.url), 'utf8') === svg]).toEqual(
      [name, true],
    );
    expect(readme).toContain(`.pictures/${name}`);
  }
  expect(made.get('pour-dark.svg')).toContain('2 × Lantern Smash');
});
