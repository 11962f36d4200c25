// From the words of a command line to a command and its flags. Wrong use is one sentence with the nearest right one.
import { parseArgs } from 'node:util';
import { nearestNames } from '../../domain/search/nearest.ts';
import { clean } from '../../domain/value/text.ts';
import type { Command, Flag, Outcome } from './command.ts';
import { usageProblem } from './command.ts';

export const globalFlags: readonly Flag[] = [
  { name: 'data', takes: 'DIR', says: 'the folder of the books; else ULLAGE_DATA; else the XDG data folder' },
  { name: 'at', takes: 'INSTANT', says: 'when it happened, as 2026-11-20T22:41:00+01:00; default now' },
  { name: 'json', says: 'one JSON document and nothing else' },
  { name: 'no-color', says: 'no colour' },
  {
    name: 'screen-reader',
    says: 'the rooms line by line, for a screen reader; INK_SCREEN_READER=true does the same',
  },
  { name: 'help', says: 'this help' },
  { name: 'version', says: 'the version' },
];

export type Parsed = {
  readonly command: string | null;
  readonly words: readonly string[];
  readonly flags: ReadonlyMap<string, readonly string[]>;
};

/** Stands before a word that only looks like a flag, while flags are read; no argument can hold it. */
const NO_FLAG = '\0';

/** Values that begin with a minus ("-egg white", "-5") belong to the flag before them. */
function glue(argv: readonly string[], flags: readonly Flag[]): string[] {
  const takes = new Set(flags.filter((flag) => flag.takes !== undefined).map((flag) => `--${flag.name}`));
  const glued: string[] = [];
  for (let index = 0; index < argv.length; index += 1) {
    const word = argv[index] ?? '';
    const next = argv[index + 1];
    if (word === '--') return [...glued, ...argv.slice(index)];
    if (takes.has(word) && next !== undefined) {
      glued.push(`${word}=${next}`);
      index += 1;
      // "-5ml" is a word, and what is wrong with it the command says itself.
    } else glued.push(/^-[\d.,]/.test(word) ? `${NO_FLAG}${word}` : word);
  }
  return glued;
}

const asTyped = (word: string): string => (word.startsWith(NO_FLAG) ? word.slice(1) : word);

/** Takes the command's name off the front; global flags may stand before it. */
export function splitCommand(argv: readonly string[]): {
  command: string | null;
  before: string[];
  after: string[];
} {
  const withValue = new Set(
    globalFlags.filter((flag) => flag.takes !== undefined).map((flag) => `--${flag.name}`),
  );
  for (let index = 0; index < argv.length; index += 1) {
    const word = argv[index] ?? '';
    if (!word.startsWith('-'))
      return { command: word, before: argv.slice(0, index), after: argv.slice(index + 1) };
    if (withValue.has(word)) index += 1;
  }
  return { command: null, before: [...argv], after: [] };
}

export function parseFlags(
  argv: readonly string[],
  command: Command | null,
): { parsed: Parsed } | { problem: Outcome } {
  const flags = [...globalFlags, ...(command?.flags ?? [])];
  const options = Object.fromEntries(
    flags.map((flag) => [
      flag.name,
      {
        type: flag.takes === undefined ? ('boolean' as const) : ('string' as const),
        multiple: true as const,
      },
    ]),
  );
  try {
    const { values, positionals } = parseArgs({
      args: glue(
        argv.map((word) => (word === '-h' ? '--help' : word)),
        flags,
      ),
      options,
      allowPositionals: true,
      strict: true,
    });
    const entries = Object.entries(values).map(
      ([name, list]) => [name, (list as (string | boolean)[]).map(String)] as const,
    );
    const repeated = entries.find(
      ([name, list]) => list.length > 1 && flags.find((flag) => flag.name === name)?.many !== true,
    );
    if (repeated !== undefined)
      return { problem: usageProblem(`--${repeated[0]} stands twice. Give it once.`) };
    return {
      parsed: { command: command?.name ?? null, words: positionals.map(asTyped), flags: new Map(entries) },
    };
  } catch (error) {
    return { problem: flagProblem(error as Error & { code?: string }, argv, flags, command) };
  }
}

function flagProblem(
  error: Error & { code?: string },
  argv: readonly string[],
  flags: readonly Flag[],
  command: Command | null,
): Outcome {
  const where = command === null ? 'ullage --help' : `ullage ${command.name} --help`;
  if (error.code === 'ERR_PARSE_ARGS_UNKNOWN_OPTION') {
    const known = flags.map((flag) => `--${flag.name}`);
    const wrong =
      argv.find((word) => word.startsWith('-') && !known.includes(word.split('=')[0] ?? '')) ?? '';
    const near = nearestNames(wrong, known);
    const remedy = near[0] === undefined ? `See ${where}.` : `Did you mean ${near[0]}? See ${where}.`;
    return usageProblem(`There is no flag "${clean(wrong).slice(0, 30)}" here. ${remedy}`);
  }
  return usageProblem(`A flag lacks its value, or has one it does not take. See ${where}.`);
}
