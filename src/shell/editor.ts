// A text in the editor of this machine, as git does it: $VISUAL, else $EDITOR, run by the shell, on a file nobody else can read.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, readSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { done, type Result, refuse } from '../domain/value/problem.ts';

export function editIn(
  env: NodeJS.ProcessEnv,
  isTerminal: boolean,
): (text: string, name: string) => Promise<Result<string>> {
  return async (text, name) => {
    const editor = [env.VISUAL, env.EDITOR].find((one) => one !== undefined && one.trim() !== '');
    if (editor === undefined)
      return refuse(
        'no-editor',
        'No editor is known here. Set EDITOR, as EDITOR=nano ullage edit specs.',
        78,
      );
    const folder = mkdtempSync(join(tmpdir(), 'ullage-edit-'));
    const file = join(folder, name);
    try {
      writeFileSync(file, text, { mode: 0o600 });
      // The file's name goes in as a word of its own, whatever the editor's own words are.
      const { status, error } = spawnSync('sh', ['-c', `${editor} "$1"`, 'sh', file], {
        stdio: isTerminal ? 'inherit' : 'ignore',
      });
      if (error !== undefined || status !== 0)
        return refuse(
          'editor-failed',
          'The editor ended with an error, so nothing was written. Look at $EDITOR and try again.',
          73,
        );
      return done(readFileSync(file, 'utf8'));
    } catch {
      return refuse(
        'cannot-write',
        'The text could not be handed to the editor. Free some space for temporary files.',
        73,
      );
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  };
}

/** Says something and waits for Enter; false where nobody can answer. */
export function tellOn(isTerminal: boolean): (text: string) => Promise<boolean> {
  return async (text) => {
    process.stderr.write(text);
    if (!isTerminal) return false;
    try {
      return readSync(0, Buffer.alloc(256)) > 0;
    } catch {
      return false;
    }
  };
}
