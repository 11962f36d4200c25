// The demo: a fresh temporary copy of the invented house, gone again afterwards.
import { copyFileSync, existsSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { runCommand } from '../commands/run.ts';
import { tidyLeft } from '../store/file/open/birth.ts';
import { BOOKS_FILE } from '../store/file/open/names.ts';
import { makeWorld } from './world.ts';

/** The package's own folder, from the bundle (.build/) and from source (src/shell/) alike. */
function ownFolder(): string {
  const here = fileURLToPath(new URL('.', import.meta.url));
  return (
    [join(here, '..'), join(here, '..', '..')].find((folder) => existsSync(join(folder, 'data-demo'))) ?? here
  );
}

export const DEMO_STATION = 'demo';

/** Makes the copy. The books are built once into .build/ when the project is built; without them they are imported. */
export async function makeDemo(env: NodeJS.ProcessEnv): Promise<{ folder: string; remove: () => void }> {
  tidyLeft(tmpdir(), 'ullage-demo-');
  const folder = mkdtempSync(join(tmpdir(), `ullage-demo-${process.pid}-`));
  const built = join(ownFolder(), '.build', 'demo.sqlite');
  if (existsSync(built)) copyFileSync(built, join(folder, BOOKS_FILE));
  else await importDemo(folder, env);
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) };
}

/** Imports the demo's files into an empty folder. */
export async function importDemo(folder: string, env: NodeJS.ProcessEnv): Promise<void> {
  mkdirSync(folder, { recursive: true });
  const world = makeWorld(folder, env, '', DEMO_STATION);
  const outcome = await runCommand(['import', join(ownFolder(), 'data-demo', 'events.jsonl')], world);
  if (outcome.exit !== 0) throw new Error(`the demo cannot be imported: ${outcome.err}`);
}
