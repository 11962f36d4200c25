// Writes the generated parts of the README: the key table, the list of commands, the pictures. `npm run readme`.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { keyTable } from '../src/app/keymap.ts';
import { commandTable } from '../src/commands/line/help.ts';
import { commands } from '../src/commands/table.ts';
import { keyName } from '../src/screens/frame/footer.ts';
import { freshPictures, pictureText } from './pictures.ts';

const file = new URL('../README.md', import.meta.url);
const pictures = new URL('../.pictures/', import.meta.url);

/** The README with its generated parts made anew. */
export function freshReadme(text: string): string {
  const parts = { keys: keyTable(keyName), commands: commandTable(commands), pictures: pictureText() };
  return Object.entries(parts).reduce(
    (whole, [name, part]) =>
      whole.replace(
        new RegExp(`(<!-- ${name} -->\n)[\\s\\S]*?(\n<!-- end of ${name} -->)`),
        (_, head: string, tail: string) => head + part + tail,
      ),
    text,
  );
}

if (process.argv[1] === file.pathname.replace('README.md', '.config/readme.ts')) {
  writeFileSync(file, freshReadme(readFileSync(file, 'utf8')));
  mkdirSync(pictures, { recursive: true });
  for (const [name, svg] of await freshPictures()) writeFileSync(new URL(name, pictures), svg);
}
