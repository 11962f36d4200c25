// Settings of this machine, kept with conf: so far the name of this station. Loaded only when something is recorded,
// because its import costs more than a frame.
import { randomBytes } from 'node:crypto';
import * as z from 'zod/mini';

const stationName = z.string().check(z.regex(/^[a-z0-9][a-z0-9-]{0,39}$/));

/** The name this machine signs its events with; made once and kept. A folder that can't be written gives one for now. */
export async function loadStation(folder: string): Promise<string> {
  const fresh = `s-${randomBytes(4).toString('hex')}`;
  try {
    const { default: Conf } = await import('conf');
    const conf = new Conf({ cwd: folder, projectName: 'ullage', projectSuffix: '', configFileMode: 0o600 });
    const kept = stationName.safeParse(conf.get('station'));
    if (kept.success) return kept.data;
    conf.set('station', fresh);
    return fresh;
  } catch {
    return fresh;
  }
}
