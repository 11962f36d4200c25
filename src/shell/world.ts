// The world outside as commands see it: clock, files, store. Made once in main; tests make their own.
import { userInfo } from 'node:os';
import { v7 as newUuid } from 'uuid';
import type { World } from '../commands/line/command.ts';
import type { EventId } from '../domain/value/ids.ts';
import { done, type Result, refuse } from '../domain/value/problem.ts';
import type { Machine } from '../screens/room.ts';
import { openSqliteStore } from '../store/file/sqlite.ts';
import type { StationNotes } from '../store/station.ts';
import type { StoreSetting } from '../store/store.ts';
import { loadStation } from './config.ts';
import { readBytes, writeText } from './disk/files.ts';
import { configFolder } from './disk/paths.ts';
import { stationNotes } from './disk/station.ts';
import { editIn, tellOn } from './editor.ts';
import { progress } from './progress.ts';
import { eventsOf } from './thread/reading.ts';

export const newEventId = (): EventId => newUuid() as EventId;

/** The clock; ULLAGE_NOW (an instant) holds it still, for tests and for scripts that must give the same again. */
export function clock(env: NodeJS.ProcessEnv): () => number {
  const fixed = env.ULLAGE_NOW === undefined ? Number.NaN : Date.parse(env.ULLAGE_NOW);
  return Number.isFinite(fixed) ? () => fixed : () => Date.now();
}

/** What this computer says of where it is, and who is signed in there. */
export function machineOf(): Machine {
  const { timeZone } = new Intl.DateTimeFormat().resolvedOptions();
  return { zone: timeZone ?? 'UTC', user: signedIn() };
}

/** As a name of a person: none for the accounts of machines. */
function signedIn(): string {
  try {
    const { username } = userInfo();
    return /^(root|admin|user|nobody)$/i.test(username)
      ? ''
      : username.replace(/^\p{Ll}/u, (first) => first.toUpperCase());
  } catch {
    return '';
  }
}

/** A demo belongs to no house. */
export const noNotes: StationNotes = {
  joined: () => done(null),
  keepJoined: () => refuse('demo', 'A demo joins no house. Join with books of your own.', 64),
  status: () => null,
  keepStatus: () => undefined,
};

/** Under which name is recorded, and as one of how many: a station of a house bears the name the house knows it by. */
export async function storeSetting(
  env: NodeJS.ProcessEnv,
  notes: StationNotes,
  station?: string,
): Promise<Result<Pick<StoreSetting, 'station' | 'sharesHouse' | 'confirmed'>>> {
  const joined = notes.joined();
  if (!joined.ok) return joined;
  if (joined.value === null) {
    const name = station ?? (await loadStation(configFolder(env)));
    return done({ station: () => name });
  }
  const name = joined.value.station;
  return done({
    station: () => name,
    sharesHouse: true,
    confirmed: () => notes.status()?.confirmed ?? 0,
  });
}

export function makeWorld(folder: string, env: NodeJS.ProcessEnv, version: string, station?: string): World {
  const now = clock(env);
  const notes = station === undefined ? stationNotes(folder, env) : noNotes;
  const bar = progress(process.stderr);
  const isTerminal = process.stdin.isTTY === true && process.stdout.isTTY === true && env.TERM !== 'dumb';
  return {
    now,
    dataFolder: folder,
    isTerminal,
    version,
    notes,
    progress: (share) => bar(share),
    openStore: async () => {
      const setting = await storeSetting(env, notes, station);
      return setting.ok ? openSqliteStore(folder, { now, newId: newEventId, ...setting.value }) : setting;
    },
    readFile: readBytes,
    readEvents: (path) => eventsOf(path, progress(process.stderr)),
    writeFile: writeText,
    edit: editIn(env, isTerminal),
    tell: tellOn(isTerminal),
  };
}
