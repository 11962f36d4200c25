// Where things live: the XDG base directories (specification 0.8), relative values ignored as it says.
import { createHash } from 'node:crypto';
import { homedir } from 'node:os';
import { isAbsolute, join, resolve } from 'node:path';

type Env = Readonly<Record<string, string | undefined>>;

/** A user without an entry in the system's list has no home: then nothing there can be written, and that is said. */
function homeOf(): string {
  try {
    return isAbsolute(homedir()) ? homedir() : '/';
  } catch {
    return '/';
  }
}

function xdg(env: Env, name: string, fallback: string): string {
  const value = env[name];
  return join(value !== undefined && isAbsolute(value) ? value : join(homeOf(), fallback), 'ullage');
}

export const configFolder = (env: Env): string => xdg(env, 'XDG_CONFIG_HOME', '.config');
export const stateFolder = (env: Env): string => xdg(env, 'XDG_STATE_HOME', '.local/state');

/** `--data`, else ULLAGE_DATA, else the XDG data folder. */
export function dataFolder(argv: readonly string[], env: Env): string {
  const index = argv.findIndex((word) => word === '--data' || word.startsWith('--data='));
  const word = argv[index];
  const given =
    word === undefined ? undefined : word === '--data' ? argv[index + 1] : word.slice('--data='.length);
  const named = given ?? (env.ULLAGE_DATA === '' ? undefined : env.ULLAGE_DATA);
  return named === undefined ? xdg(env, 'XDG_DATA_HOME', '.local/share') : resolve(named);
}

/** A short name for the books in a folder, for what this machine keeps of them elsewhere. */
export const markOf = (dataFolder: string): string =>
  createHash('sha256').update(dataFolder).digest('hex').slice(0, 12);
