// When we have a bug: the terminal is given back first, then one sentence and a file with what is needed to mend it.
import { mkdirSync, readdirSync, rmSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { stateFolder } from './disk/paths.ts';

let giveBack: (() => string) | null = null;

/** The window was closed or the line cut: nobody is left to write to, and that is no bug. */
export const isTerminalGone = (error: unknown): boolean => {
  const { code, syscall } = (error ?? {}) as NodeJS.ErrnoException;
  const isLost =
    code === 'EIO' || code === 'EPIPE' || code === 'ENXIO' || code === 'EBADF' || code === 'ENOTTY';
  return isLost && (syscall === 'write' || syscall === 'read' || syscall === 'setRawMode');
};
export const HUNG_UP = 129;

/** What must happen before a word is said: the rooms hand in how the terminal is given back, and get out what is not saved yet. */
export function beforeCrash(work: () => string): void {
  giveBack = work;
}

/** Ends the full screen, shows the cursor, stops bracketed paste and raw mode, whatever state the screen is in. */
export function resetTerminal(): void {
  if (!process.stdout.isTTY) return;
  try {
    process.stdin.setRawMode?.(false);
    writeSync(1, '\u001b[?2026l\u001b[?2004l\u001b[?1049l\u001b[?25h');
  } catch {
    // the terminal is gone: there is nothing to give back
  }
}

const MOST_NOTES = 9;

/** Old notes make way: the newest few are enough. */
function tidyNotes(folder: string): void {
  try {
    const notes = readdirSync(folder)
      .filter((name) => /^crash-.*\.txt$/.test(name))
      .sort();
    for (const name of notes.slice(0, -MOST_NOTES)) rmSync(join(folder, name), { force: true });
  } catch {
    // there are none, or they can't be read
  }
}

/** Writes the crash file and says so on stderr; the file holds no names and no amounts, only where it broke. */
export function reportCrash(error: unknown, env: NodeJS.ProcessEnv, version: string): void {
  const unsaved = lastWishes();
  const known = unsaved === '' ? 'everything shown as recorded is saved.' : 'what is not saved yet follows.';
  tidyNotes(stateFolder(env));
  const stamp = new Date().toISOString().replace(/[:.]/g, '-');
  const file = join(stateFolder(env), `crash-${stamp}.txt`);
  const text =
    error instanceof Error
      ? `${error.name}\n${(error.stack ?? '').split('\n').slice(1).join('\n')}`
      : typeof error;
  try {
    mkdirSync(stateFolder(env), { recursive: true, mode: 0o700 });
    writeFileSync(file, `ullage ${version} on Node ${process.version}\n${text}\n`, { mode: 0o600 });
    process.stderr.write(
      `ullage met a bug and stopped; ${known}\nWhat is needed to mend it is in ${file}\n${unsaved}`,
    );
  } catch {
    process.stderr.write(`ullage met a bug and stopped; ${known}\n${unsaved}`);
  }
}

/** A second fault on the way out must not hide the first. */
function lastWishes(): string {
  const work = giveBack;
  giveBack = null;
  try {
    return work?.() ?? '';
  } catch {
    resetTerminal();
    return '';
  }
}
