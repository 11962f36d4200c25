// What a power cut can leave behind: the writes of a trace are played again up to some call; those that no sync had confirmed are
// kept, dropped, or torn at 512 bytes. Folder operations are taken as ordered and durable; drives that lie are not modelled.
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { basename, join } from 'node:path';

type Step =
  | { readonly do: 'write'; readonly file: string; readonly at: number; readonly bytes: Buffer }
  | { readonly do: 'cut'; readonly file: string; readonly size: number }
  | { readonly do: 'sync' | 'create' | 'unlink'; readonly file: string }
  | { readonly do: 'said'; readonly tap: number };

const unhex = (text: string): Buffer => Buffer.from(text.replaceAll('\\x', ''), 'hex');
const quoted = (text: string): Buffer => unhex(/"((?:\\x..)*)"/.exec(text)?.[1] ?? '');

/** Runs the taps under strace and reads what they did to the files of a folder. */
export function trace(
  script: string,
  folder: string,
  many: number,
  how: 'kept' | 'loose',
  log: string,
): Step[] {
  const calls = 'openat,close,pwrite64,fdatasync,fsync,ftruncate,unlink,write';
  const words = ['-f', '-qq', '-xx', '-s', '70000', '-e', `trace=${calls}`, '-o', log];
  spawnSync('strace', [...words, process.execPath, script, folder, String(many), how], { stdio: 'ignore' });
  const open = new Map<number, string>();
  return readFileSync(log, 'latin1')
    .split('\n')
    .flatMap((line) => stepOf(line, folder, open));
}

function stepOf(line: string, folder: string, open: Map<number, string>): Step[] {
  const [, call = '', words = '', result = '-1'] = /^\d+\s+(\w+)\((.*)\)\s+=\s+(-?\d+)/.exec(line) ?? [];
  if (Number(result) < 0) return [];
  const file = open.get(Number(words.split(',')[0]));
  switch (call) {
    case 'openat': {
      const path = quoted(words).toString();
      if (!path.startsWith(`${folder}/`) || path.endsWith('-shm')) {
        open.delete(Number(result));
        return [];
      }
      open.set(Number(result), path);
      return words.includes('O_CREAT') ? [{ do: 'create', file: path }] : [];
    }
    case 'close':
      open.delete(Number(words));
      return [];
    case 'unlink': {
      const path = quoted(words).toString();
      return path.startsWith(`${folder}/`) ? [{ do: 'unlink', file: path }] : [];
    }
    case 'write':
      return words.startsWith('1,') ? [{ do: 'said', tap: Number(quoted(words).toString()) }] : [];
    case 'pwrite64':
      return file === undefined
        ? []
        : [{ do: 'write', file, at: Number(words.slice(words.lastIndexOf(',') + 1)), bytes: quoted(words) }];
    case 'ftruncate':
      return file === undefined ? [] : [{ do: 'cut', file, size: Number(words.split(',')[1]) }];
    default:
      return file === undefined ? [] : [{ do: 'sync', file }];
  }
}

export type Image = { readonly files: ReadonlyMap<string, Buffer>; readonly said: number };

/** The disk after a cut at one of the steps. */
export function imageAt(
  start: ReadonlyMap<string, Buffer>,
  steps: readonly Step[],
  cut: number,
  random: () => number,
): Image {
  const files = new Map([...start].map(([name, bytes]) => [name, Buffer.from(bytes)]));
  let pending: (Step & { readonly do: 'write' | 'cut' })[] = [];
  let said = 0;
  for (const step of steps.slice(0, cut)) {
    if (step.do === 'said') said = step.tap;
    else if (step.do === 'write' || step.do === 'cut') pending.push(step);
    else {
      for (const one of pending) if (one.file === step.file) apply(files, one);
      pending = pending.filter((one) => one.file !== step.file);
      if (step.do === 'unlink') files.delete(step.file);
      else if (step.do === 'create' && !files.has(step.file)) files.set(step.file, Buffer.alloc(0));
    }
  }
  const how = random();
  for (const one of pending) {
    if (how < 0.25 || (how >= 0.5 && random() < 0.5)) continue;
    apply(files, how >= 0.5 && one.do === 'write' && random() < 0.4 ? torn(one, random) : one);
  }
  return { files, said };
}

function torn(step: Extract<Step, { do: 'write' }>, random: () => number): Extract<Step, { do: 'write' }> {
  const keep = Math.floor(random() * (step.bytes.length / 512 + 1)) * 512;
  return { ...step, bytes: step.bytes.subarray(0, keep) };
}

function apply(files: Map<string, Buffer>, step: Extract<Step, { do: 'write' | 'cut' }>): void {
  const before = files.get(step.file) ?? Buffer.alloc(0);
  if (step.do === 'cut') {
    files.set(
      step.file,
      Buffer.concat([before.subarray(0, step.size), Buffer.alloc(Math.max(0, step.size - before.length))]),
    );
    return;
  }
  const end = Math.max(before.length, step.at + step.bytes.length);
  const after = Buffer.concat([before, Buffer.alloc(end - before.length)]);
  step.bytes.copy(after, step.at);
  files.set(step.file, after);
}

export function writeImage({ files }: Image, folder: string): void {
  rmSync(folder, { recursive: true, force: true });
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  for (const [name, bytes] of files) writeFileSync(join(folder, basename(name)), bytes, { mode: 0o600 });
}
