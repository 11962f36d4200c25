// The world outside as commands see it: clock, files, store. Made once in main; tests make their own.
import { v7 as newUuid } from 'uuid';
import type { World } from '../commands/line/command.ts';
import type { EventId } from '../domain/value/ids.ts';
import { openSqliteStore } from '../store/file/sqlite.ts';
import { loadStation } from './config.ts';
import { editIn, tellOn } from './editor.ts';
import { readBytes, readLines, writeText } from './files.ts';
import { configFolder } from './paths.ts';
import { progress } from './progress.ts';

export const newEventId = (): EventId => newUuid() as EventId;

/** The clock; ULLAGE_NOW (an instant) holds it still, for tests and for scripts that must give the same again. */
export function clock(env: NodeJS.ProcessEnv): () => number {
  const fixed = env.ULLAGE_NOW === undefined ? Number.NaN : Date.parse(env.ULLAGE_NOW);
  return Number.isFinite(fixed) ? () => fixed : () => Date.now();
}

export function makeWorld(folder: string, env: NodeJS.ProcessEnv, version: string, station?: string): World {
  const now = clock(env);
  const isTerminal = process.stdin.isTTY === true && process.stdout.isTTY === true && env.TERM !== 'dumb';
  return {
    now,
    dataFolder: folder,
    isTerminal,
    version,
    openStore: async () => {
      const name = station ?? (await loadStation(configFolder(env)));
      return openSqliteStore(folder, { now, newId: newEventId, station: () => name });
    },
    readFile: readBytes,
    readLines: (path) => readLines(path, progress(process.stderr)),
    writeFile: writeText,
    edit: editIn(env, isTerminal),
    tell: tellOn(isTerminal),
  };
}
