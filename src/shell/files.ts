// Reading and writing files for commands: sizes bounded, writes whole or not at all.
import {
  closeSync,
  fsyncSync,
  openSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { done, type Result, refuse } from '../domain/value/problem.ts';
import { clean } from '../domain/value/text.ts';
import { LARGEST_FILE } from '../exchange/file/read-text.ts';

export function readBytes(path: string): Result<Uint8Array> {
  try {
    const stat = statSync(path);
    if (stat.isDirectory()) return refuse('no-file', `${clean(path)} is a folder. Name a file.`, 66);
    if (stat.size > LARGEST_FILE)
      return refuse('too-large', `${clean(path)} is larger than 50 MB. Import it in parts.`);
    return done(readFileSync(path));
  } catch {
    return refuse(
      'no-file',
      `There is no file ${clean(path)} that can be read. Check its name and its rights.`,
      66,
    );
  }
}

/** Writes beside the target, syncs, and renames: the old file stays until the new one is whole. */
export function writeText(path: string, text: string): Result<null> {
  const target = resolve(path);
  const temporary = join(dirname(target), `.${basename(target)}.${process.pid}.tmp`);
  try {
    if (statSync(target, { throwIfNoEntry: false })?.isFile() === false) return writeThrough(target, text);
    const handle = openSync(temporary, 'wx', 0o600);
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
    rmSync(temporary, { force: true });
    return refuse(
      'cannot-write',
      `${clean(path)} can't be written. Give a file in a folder you may write to, with space left.`,
      73,
    );
  }
}

/** A device such as /dev/stdout is written to, never replaced. */
function writeThrough(target: string, text: string): Result<null> {
  const handle = openSync(target, 'w');
  try {
    writeFileSync(handle, text);
  } finally {
    closeSync(handle);
  }
  return done(null);
}
