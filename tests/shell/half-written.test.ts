// What was half written, in its file: read back as it was, and never over lines of another window.
import { existsSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import type { DialogOf } from '../../src/screens/dialog.ts';
import { draftFile, draftName, keepDraft, readDraft } from '../../src/shell/disk/half-written.ts';
import { tempFolder } from '../support/night.ts';

type Write = DialogOf<'write'>;
const written = (text: string, more: Partial<Write> = {}): Write => ({
  kind: 'write',
  what: 'spec',
  text,
  at: text.length,
  column: null,
  was: null,
  pours: null,
  ...more,
});
const fileIn = (folder: string): string => draftFile('/some/books', join(folder, 'state', 'ullage'));

it('any lines come back as they were, with the place of the next character; a round they were for does not', () => {
  const letter = fc.constantFrom('a', 'é', '‍', '🍋', ' ', '\n', '#', '"', '\\', ':');
  fc.assert(
    fc.property(fc.array(letter, { minLength: 1, maxLength: 200 }), fc.nat(), (letters, at) => {
      const file = fileIn(tempFolder());
      const text = letters.join('');
      const draft = written(text, { at: Math.min(at, text.length), pours: 3, column: 2, was: 'rye-lamp' });
      expect(keepDraft(file, draft, null)).toBe(true);
      expect(readDraft(file)?.draft).toEqual({ ...draft, pours: null, column: null });
    }),
    { numRuns: 60 },
  );
});

it.each([
  ['half a file', '{"what":"spec","te'],
  ['another shape', '{"what":"spec","text":7,"at":0,"was":null}'],
  ['an unknown thing', '{"what":"house","text":"a","at":0,"was":null}'],
  ['a control', `{"what":"spec","text":"# a\\u001b[2J","at":0,"was":null}`],
  ['too long a text', JSON.stringify({ what: 'spec', text: 'a'.repeat(4001), at: 0, was: null })],
  ['a place before the first', '{"what":"spec","text":"a","at":-1,"was":null}'],
])('%s is not read, and not written over', (_, text) => {
  const folder = tempFolder();
  const file = fileIn(folder);
  mkdirSync(join(folder, 'state', 'ullage'), { recursive: true });
  writeFileSync(file, text);
  expect(readDraft(file)).toBeNull();
  expect(keepDraft(file, written('# Grey Heron'), null)).toBe(false);
  expect(keepDraft(file, null, null)).toBe(true);
  expect(readFileSync(file, 'utf8')).toBe(text);
});

it('a window takes away only what it took up itself', () => {
  const file = fileIn(tempFolder());
  keepDraft(file, written('# Grey Heron'), null);
  const taken = readDraft(file);
  // Another window goes on with it and leaves.
  expect(keepDraft(file, written('# Grey Heron\n40 ml rye'), taken)).toBe(true);
  expect(keepDraft(file, written('# Night Rail'), taken)).toBe(false);
  expect(keepDraft(file, null, taken)).toBe(true);
  expect(readDraft(file)?.draft.text).toBe('# Grey Heron\n40 ml rye');
  expect(keepDraft(file, null, readDraft(file))).toBe(true);
  expect(existsSync(file)).toBe(false);
});

it('nothing is written where no folder can be made, nor through a link', () => {
  const folder = tempFolder();
  writeFileSync(join(folder, 'state'), '');
  expect(keepDraft(fileIn(folder), written('# Grey Heron'), null)).toBe(false);
  const other = tempFolder();
  mkdirSync(join(other, 'state', 'ullage'), { recursive: true });
  symlinkSync(join(other, 'elsewhere'), fileIn(other));
  expect(keepDraft(fileIn(other), written('# Grey Heron'), null)).toBe(false);
  expect(existsSync(join(other, 'elsewhere'))).toBe(false);
});

it('is called by its first line that says something', () => {
  expect(draftName(written('# Grey Heron\n40 ml rye'))).toBe('Grey Heron');
  expect(draftName(written('name: Fino\nkind: sherry'))).toBe('Fino');
  expect(draftName(written('name: \nkind: sherry'))).toBe('sherry');
  expect(draftName(written('# '))).toBe('something without a name');
});
