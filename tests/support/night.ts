// A bar for tests: its own folder, its own clock, the real store and the real commands.
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import type { Outcome, World } from '../../src/commands/line/command.ts';
import { runCommand } from '../../src/commands/run.ts';
import type { Books } from '../../src/domain/ledger/books.ts';
import type { Report, ReportItem } from '../../src/domain/report/report.ts';
import { refuse } from '../../src/domain/value/problem.ts';
import { readBytes, writeText } from '../../src/shell/disk/files.ts';
import { eventsOf } from '../../src/shell/thread/reading.ts';
import { newEventId, noNotes } from '../../src/shell/world.ts';
import { openSqliteStore } from '../../src/store/file/sqlite.ts';
import type { Store } from '../../src/store/store.ts';

export type Night = {
  readonly folder: string;
  readonly world: World;
  /** Moves the clock. */
  readonly at: (instant: string) => void;
  readonly later: (minutes: number) => void;
  /** Runs a command line given as words; `run('pour 2', 'lantern sour')` splits the first word at spaces. */
  readonly run: (line: string, ...more: readonly string[]) => Promise<Outcome>;
  /** The same, and it must succeed; its JSON. */
  readonly json: <T = Record<string, unknown>>(line: string, ...more: readonly string[]) => Promise<T>;
  readonly ok: (line: string, ...more: readonly string[]) => Promise<string>;
  readonly store: <T>(work: (store: Store) => T) => T;
  readonly books: () => Books;
};

export function tempFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'ullage-test-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

export function openNight(start = '2026-11-20T17:00:00.000Z', station = 'test'): Night {
  const folder = tempFolder();
  let clock = Date.parse(start);
  const setting = { now: () => clock, newId: newEventId, station: () => station };
  const world: World = {
    now: () => clock,
    dataFolder: folder,
    isTerminal: false,
    version: '0.0.0-test',
    openStore: async () => openSqliteStore(folder, setting),
    notes: noNotes,
    progress: () => undefined,
    readFile: readBytes,
    readEvents: (path) => eventsOf(path, () => undefined),
    writeFile: writeText,
    edit: async () => refuse('no-editor', 'No editor is known here.', 78),
    tell: async () => false,
  };
  const run = (line: string, ...more: readonly string[]) =>
    runCommand([...line.split(' ').filter((word) => word !== ''), ...more], world);
  const ok = async (line: string, ...more: readonly string[]) => {
    const outcome = await run(line, ...more);
    if (outcome.exit !== 0) throw new Error(`${line} ${more.join(' ')} -> ${outcome.exit}: ${outcome.err}`);
    return outcome.out;
  };
  const withStore = <T>(work: (store: Store) => T): T => {
    const opened = openSqliteStore(folder, setting);
    if (!opened.ok) throw new Error(opened.problems[0]?.message);
    try {
      return work(opened.value);
    } finally {
      opened.value.close();
    }
  };
  return {
    folder,
    world,
    at: (instant) => {
      clock = Date.parse(instant);
    },
    later: (minutes) => {
      clock += minutes * 60_000;
    },
    run,
    ok,
    json: async (line, ...more) => JSON.parse(await ok(line, ...more, '--json')),
    store: withStore,
    books: () => withStore((store) => store.books()),
  };
}

export const demoFile = (name: string): string =>
  new URL(`../../data-demo/${name}`, import.meta.url).pathname;
export const demoText = (name: string): string => readFileSync(demoFile(name), 'utf8');

/** A small house: three people, six items, three specs. */
export async function furnished(start?: string): Promise<Night> {
  const night = openNight(start);
  const items = join(night.folder, 'items.csv');
  const specs = join(night.folder, 'specs.txt');
  writeText(items, smallItems);
  writeText(specs, smallSpecs);
  await night.ok('house name Oddtide');
  await night.ok('people add Ines Tom Mara');
  await night.ok('import', items, specs);
  return night;
}

/** Readings of a full small house. */
export const fullShelves: Readonly<Record<string, string>> = {
  'dry-gin': '2+0',
  rye: '1.5',
  'lemon-juice': '2+0',
  'simple-syrup': '2+0',
  'egg-white': '12',
  'aromatic-bitters': '0.9',
};

/** The small house with everything counted once. */
export async function counted(
  readings: Readonly<Record<string, string>> = {},
  start?: string,
): Promise<Night> {
  const night = await furnished(start);
  for (const [item, reading] of Object.entries({ ...fullShelves, ...readings }))
    await night.ok('count', item, reading);
  return night;
}

/** The small house, counted and open, half an hour on. */
export async function stocked(gin = '2+0'): Promise<Night> {
  const night = await counted({ 'dry-gin': gin });
  night.later(30);
  await night.ok('open --by Ines');
  return night;
}

/** The small house an hour before its close: six Rye Lamps poured, one of them on the house. */
export async function late(): Promise<Night> {
  const night = await counted({ 'dry-gin': '3.0' });
  night.later(30);
  await night.ok('open --by Ines');
  await night.ok('pour 5 rye-lamp');
  await night.ok('pour 1 rye-lamp --as comp --by Tom');
  night.later(60);
  return night;
}

/** The small house an hour after a seal, with 300 ml of gin missing. */
export async function sealed(): Promise<Night> {
  const night = await furnished();
  await night.ok('count dry-gin 3.0');
  await night.ok('open --by Ines');
  night.later(30);
  await night.ok('pour 5 lantern-sour');
  await night.ok('pour 1 lantern-sour --as comp --by Tom');
  await night.ok('lose 40ml dry-gin --why spill');
  night.later(60);
  await night.ok('count dry-gin 2.0');
  await night.ok('close --seal --by Mara');
  night.later(60);
  return night;
}

export const itemOf = (report: Report, id: string): ReportItem =>
  report.items.find((row) => row.item === id) as ReportItem;

export const smallItems = `id,name,also,kind,size,tare_g,abv,sugar_g_per_l,cost,case,place,shelf,par,count,allergens,caution
dry-gin,Dry gin,gin,spirit,700 ml,480,40,,18.90,6,bar,1,5,tenths,,
rye,Straight rye,rye whisky,spirit,700 ml,505,50,,28.00,6,bar,2,3,tenths,,
lemon-juice,Lemon juice,lemon,juice,1 l,,,16,5.20,,fridge,1,3,ml,,
simple-syrup,Simple syrup,syrup,syrup,1 l,65,,615,1.40,,fridge,2,3,ml,,
egg-white,Egg white,,egg,1 each,,,,0.32,30,fridge,3,30,pieces,eggs,
aromatic-bitters,Aromatic bitters,bitters,bitters,200 ml,260,44,,12.50,,bar,3,1,tenths,,
`;

export const smallSpecs = `# Lantern Sour
also: lamp sour
family: sour
glass: coupe
ice: none
price: 14.00
60 ml      dry gin
20 ml      lemon juice
10 ml      simple syrup
1          egg white
2 dash     aromatic bitters
do: dry shake; shake hard with ice; double strain
garnish: lemon twist

# Rye Lamp
family: sour
glass: rocks
price: 13.00
60 ml      rye
20 ml      lemon juice
10 ml      simple syrup
do: shake; strain

# Gin Straight
family: straight
glass: rocks
price: 6.50
40 ml      dry gin
do: pour
`;
