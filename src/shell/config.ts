// Settings of this machine, kept with conf: so far the name of this station. Loaded only when something is recorded,
// because its import costs more than a frame.
import { randomBytes } from 'node:crypto';
import { existsSync, readFileSync, renameSync } from 'node:fs';
import { join } from 'node:path';
import * as z from 'zod/mini';
import { soloName } from '../store/station.ts';

/** conf's own file name in the folder it is given. */
const CONFIG_FILE = 'config.json';

const stationName = z.string().check(z.regex(/^[a-z0-9][a-z0-9-]{0,39}$/));

/** What is kept already, read plainly: most starts need no more. */
function keptStation(folder: string): string | null {
  try {
    const kept: unknown = JSON.parse(readFileSync(join(folder, CONFIG_FILE), 'utf8'));
    const name = stationName.safeParse((kept as { station?: unknown }).station);
    return name.success ? name.data : null;
  } catch {
    return null;
  }
}

/** The name this machine signs its events with; made once and kept. A folder that can't be written gives one for now. */
export async function loadStation(folder: string): Promise<string> {
  const kept = keptStation(folder);
  if (kept !== null) return kept;
  const fresh = soloName(randomBytes(4).toString('hex'));
  try {
    putAside(join(folder, CONFIG_FILE));
    const { default: Conf } = await import('conf');
    const conf = new Conf({ cwd: folder, projectName: 'ullage', projectSuffix: '', configFileMode: 0o600 });
    conf.set('station', fresh);
    return fresh;
  } catch {
    return fresh;
  }
}

/** What can't be read is kept beside it: else every start would fail on it and be a station of its own. */
function putAside(file: string): void {
  if (!existsSync(file)) return;
  try {
    JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    renameSync(file, `${file}.damaged-${Date.now()}`);
  }
}
