// The layers of the house, enforced: arrows point one way, the domain is pure, and names are ours.
import { execFileSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = new URL('../..', import.meta.url).pathname;
const source = join(root, 'src');

const filesBelow = (folder: string): string[] =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const path = join(folder, entry.name);
    return entry.isDirectory() ? filesBelow(path) : /\.tsx?$/.test(entry.name) ? [path] : [];
  });

const files = filesBelow(source);
const importsOf = (file: string): string[] =>
  [
    ...readFileSync(file, 'utf8').matchAll(
      /^(?:import|export)\b[^;']*?from '([^']+)'|^import '([^']+)'|import\('([^']+)'\)/gm,
    ),
  ].map((match) => match[1] ?? match[2] ?? match[3] ?? '');
const layerOf = (file: string): string => {
  const [first = ''] = relative(source, file).split('/');
  return first.includes('.') ? 'main' : first;
};

/** What each layer may import from the others. */
const allowed: Readonly<Record<string, readonly string[]>> = {
  domain: ['domain'],
  store: ['store', 'domain'],
  exchange: ['exchange', 'domain'],
  commands: ['commands', 'store', 'exchange', 'domain'],
  screens: ['screens', 'domain'],
  app: ['app', 'screens', 'domain', 'store'],
  shell: ['shell', 'app', 'screens', 'commands', 'store', 'exchange', 'domain'],
  main: ['main', 'shell', 'commands', 'domain'],
};
/**
 * What the folders inside a layer may import from one another; a layer's own files stand under its bare name. The order of the
 * names is the order of the floors: no arrow goes down the list.
 */
const inside: Readonly<Record<string, Readonly<Record<string, readonly string[]>>>> = {
  domain: {
    intent: ['value', 'catalogue', 'ledger', 'search', 'count', 'drink', 'service', 'report', 'prep'],
    report: ['value', 'catalogue', 'standard', 'ledger', 'count', 'drink'],
    drift: ['value', 'catalogue', 'standard', 'ledger', 'count'],
    prep: ['value', 'catalogue', 'standard', 'ledger', 'search', 'drink', 'order'],
    order: ['value', 'catalogue', 'standard', 'ledger'],
    service: ['value', 'catalogue', 'ledger', 'drink'],
    sheet: ['value', 'catalogue', 'search', 'drink', 'card', 'starter'],
    starter: ['value', 'catalogue', 'search', 'drink', 'card'],
    card: ['value', 'catalogue', 'search', 'drink'],
    drink: ['value', 'catalogue', 'search'],
    count: ['value', 'catalogue', 'standard', 'ledger'],
    search: ['value', 'catalogue'],
    ledger: ['value', 'catalogue'],
    standard: ['value', 'catalogue'],
    catalogue: ['value'],
    value: [],
  },
  screens: {
    ...Object.fromEntries(
      ['pour', 'levels', 'count', 'close', 'drift', 'book', 'log', 'prep', 'order', 'ready', 'begin'].map(
        (room) => [room, ['.', 'parts', 'notice']],
      ),
    ),
    frame: ['.', 'parts'],
    notice: ['.', 'parts'],
    // room.ts draws on the parts, and a card says amounts as format.ts has them; no file stands in a circle.
    '.': ['parts'],
    parts: ['.'],
  },
  app: { '.': ['question', 'tap'], question: ['.'], tap: ['.'] },
  commands: {
    '.': ['night', 'book', 'look', 'stations', 'line'],
    stations: ['line'],
    night: ['stations', 'line'],
    book: ['line'],
    look: ['line'],
    line: [],
  },
  exchange: { page: ['print', 'file'], print: ['file'], file: [] },
  store: { file: ['.'], server: ['.'], '.': [] },
  shell: {
    '.': ['disk', 'station', 'thread'],
    disk: [],
    station: ['disk', 'thread'],
    thread: ['disk', 'station'],
  },
};
const folderOf = (file: string): string => {
  const parts = relative(source, file).split('/');
  return parts.length > 2 ? (parts[1] ?? '.') : '.';
};
const targetsOf = (file: string): string[] =>
  importsOf(file)
    .filter((target) => target.startsWith('.'))
    .map((target) => resolve(dirname(file), target))
    .filter((path) => path.startsWith(source));

/** The first circle of files met, or none. */
function circleOf(arrows: ReadonlyMap<string, readonly string[]>): string[] {
  const done = new Set<string>();
  const walk = (file: string, path: readonly string[]): string[] => {
    if (path.includes(file)) return [...path.slice(path.indexOf(file)), file];
    if (done.has(file)) return [];
    for (const target of arrows.get(file) ?? []) {
      const circle = walk(target, [...path, file]);
      if (circle.length > 0) return circle;
    }
    done.add(file);
    return [];
  };
  for (const file of arrows.keys()) {
    const circle = walk(file, []);
    if (circle.length > 0) return circle.map((each) => relative(source, each));
  }
  return [];
}

/** A folder with more files than this wants a folder in it. */
const MOST_IN_ONE_HALL = 12;

/** Packages each layer may use; the rest of a layer's needs is its own business. */
const packages: Readonly<Record<string, readonly string[]>> = {
  domain: ['zod/mini', 'fuse.js', 'country-to-currency'],
  screens: ['string-width'],
  exchange: [
    'zod/mini',
    'csv-parse/sync',
    'csv-stringify/sync',
    'string-width',
    'node:crypto',
    'node:zlib',
    'read-excel-file/universal',
    'echarts/core',
    'echarts/charts',
    'echarts/components',
    'echarts/renderers',
  ],
};

const mayImport = (layer: string, path: string): boolean =>
  path.startsWith(source)
    ? allowed[layer]?.includes(layerOf(path)) === true
    : layer === 'shell' && path === join(root, 'package.json');
const mayReach = (layer: string, folder: string, other: string): boolean =>
  other === folder || inside[layer]?.[folder]?.includes(other) === true;

describe('the arrows', () => {
  it('cover every file', () => {
    expect(files.length).toBeGreaterThan(60);
    // Arrows there are, between layers and inside them, and packages of the layers that may use only some.
    const across = files.filter((file) => targetsOf(file).some((path) => layerOf(path) !== layerOf(file)));
    const within = files.filter((file) => targetsOf(file).some((path) => folderOf(path) !== folderOf(file)));
    const bought = files.filter(
      (file) =>
        packages[layerOf(file)] !== undefined && importsOf(file).some((target) => !target.startsWith('.')),
    );
    for (const some of [across, within, bought]) expect(some.length).toBeGreaterThan(0);
    expect(mayImport('domain', join(source, 'store/store.ts'))).toBe(false);
    expect(mayReach('domain', 'value', 'ledger')).toBe(false);
  });

  it.each(files.map((file) => [relative(root, file), file]))('%s', (_, file) => {
    const layer = layerOf(file);
    const wrong = importsOf(file).filter((target) =>
      target.startsWith('.')
        ? !mayImport(layer, resolve(dirname(file), target))
        : packages[layer]?.includes(target) === false,
    );
    expect(wrong).toEqual([]);
  });

  it.each(files.filter((file) => layerOf(file) in inside).map((file) => [relative(root, file), file]))(
    'inside their layer: %s',
    (_, file) => {
      const [layer, folder] = [layerOf(file), folderOf(file)];
      const others = targetsOf(file)
        .filter((each) => layerOf(each) === layer)
        .map(folderOf);
      expect(others.filter((other) => !mayReach(layer, folder, other))).toEqual([]);
    },
  );

  it('run in no circle', () => {
    expect(circleOf(new Map(files.map((file) => [file, targetsOf(file)])))).toEqual([]);
    expect(
      circleOf(
        new Map([
          ['a', ['b']],
          ['b', ['c']],
          ['c', ['b']],
        ]),
      ),
    ).toHaveLength(3);
  });

  it('the floors of the domain are in order', () => {
    const floors = Object.keys(inside.domain ?? {});
    for (const [folder, targets] of Object.entries(inside.domain ?? {}))
      for (const target of targets) expect(floors.indexOf(target)).toBeGreaterThan(floors.indexOf(folder));
  });

  it('domain and screens know no clock, no chance, no process', () => {
    for (const file of files.filter((each) => ['domain', 'screens'].includes(layerOf(each)))) {
      const text = readFileSync(file, 'utf8').replace(/\/\/.*$/gm, '');
      expect([
        file,
        /Date\.now\(|new Date\(\)|Math\.random\(|\bprocess\.|performance\./.exec(text)?.[0],
      ]).toEqual([file, undefined]);
    }
  });

  it('fuse.js is used in one file', () => {
    expect(
      files.filter((file) => importsOf(file).includes('fuse.js')).map((file) => relative(source, file)),
    ).toEqual(['domain/search/search.ts']);
  });
});

describe('the tree', () => {
  it('has the top level the house shows, and no grab bags', () => {
    const tracked = execFileSync('git', ['ls-files'], { cwd: root, encoding: 'utf8' }).split('\n');
    const top = new Set(
      tracked.map((file) => file.split('/')[0] ?? '').filter((name) => name !== '' && !name.startsWith('.')),
    );
    expect(
      [...top].filter(
        (name) =>
          ![
            'package.json',
            'package-lock.json',
            'tsconfig.json',
            'README.md',
            'DEVELOPERS.md',
            'LICENSE',
            'src',
            'data-demo',
            'tests',
          ].includes(name),
      ),
    ).toEqual([]);
    expect(
      tracked.filter((file) => /\/(utils?|helpers?|managers?|common|misc|types)(\.|\/)/.test(file)),
    ).toEqual([]);
  });

  it('has short files, each with a sentence at its head', () => {
    for (const file of files) {
      const text = readFileSync(file, 'utf8');
      expect([file, text.split('\n').length <= 320]).toEqual([file, true]);
      expect([file, /^\/\/ \S/.test(text)]).toEqual([file, true]);
    }
  });

  it('no hall of more than twelve files without a folder in it', () => {
    const halls = new Map<string, { files: number; folders: number }>();
    for (const file of files) {
      const folder = dirname(file);
      const hall = halls.get(folder) ?? { files: 0, folders: 0 };
      halls.set(folder, { ...hall, files: hall.files + 1 });
      const above = halls.get(dirname(folder)) ?? { files: 0, folders: 0 };
      halls.set(dirname(folder), { ...above, folders: above.folders + 1 });
    }
    const crowded = [...halls].filter(([, hall]) => hall.files > MOST_IN_ONE_HALL && hall.folders === 0);
    expect(crowded.map(([folder]) => relative(root, folder))).toEqual([]);
  });

  it('casts past the types in one place, which says why', () => {
    const casts = files.flatMap((file) => {
      const found = readFileSync(file, 'utf8').match(/\bas (never|any|unknown as)\b/g) ?? [];
      return found.map(() => relative(source, file));
    });
    expect(casts).toEqual(['store/file/snapshot.ts']);
  });

  it('locks every package with a sha512 and no address, and runs no install script but those named', () => {
    const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8')) as {
      packages: Record<
        string,
        { integrity?: string; resolved?: string; hasInstallScript?: boolean; link?: boolean }
      >;
    };
    const named = Object.keys(
      (JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { allowScripts: object }).allowScripts,
    );
    for (const [name, entry] of Object.entries(lock.packages)) {
      if (name === '' || entry.link === true) continue;
      expect([name, entry.integrity?.startsWith('sha512-')]).toEqual([name, true]);
      expect([name, entry.resolved]).toEqual([name, undefined]);
    }
    const scripts = Object.entries(lock.packages).filter(([, { hasInstallScript }]) => hasInstallScript);
    expect(scripts.length).toBeGreaterThan(0);
    expect(named).toEqual(
      expect.arrayContaining(scripts.map(([name]) => name.split('node_modules/').at(-1))),
    );
  });

  it('holds no hidden direction marks', () => {
    for (const file of [...files, ...filesBelow(join(root, 'tests'))]) {
      expect([
        file,
        /[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/.test(readFileSync(file, 'utf8')),
      ]).toEqual([file, false]);
    }
    expect(existsSync(join(root, '.ci/run'))).toBe(true);
  });
});
