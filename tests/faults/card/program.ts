// The built program as the proofs run it: whole processes, with a fault put into one of their system calls.
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { v7 as uuid } from 'uuid';
import type { Event } from '../../../src/domain/ledger/event.ts';
import type { EventId } from '../../../src/domain/value/ids.ts';
import { openSqliteStore } from '../../../src/store/file/sqlite.ts';
import type { Store } from '../../../src/store/store.ts';

export const program = new URL('../../../.build/ullage.cjs', import.meta.url).pathname;
export const NOW = '2026-11-20T20:00:00.000Z';

export const environment = (home: string): NodeJS.ProcessEnv => {
  const { CI: _, ...env } = process.env;
  return { ...env, XDG_CONFIG_HOME: home, XDG_STATE_HOME: home, ULLAGE_NOW: NOW };
};

export type Ended = { readonly status: number | null; readonly signal: string | null; readonly err: string };

/** Runs a command; with a fault, under strace: `inject` is what becomes of the `at`-th of these calls. */
export function run(
  folder: string,
  home: string,
  words: readonly string[],
  fault?: { readonly calls: string; readonly inject: string; readonly at: number },
): Ended {
  const own = [process.execPath, program, '--data', folder, ...words];
  const [command = '', ...rest] =
    fault === undefined
      ? own
      : [
          ...['strace', '-f', '-qq', '-o', '/dev/null', '-e', `trace=${fault.calls}`],
          ...['-e', `inject=${fault.calls}:${fault.inject}:when=${fault.at}`, ...own],
        ];
  const { status, signal, stderr } = spawnSync(command, rest, { encoding: 'utf8', env: environment(home) });
  return { status, signal, err: stderr };
}

export function must(folder: string, home: string, ...words: string[]): void {
  const { status, err } = run(folder, home, words);
  if (status !== 0) throw new Error(`${words.join(' ')}: ${status} ${err}`);
}

/** A folder that is gone after the work. */
export function inFolder<T>(work: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), 'ullage-faults-'));
  const clear = (): void => rmSync(folder, { recursive: true, force: true });
  try {
    const result = work(folder);
    if (result instanceof Promise) return result.finally(clear) as T;
    clear();
    return result;
  } catch (error) {
    clear();
    throw error;
  }
}

export function copyBooks(from: string, to: string): void {
  rmSync(to, { recursive: true, force: true });
  if (existsSync(from)) cpSync(from, to, { recursive: true });
}

export function withStore<T>(folder: string, work: (store: Store) => T): T {
  const opened = openSqliteStore(folder, {
    now: () => Date.parse(NOW),
    newId: () => uuid() as EventId,
    station: () => 'proof',
  });
  if (!opened.ok) throw new Error(opened.problems[0]?.message);
  try {
    return work(opened.value);
  } finally {
    opened.value.close();
  }
}

/** What a book holds, in one text: what counts, and whether it is sound. */
export const stateOf = (folder: string): string =>
  withStore(folder, (store) => {
    const findings = store.check([]);
    const told = [...store.allEvents()].map(labelOf).join(' ');
    return findings.length === 0 ? told : `UNSOUND ${findings[0]?.message}`;
  });

function labelOf(event: Event): string {
  if (event.kind === 'drink-poured') return `p${event.count}`;
  return event.kind === 'person-added' ? event.name : event.kind;
}

/** Nothing half made is left in a folder. */
export const leftIn = (folder: string): string[] =>
  readdirSync(folder).filter((name) => /\.tmp|unborn|restoring/.test(name));
