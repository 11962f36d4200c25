// Reading and writing files for commands: sizes bounded, writes whole or not at all.
import {
  closeSync,
  fstatSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readFileSync,
  readSync,
  renameSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import type { Sheet } from '../../domain/sheet/sheet.ts';
import { done, type Problem, type Result, refuse } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import { LARGEST_FILE } from '../../exchange/file/read-text.ts';
import { clearAway } from '../../store/file/open/birth.ts';
import { checkTarget } from '../../store/file/target.ts';

/** How long a plain file is, in bytes. */
export const bytesOf = (path: string): Result<number> => sizeOf(path);

/** A plain file that can be read, by its size; a pipe or a device might never end. */
function sizeOf(path: string): Result<number> {
  try {
    const stat = statSync(path);
    if (stat.isDirectory()) return refuse('no-file', `${clean(path)} is a folder. Name a file.`, 66);
    if (!stat.isFile())
      return refuse(
        'no-file',
        `${clean(path)} is no plain file. Save what it gives to a file first, and name that.`,
        66,
      );
    return done(stat.size);
  } catch {
    return unreadable(path);
  }
}

const unreadable = (path: string): Result<never> =>
  refuse('no-file', `There is no file ${clean(path)} that can be read. Check its name and its rights.`, 66);

export function readBytes(path: string): Result<Uint8Array> {
  const size = sizeOf(path);
  if (!size.ok) return size;
  if (size.value > LARGEST_FILE)
    return refuse('too-large', `${clean(path)} is larger than 50 MB. Import it in parts.`);
  // What says that it is empty is not read: some files of the system say so and have no end.
  if (size.value === 0) return done(new Uint8Array(0));
  try {
    return done(readFileSync(path));
  } catch {
    return unreadable(path);
  }
}

/** A spreadsheet by the path that was typed in the rooms: "~" is the home folder, quotes around it are the shell's. */
export async function sheetAt(path: string, env: NodeJS.ProcessEnv): Promise<Result<Sheet>> {
  const plain = path
    .trim()
    .replace(/^(['"])(.*)\1$/, '$2')
    .replace(/\\ /g, ' ');
  const file = plain.replace(/^~(?=\/)/, env.HOME ?? '~');
  const bytes = readBytes(file);
  if (!bytes.ok) return bytes;
  const { readSheet } = await import('../../exchange/file/sheet.ts');
  return readSheet(bytes.value, clean(basename(file)));
}

const PIECE = 1 << 20;
/** No line of ours is nearly as long. */
const LONGEST_LINE = 1 << 20;
const NEWLINE = 10;

/** The lines of a file, read as they are asked for. `onShare` hears how much of it was read, from 0 to 1. */
export function readLines(
  path: string,
  onShare: (share: number) => void = () => undefined,
): Result<Iterable<string | Problem>> {
  const size = sizeOf(path);
  if (!size.ok) return size;
  if (size.value === 0) return done([]);
  try {
    return done(linesOf(openSync(path, 'r'), onShare));
  } catch {
    return unreadable(path);
  }
}

function* linesOf(handle: number, onShare: (share: number) => void): Generator<string | Problem> {
  const { size } = fstatSync(handle);
  const decoder = new TextDecoder('utf-8', { fatal: true });
  // One buffer for all of it: what a line leaves over is moved to its front.
  const buffer = Buffer.allocUnsafe(PIECE + LONGEST_LINE);
  let [rest, read] = [0, 0];
  try {
    for (;;) {
      const length = readSync(handle, buffer, rest, PIECE, null);
      read += length;
      const bytes = buffer.subarray(0, rest + length);
      let from = 0;
      for (let end = bytes.indexOf(NEWLINE); end !== -1; end = bytes.indexOf(NEWLINE, from)) {
        yield lineOf(bytes.subarray(from, end), decoder);
        from = end + 1;
      }
      onShare(size === 0 ? 1 : Math.min(1, read / size));
      rest = bytes.length - from;
      if (length === 0 || rest > LONGEST_LINE) break;
      bytes.copy(buffer, 0, from);
    }
    if (rest > LONGEST_LINE)
      yield { code: 'long-line', exit: 65, message: 'The line has no end. Take it out.' };
    else if (rest > 0) yield lineOf(buffer.subarray(0, rest), decoder);
  } finally {
    closeSync(handle);
  }
}

function lineOf(bytes: Uint8Array, decoder: TextDecoder): string | Problem {
  try {
    const text = decoder.decode(bytes);
    if (!text.includes('\0')) return text;
  } catch {
    // told below
  }
  return {
    code: 'not-text',
    exit: 65,
    message: 'This line is not UTF-8 text. Save the file again as plain UTF-8.',
  };
}

/** Makes a folder of our own where there is none; false when that can't be. */
export function hasFolder(folder: string): boolean {
  try {
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    return true;
  } catch {
    return false;
  }
}

/** Writes beside the target, syncs, and renames: the old file stays until the new one is whole. */
export function writeText(path: string, text: string): Result<null> {
  const target = resolve(path);
  const temporary = join(dirname(target), `.${basename(target)}.${process.pid}.tmp`);
  let isOurs = false;
  try {
    const safe = checkTarget(target, 'text');
    if (!safe.ok) return safe;
    const handle = openSync(temporary, 'wx', 0o600);
    isOurs = true;
    try {
      // Not writeSync: on a full disk it writes a part and says nothing.
      writeFileSync(handle, text);
      fsyncSync(handle);
    } finally {
      closeSync(handle);
    }
    renameSync(temporary, target);
    return done(null);
  } catch {
    if (isOurs) clearAway(temporary);
    return refuse(
      'cannot-write',
      `${clean(path)} can't be written. Give a file in a folder you may write to, with space left.`,
      73,
    );
  }
}
