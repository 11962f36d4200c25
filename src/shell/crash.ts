// When we have a bug: the terminal is given back first, then one sentence and a file with what is needed to mend it.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { stateFolder } from './paths.ts';

/** Writes the crash file and says so on stderr; the file holds no names and no amounts, only where it broke. */
export function reportCrash(error: unknown, env: NodeJS.ProcessEnv, version: string): void {
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
      `ullage met a bug and stopped; everything shown as recorded is saved.\nWhat is needed to mend it is in ${file}\n`,
    );
  } catch {
    process.stderr.write('ullage met a bug and stopped; everything shown as recorded is saved.\n');
  }
}
