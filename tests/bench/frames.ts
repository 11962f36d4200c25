// Key to frame, tap to durable-and-shown and first frame, against a bare Ink app in the same terminal, interleaved.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';
import { spawn } from 'node-pty';
import { runCommand } from '../../src/commands/run.ts';
import { makeWorld } from '../../src/shell/world.ts';
import { figure, quantile } from './measure.ts';
import type { Figure } from './run.ts';

const root = new URL('../..', import.meta.url).pathname;
const program = `${root}.build/ullage.cjs`;
const size = { cols: 120, rows: 40 };

export type Screen = {
  readonly write: (bytes: string) => void;
  readonly next: (text?: string) => Promise<number>;
  readonly first: number;
  readonly pid: number;
  readonly end: () => Promise<void>;
};

function environment(folder: string, more: Readonly<Record<string, string>>): Record<string, string> {
  const env: Record<string, string> = {};
  for (const [name, value] of Object.entries(process.env))
    if (value !== undefined && !['CI', 'NO_COLOR', 'FORCE_COLOR'].includes(name)) env[name] = value;
  return { ...env, TERM: 'xterm-256color', LC_ALL: 'C.UTF-8', XDG_CONFIG_HOME: folder, ...more };
}

/** Starts a program; `next` resolves with the moment output with a text (or any output) arrived. */
export async function start(
  words: readonly string[],
  ready: string,
  folder: string,
  more: Readonly<Record<string, string>> = {},
): Promise<Screen> {
  const begun = performance.now();
  const child = spawn(process.execPath, [...words], { ...size, env: environment(folder, more), cwd: root });
  let waiting: { text: string; done: (at: number) => void } | null = null;
  let seen = '';
  child.onData((data) => {
    seen += data;
    if (waiting === null || !seen.includes(waiting.text)) return;
    const { done } = waiting;
    waiting = null;
    done(performance.now());
  });
  const next = (text = ''): Promise<number> =>
    new Promise((done) => {
      seen = '';
      waiting = { text, done };
    });
  const first = await new Promise<number>((done) => {
    waiting = { text: ready, done };
  });
  const ended = new Promise<void>((done) => child.onExit(() => done()));
  return {
    write: (bytes) => child.write(bytes),
    next,
    first: first - begun,
    pid: child.pid,
    end: () => {
      child.kill('SIGKILL');
      return ended;
    },
  };
}

/** A frame ends with the end of a synchronized update. */
const FRAME_END = '\u001b[?2026l';

export async function keyTimes(screen: Screen, keys: readonly string[]): Promise<number[]> {
  const times: number[] = [];
  for (const key of keys) {
    await new Promise((resolve) => setTimeout(resolve, 25));
    const arrived = screen.next(FRAME_END);
    const sent = performance.now();
    screen.write(key);
    const end = await Promise.race([
      arrived,
      new Promise<null>((resolve) => setTimeout(resolve, 1000, null)),
    ]);
    if (end !== null) times.push(end - sent);
  }
  return times;
}

export async function bigHouse(folder: string, specs: number): Promise<void> {
  const world = makeWorld(folder, { ...process.env, XDG_CONFIG_HOME: folder }, '0', 'bench');
  const items = Array.from(
    { length: 60 },
    (_, index) =>
      `item-${index},Item ${'abcdefghijklmnopqrstuvwxyz'[index % 26]}${index} spirit,spirit,700 ml,40,15.00`,
  );
  writeFileSync(join(folder, 'i.csv'), `id,name,kind,size,abv,cost\n${items.join('\n')}\n`);
  const words = [
    'Lantern',
    'Harbour',
    'Copper',
    'Gannet',
    'Ferry',
    'Salt',
    'Tide',
    'Anchor',
    'Pilot',
    'Ember',
  ];
  const cards = Array.from(
    { length: specs },
    (_, index) =>
      `# ${words[index % 10]} ${words[(index * 7 + 3) % 10]} ${index}\nfamily: sour\nglass: coupe\nprice: 12.00\n50 ml item-${index % 60}\n20 ml item-${(index * 3 + 1) % 60}\n10 ml item-${(index * 5 + 2) % 60}\ndo: shake\n`,
  );
  writeFileSync(join(folder, 's.txt'), cards.join('\n'));
  for (const words of [
    ['people', 'add', 'Ines'],
    ['import', join(folder, 'i.csv'), join(folder, 's.txt')],
    ['open', '--by', 'Ines'],
    ...Array.from({ length: 60 }, (_, index) => ['count', `item-${index}`, '9.5']),
  ]) {
    const outcome = await runCommand(words, world);
    if (outcome.exit !== 0) throw new Error(outcome.err);
  }
}

