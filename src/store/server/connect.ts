// One connection to PostgreSQL. Whatever goes wrong becomes one sentence, and a password is in none of them.
import { readFileSync, statSync } from 'node:fs';
import pg from 'pg';
import pgpass from 'pgpass';
import { done, type Problem, type Result, refuse } from '../../domain/value/problem.ts';
import type { Access } from '../station.ts';
import { type Address, addressText } from './address.ts';

export type Row = Readonly<Record<string, unknown>>;
export type Server = {
  readonly query: (text: string, values?: readonly unknown[]) => Promise<readonly Row[]>;
  /** All of it or nothing. */
  readonly transact: <T>(work: () => Promise<T>) => Promise<T>;
  readonly listen: (channel: string, heard: () => void) => Promise<void>;
  /** Called once when the line is cut. */
  readonly onLost: (lost: () => void) => void;
  readonly close: () => Promise<void>;
};

/** A server that does not answer is away after so long. */
const CONNECT_MS = 8000;
/** Nor is an answer waited for longer than this. */
const ANSWER_MS = 60_000;

export async function connect(access: Access, answerMs = ANSWER_MS): Promise<Result<Server>> {
  const { host, port, database, user, password, tls, authority } = access;
  const client = new pg.Client({
    host,
    port,
    database,
    user,
    password,
    // Built here and nowhere else: no setting of the environment makes it weaker.
    ssl: tls ? { rejectUnauthorized: true, ...(authority === null ? {} : { ca: authority }) } : false,
    connectionTimeoutMillis: CONNECT_MS,
    query_timeout: answerMs,
    statement_timeout: answerMs,
    keepAlive: true,
    application_name: 'ullage',
    options: '',
  });
  let lost: (() => void) | null = null;
  let isLost = false;
  const lose = (): void => {
    if (isLost) return;
    isLost = true;
    lost?.();
  };
  client.on('error', lose);
  client.on('end', lose);
  try {
    await client.connect();
  } catch (error) {
    void client.end().catch(() => undefined);
    return { ok: false, problems: [problemOf(error, access)] };
  }
  const query = async (text: string, values: readonly unknown[] = []): Promise<readonly Row[]> =>
    (await client.query(text, [...values])).rows as Row[];
  return done({
    query,
    transact: async (work) => {
      await query('BEGIN');
      try {
        const value = await work();
        await query('COMMIT');
        return value;
      } catch (error) {
        await query('ROLLBACK').catch(() => undefined);
        throw error;
      }
    },
    listen: async (channel, heard) => {
      client.on('notification', () => heard());
      await query(`LISTEN ${pg.escapeIdentifier(channel)}`);
    },
    onLost: (work) => {
      lost = work;
      if (isLost) work();
    },
    close: () => client.end(),
  });
}

/** Our own refusals, raised by the server's functions; the rest is the server's or the network's. */
const ours: Readonly<Record<string, Pick<Problem, 'code' | 'message' | 'exit'>>> = {
  UL001: {
    code: 'server-gap',
    message:
      'The server lacks an event of this station before those sent. It is sent again with the next exchange.',
    exit: 69,
  },
  UL002: {
    code: 'server-chain',
    message:
      'The server refuses what this station sends: it does not go on the chain the server holds of it. See "Two of one number" in the README.',
    exit: 65,
  },
  UL003: {
    code: 'server-names',
    message: 'The server refuses an event that names another station than it is sent for. Run ullage check.',
    exit: 65,
  },
  UL004: {
    code: 'server-future',
    message:
      'The server refuses an event that lies more than five minutes in its future, and what comes after it waits. Put the clock of this computer right; if it is, the event was recorded while it ran ahead, and ullage station rejoin sets it aside.',
    exit: 65,
  },
  UL011: {
    code: 'house-not-empty',
    message:
      'The house on the server has events already, and these books are not among them. Move them away and join with an empty folder, or ask for a house of their own.',
    exit: 65,
  },
  UL012: {
    code: 'name-taken',
    message:
      'The house on the server has a station of a name that these books were kept under, or another one brought books of its own. Ask for a house of their own for them.',
    exit: 65,
  },
  UL010: {
    code: 'no-station',
    message:
      'The server does not know this station any more, or its access was ended. Ask who keeps the server for a new file to join with.',
    exit: 78,
  },
};

