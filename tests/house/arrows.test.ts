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
/** Packages each layer may use; the rest of a layer's needs is its own business. */
const packages: Readonly<Record<string, readonly string[]>> = {
  domain: ['zod/mini', 'fuse.js'],
  screens: ['string-width'],
  exchange: [
    'zod/mini',
    'csv-parse/sync',
    'csv-stringify/sync',
    'string-width',
    'node:crypto',
    'echarts/core',
    'echarts/charts',
    'echarts/components',
    'echarts/renderers',
  ],
};

describe('the arrows', () => {
  it('cover every file', () => expect(files.length).toBeGreaterThan(60));

  it.each(files.map((file) => [relative(root, file), file]))('%s', (_, file) => {
    const layer = layerOf(file);
    for (const target of importsOf(file)) {
      if (target.startsWith('.')) {
        const path = resolve(dirname(file), target);
        if (path.startsWith(source)) expect(allowed[layer], `${target}`).toContain(layerOf(path));
      } else if (packages[layer] !== undefined) expect(packages[layer], target).toContain(target);
    }
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
      if (entry.hasInstallScript === true) expect(named).toContain(name.split('node_modules/').at(-1));
    }
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
