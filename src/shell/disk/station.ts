// What this machine keeps of the house a station joined: the access with its configuration, how the last exchange went with its
// state. Both stand outside the folder of the books, so that books put back to an older copy are known as such.
import { existsSync, readdirSync, readFileSync, realpathSync, rmSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import * as z from 'zod/mini';
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import { type StationFile, type StationNotes, stationFileSchema, statusSchema } from '../../store/station.ts';
import { hasFolder, writeText } from './files.ts';
import { configFolder, markOf, stateFolder } from './paths.ts';

type Env = Readonly<Record<string, string | undefined>>;

/** Where the access to the server is kept. */
const joinedFile = (folder: string, env: Env): string =>
  join(configFolder(env), `station-${markOf(folder)}.json`);

/** Whose books these are, without the access: beside them, so that it moves with them. */
const IDENTITY = 'station.json';
const identitySchema = z.object({
  house: z.object({ id: z.string(), name: z.string() }),
  station: z.string(),
});
/** An access remembers the folder it was given to. */
const withFolder = z.object({ folder: z.optional(z.string()) });

export function stationNotes(given: string, env: Env): StationNotes {
  const folder = realOf(given);
  const access = joinedFile(folder, env);
  const status = join(stateFolder(env), `exchange-${markOf(folder)}.json`);
  const kept = (file: StationFile): Result<null> => {
    if (!hasFolder(dirname(access)) || !hasFolder(folder))
      return refuse('cannot-write', `${clean(access)} can't be written. Mend the rights of its folder.`, 73);
    const { house, station } = file;
    const beside = writeText(join(folder, IDENTITY), `${JSON.stringify({ house, station })}\n`);
    return beside.ok ? writeText(access, `${JSON.stringify({ ...file, folder })}\n`) : beside;
  };
  return {
    joined: () => {
      const text = textOf(access);
      if (text === null) return moved(folder, env, kept);
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
    keepJoined: kept,
    status: () => {
      const parsed = statusSchema.safeParse(jsonOf(textOf(status) ?? ''));
      return parsed.success ? parsed.data : null;
    },
    keepStatus: (now) => {
      if (hasFolder(dirname(status))) writeText(status, `${JSON.stringify(now)}\n`);
    },
  };
}

/** The folder itself, whatever name or link leads to it. */
function realOf(folder: string): string {
  try {
    return realpathSync(folder);
  } catch {
    return folder;
  }
}

/**
 * Books whose folder was moved find their access again. A copy of a station's books is none: two that record under one name would use its
 * numbers twice.
 */
function moved(
  folder: string,
  env: Env,
  keep: (file: StationFile) => Result<null>,
): Result<StationFile | null> {
  const identity = identitySchema.safeParse(jsonOf(textOf(join(folder, IDENTITY)) ?? ''));
  if (!identity.success) return done(null);
  const { house, station } = identity.data;
  const said = `station ${clean(station)} of ${clean(house.name)}`;
  const known = namesIn(configFolder(env)).flatMap((name) => {
    const path = join(configFolder(env), name);
    const data = jsonOf(textOf(path) ?? '');
    const file = stationFileSchema.safeParse(data);
    const isIts = file.success && file.data.house.id === house.id && file.data.station === station;
    return isIts ? [{ path, file: file.data, before: withFolder.safeParse(data).data?.folder ?? '' }] : [];
  });
  const there = known.find(({ before }) => before !== folder && existsSync(join(before, 'books.sqlite')));
  if (there !== undefined)
    return refuse(
      'copied-books',
      `These are a copy of the books of ${said}, which are in ${clean(there.before)}. Record there; or take ${IDENTITY} out of this folder to use the copy alone.`,
      78,
    );
  const [one] = known;
  if (one !== undefined) {
    const adopted = keep(one.file);
    if (!adopted.ok) return adopted;
    // Where they were they are no more: a copy must not find its access there.
    for (const { path } of known) rmSync(path, { force: true });
    return done(one.file);
  }
  return refuse(
    'lost-access',
    `These are the books of ${said}, but how it gets to the server is not known on this computer. Join again with a file of that station, or take ${IDENTITY} out of this folder to use them alone.`,
    78,
  );
}

const namesIn = (folder: string): string[] => {
  try {
    return readdirSync(folder).filter((name) => /^station-[0-9a-f]{12}\.json$/.test(name));
  } catch {
    return [];
  }
};

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
