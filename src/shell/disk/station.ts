// What this machine keeps of the house a station joined: the access with its configuration, how the last exchange went with its
// state. Both stand outside the folder of the books, so that books put back to an older copy are known as such.
import { readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { done, refuse } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import { type StationNotes, stationFileSchema, stationFileText, statusSchema } from '../../store/station.ts';
import { hasFolder, writeText } from './files.ts';
import { configFolder, markOf, stateFolder } from './paths.ts';

type Env = Readonly<Record<string, string | undefined>>;

/** Where the access to the server is kept. */
const joinedFile = (folder: string, env: Env): string =>
  join(configFolder(env), `station-${markOf(folder)}.json`);

export function stationNotes(folder: string, env: Env): StationNotes {
  const access = joinedFile(folder, env);
  const status = join(stateFolder(env), `exchange-${markOf(folder)}.json`);
  return {
    joined: () => {
      const text = textOf(access);
      if (text === null) return done(null);
      if ((statSync(access).mode & 0o077) !== 0)
        return refuse(
          'open-access',
          `Others can read ${clean(access)}, which holds a password. Set its mode to 0600.`,
          78,
        );
      const parsed = stationFileSchema.safeParse(jsonOf(text));
      return parsed.success
        ? done(parsed.data)
        : refuse(
            'bad-access',
            `${clean(access)} is damaged. Join again with ullage station join FILE; the books stay as they are.`,
            78,
          );
    },
    keepJoined: (file) => {
      if (!hasFolder(dirname(access)))
        return refuse(
          'cannot-write',
          `${clean(access)} can't be written. Mend the rights of its folder.`,
          73,
        );
      return writeText(access, stationFileText(file));
    },
    status: () => {
      const parsed = statusSchema.safeParse(jsonOf(textOf(status) ?? ''));
      return parsed.success ? parsed.data : null;
    },
    keepStatus: (kept) => {
      if (hasFolder(dirname(status))) writeText(status, `${JSON.stringify(kept)}\n`);
    },
  };
}

function textOf(file: string): string | null {
  try {
    return readFileSync(file, 'utf8');
  } catch {
    return null;
  }
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