/** What a failure says: by the server's own code where it has one, else that it is away. */
export function problemOf(error: unknown, where: Pick<Address, 'host' | 'port' | 'database'>): Problem {
  const { code = '', message = '' } = error as { code?: string; message?: string };
  const known = ours[code];
  if (known !== undefined) return known;
  const said = addressText(where);
  if (code === '28P01' || code === '28000')
    return problem(
      'server-refused',
      `The server at ${said} does not let this user in: its access was ended, or the password is not the right one. Ask who keeps the server.`,
      78,
    );
  if (code === '42501')
    return problem('server-forbidden', `The server at ${said} does not allow that to this user.`, 78);
  if (code === '3D000')
    return problem('no-database', `There is no such database on the server at ${said}. Make it first.`, 78);
  if (code === '3F000' || code === '42P01')
    return problem(
      'not-prepared',
      `The database at ${said} is not prepared. Run ullage server prepare first.`,
      78,
    );
  if (isOfTrust(code, message))
    return problem(
      'server-untrusted',
      `The server at ${said} can't prove who it is, so nothing was sent to it. Give its certificate authority with ?sslrootcert=FILE, and the name its certificate bears.`,
      69,
    );
  if (/^[0-9A-Z]{5}$/.test(code) && !passing.has(code.slice(0, 2)))
    return problem(
      'server-failed',
      `The server at ${said} could not do that (${code}); nothing is lost by that. Ask who keeps it to run ullage server prepare and server check.`,
      69,
    );
  return problem(
    'server-away',
    `The server at ${said} is away; nothing is lost by that. Try again later.`,
    69,
  );
}

/** Classes of PostgreSQL's codes that pass by themselves: connection, rollback, resources, not now, shutting down, canceled. */
const passing: ReadonlySet<string> = new Set(['08', '40', '53', '55', '57']);

const problem = (code: string, message: string, exit: Problem['exit']): Problem => ({ code, message, exit });

const isOfTrust = (code: string, message: string): boolean =>
  /CERT|SELF_SIGNED|UNABLE_TO|ALTNAME|SSL/.test(code) || /SSL|certificate/i.test(message);

/** The password for an address: from the file given, else from the standard file of PostgreSQL's clients. */
export async function passwordFor(
  address: Address,
  file: string | undefined,
  environment: NodeJS.ProcessEnv = process.env,
): Promise<Result<string>> {
  if (file !== undefined) return fromFile(file);
  const standard = environment.PGPASSFILE ?? '~/.pgpass';
  const found = await new Promise<string | undefined>((resolve) => {
    const { host, port, database, user } = address;
    pgpass({ host, port, database, user }, resolve);
  });
  return found === undefined
    ? refuse(
        'no-password',
        `No password is known for ${address.user} at ${addressText(address)}. Give a file of mode 0600 with --password-file, or a line in ${standard}.`,
        78,
      )
    : done(found);
}

function fromFile(file: string): Result<string> {
  try {
    const stat = statSync(file);
    if (!stat.isFile())
      return refuse('bad-password-file', `${file} is no plain file. Give one of mode 0600.`, 66);
    if ((stat.mode & 0o077) !== 0)
      return refuse('open-password-file', `Others can read ${file}. Set its mode to 0600.`, 78);
    return done(readFileSync(file, 'utf8').replace(/\r?\n$/, ''));
  } catch {
    return refuse('bad-password-file', `${file} can't be read. Give a file of mode 0600.`, 66);
  }
}