async function bareProgram(folder: string): Promise<string> {
  const file = join(folder, 'bare.mjs');
  await build({
    entryPoints: [`${root}tests/bench/bare.tsx`],
    outfile: file,
    bundle: true,
    format: 'esm',
    platform: 'node',
    jsx: 'automatic',
    define: { 'process.env.NODE_ENV': '"production"' },
    alias: { 'react-devtools-core': `${root}.config/empty.ts` },
    banner: { js: "import{createRequire as __cr}from'node:module';const require=__cr(import.meta.url);" },
    logLevel: 'error',
  });
  return file;
}

export async function inFolder<T>(work: (folder: string) => Promise<T>): Promise<T> {
  const folder = mkdtempSync(join(tmpdir(), 'ullage-bench-'));
  try {
    return await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

export const framesBench = (): Promise<Figure[]> =>
  inFolder(async (folder) => {
    await bigHouse(folder, 1000);
    const bare = await start([await bareProgram(folder)], 'drink number 20', folder);
    const plain = await start([await bareProgram(folder), 'plain'], 'drink number 20', folder);
    const ours = await start([program, '--data', folder], '↓', folder);
    // Each of these changes the whole list and the card beside it.
    const letters = [...'lant', ...'\u007f\u007f\u007f\u007f', ...'harb'];
    const rounds = {
      bare: [] as number[],
      plain: [] as number[],
      ours: [] as number[],
      arrow: [] as number[],
      tap: [] as number[],
      bareEnter: [] as number[],
    };
    for (let round = 0; round < 25; round += 1) {
      rounds.bare.push(...(await keyTimes(bare, [...'lanternharbanc'])));
      rounds.plain.push(...(await keyTimes(plain, [...'lanternharbanc'])));
      // Its line is emptied as the other's is, so that both draw rows of the same length.
      await keyTimes(plain, ['\r']);
      rounds.bareEnter.push(...(await keyTimes(bare, ['\r'])));
      rounds.ours.push(...(await keyTimes(ours, letters)));
      rounds.arrow.push(...(await keyTimes(ours, ['\u001b[B', '\u001b[B', '\u001b[A'])));
      rounds.tap.push(...(await keyTimes(ours, ['\r'])));
    }
    await bare.end();
    await plain.end();
    await ours.end();
    const two = (name: string, values: readonly number[], floor: readonly number[]): Figure[] => [
      figure(`${name} p50`, quantile(values, 0.5), 'ms', quantile(floor, 0.5)),
      figure(`${name} p99`, quantile(values, 0.99), 'ms', quantile(floor, 0.99)),
    ];
    return [
      ...two('letter to frame, 1,000 specs, 120x40', rounds.ours, rounds.bare),
      ...two('letter to frame, against plain text only', rounds.ours, rounds.plain),
      ...two('arrow to frame, 1,000 specs, 120x40', rounds.arrow, rounds.bare),
      ...two('tap to durable and shown', rounds.tap, rounds.bareEnter),
    ];
  });

export const startBench = (): Promise<Figure[]> =>
  inFolder(async (folder) => {
    await bigHouse(folder, 100);
    const bareFile = await bareProgram(folder);
    const times = { bare: [] as number[], ours: [] as number[] };
    for (let round = 0; round < 12; round += 1) {
      const bare = await start([bareFile], 'drink number 20', folder);
      await bare.end();
      const ours = await start([program, '--data', folder], 'Lantern', folder);
      await ours.end();
      if (round < 2) continue;
      times.bare.push(bare.first);
      times.ours.push(ours.first);
    }
    return [
      figure(
        'first frame, bundled, against a bundled bare Ink app',
        quantile(times.ours, 0.5),
        'ms',
        quantile(times.bare, 0.5),
      ),
    ];
  });
