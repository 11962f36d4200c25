// A station as its commands see it: a bar for tests with notes of its own, on a server.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { World } from '../../src/commands/line/command.ts';
import { runCommand } from '../../src/commands/run.ts';
import { stationNotes } from '../../src/shell/disk/station.ts';
import { newEventId, storeSetting } from '../../src/shell/world.ts';
import { openSqliteStore } from '../../src/store/file/sqlite.ts';
import { type Night, openNight, smallItems, smallSpecs } from './night.ts';
import type { TestServer } from './server.ts';

/** The same bar, but as the program finds it: under the name its notes give it. */
export function stationNight(start?: string, time?: { now: number }): Night & { readonly home: string } {
  const plain = openNight(start);
  const home = join(plain.folder, 'home');
  const folder = join(plain.folder, 'books');
  mkdirSync(home);
  const env = { XDG_CONFIG_HOME: join(home, 'config'), XDG_STATE_HOME: join(home, 'state'), HOME: home };
  const notes = stationNotes(folder, env);
  const now = time === undefined ? plain.world.now : () => time.now;
  const world: World = {
    ...plain.world,
    now,
    dataFolder: folder,
    notes,
    openStore: async () => {
      const setting = await storeSetting(env, notes);
      return setting.ok ? openSqliteStore(folder, { now, newId: newEventId, ...setting.value }) : setting;
    },
  };
  const run = (line: string, ...more: readonly string[]) =>
    runCommand([...line.split(' ').filter((word) => word !== ''), ...more], world);
  const ok = async (line: string, ...more: readonly string[]): Promise<string> => {
    const outcome = await run(line, ...more);
    if (outcome.exit !== 0) throw new Error(`${line} ${more.join(' ')} -> ${outcome.exit}: ${outcome.err}`);
    return outcome.out;
  };
  return {
    ...plain,
    folder,
    home,
    world,
    run,
    ok,
    json: async (line, ...more) => JSON.parse(await ok(line, ...more, '--json')),
    store: () => {
      throw new Error('ask by commands');
    },
    books: () => {
      throw new Error('ask by commands');
    },
  };
}

/** What a small bar has when it joins as the first of its house. */
export async function stockFirst(one: ReturnType<typeof stationNight>): Promise<void> {
  const [items, specs] = [join(one.home, 'items.csv'), join(one.home, 'specs.txt')];
  writeFileSync(items, smallItems);
  writeFileSync(specs, smallSpecs);
  await one.ok('people add Ines Tom');
  await one.ok('import', items, specs);
  await one.ok('count dry-gin 3.0');
}

/** Words that name the server and its keeper's password. */
export const onServer = ({ url, passwordFile }: TestServer): string[] => [
  url,
  '--password-file',
  passwordFile,
];
