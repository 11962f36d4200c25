// Words a person reads in the rooms never name a command line: there is none. A refusal that does has its other wording beside it.
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { expect, it } from 'vitest';

const source = new URL('../../src', import.meta.url).pathname;
const filesBelow = (folder: string): string[] =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    return entry.isDirectory() ? filesBelow(path) : [path];
  });

const commandLine = /\bullage [a-z]+|(?<!-)--[a-z]/;
/** Text literals of a file, comments left out. */
const literals = (text: string): string[] =>
  text
    .replace(/^\s*(\/\/|\/?\*).*$/gm, '')
    .match(/'(?:[^'\\\n]|\\.)*'|"(?:[^"\\\n]|\\.)*"|`(?:[^`\\]|\\.)*`/g) ?? [];

it('in screens and rooms nothing names a command', () => {
  const found = [...filesBelow(join(source, 'screens')), ...filesBelow(join(source, 'app'))].flatMap(
    (file) => {
      const name = relative(source, file);
      return literals(readFileSync(file, 'utf8'))
        .filter((text) => commandLine.test(text))
        .map((text) => `${name}: ${text}`);
    },
  );
  expect(found).toEqual([]);
});

/** The text of a call from its name to its closing bracket. */
function callAt(text: string, start: number): string {
  let depth = 0;
  for (let at = start; at < text.length; at += 1) {
    if (text[at] === '(') depth += 1;
    if (text[at] === ')') {
      depth -= 1;
      if (depth === 0) return text.slice(start, at + 1);
    }
  }
  return text.slice(start);
}

it('a refusal of the domain that names a command has another wording for the rooms', () => {
  const found = filesBelow(join(source, 'domain')).flatMap((file) => {
    const text = readFileSync(file, 'utf8');
    return [...text.matchAll(/\b(?:refuse|problem)\(/g)]
      .map(({ index }) => callAt(text, index))
      .filter((call) => literals(call).filter((part) => commandLine.test(part)).length > 0)
      .filter(
        (call) => literals(call).filter((part) => part.length > 12 && !commandLine.test(part)).length === 0,
      )
      .map((call) => `${relative(source, file)}: ${call.slice(0, 120)}`);
  });
  expect(found).toEqual([]);
});
