// server: what whoever keeps the house's server does there.
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import type { Server } from '../../store/server/connect.ts';
import { type StationFile, stationFileText } from '../../store/station.ts';
import {
  type Command,
  type Context,
  flagOf,
  type Outcome,
  refused,
  say,
  sayJson,
  usageProblem,
} from '../line/command.ts';

export const passwordFlag = {
  name: 'password-file',
  takes: 'FILE',
  says: "a file of mode 0600 with the password; else the standard file of PostgreSQL's clients",
};

/** Opens the server an address names, as its user; what it says is one sentence. */
export async function askServer<T>(
  context: Context,
  url: string,
  work: (server: Server) => Promise<Result<T>>,
): Promise<Result<T>> {
  const { readAddress } = await import('../../store/server/address.ts');
  const address = readAddress(url);
  if (!address.ok) return address;
  const { connect, passwordFor, problemOf } = await import('../../store/server/connect.ts');
  const authority = authorityOf(address.value.authority);
  if (!authority.ok) return authority;
  const password = await passwordFor(address.value, flagOf(context, 'password-file'));
  if (!password.ok) return password;
  const server = await connect({ ...address.value, authority: authority.value, password: password.value });
  if (!server.ok) return server;
  try {
    return await work(server.value);
  } catch (error) {
    return { ok: false, problems: [problemOf(error, address.value)] };
  } finally {
    await server.value.close().catch(() => undefined);
  }
}

function authorityOf(file: string | null): Result<string | null> {
  if (file === null) return done(null);
  try {
    const text = readFileSync(file, 'utf8');
    if (text.includes('-----BEGIN CERTIFICATE-----')) return done(text);
  } catch {
    // told below
  }
  return refuse(
    'bad-authority',
    `${clean(file)} is no certificate in PEM that can be read. Name another with ?sslrootcert=FILE.`,
    66,
  );
}

export const server: Command = {
  name: 'server',
  usage: [
    'server prepare URL',
    'server add-house URL NAME',
    'server add-station URL HOUSE NAME --out FILE [--host HOST[:PORT]]',
    'server drop-station URL HOUSE NAME',
    'server rename-house URL HOUSE NAME',
    'server check URL',
  ],
  says: 'the PostgreSQL that several stations share: prepare it, add houses and stations, end the access of one, look whether it is sound',
  examples: [
    'server prepare postgresql://keeper@db.example:5432/bars',
    'server add-station postgresql://keeper@db.example/bars Oddtide "Well 2" --out well-2.station',
  ],
  flags: [
    passwordFlag,
    {
      name: 'out',
      takes: 'FILE',
      says: 'what the station joins with; it holds a password, so carry it by hand',
    },
    { name: 'host', takes: 'HOST', says: 'how the station reaches the server, where that differs from here' },
  ],
  run: (context) => {
    const [verb = '', url, ...names] = context.words;
    const deed = deeds[verb];
    if (deed === undefined)
      return usageProblem(
        'Say what of the server: prepare, add-house, add-station, drop-station, rename-house or check.',
      );
    if (url === undefined || names.length !== deed.names.length)
      return usageProblem(
        `Write it as ullage server ${verb} URL${deed.names.map((name) => ` ${name}`).join('')}.`,
      );
    return deed.run(context, url, names);
  },
};

type Deed = {
  readonly names: readonly string[];
  readonly run: (context: Context, url: string, names: readonly string[]) => Promise<Outcome>;
};

const deeds: Readonly<Record<string, Deed>> = {
  prepare: {
    names: [],
    run: async (context, url) => {
      const { prepareServer } = await import('../../store/server/admin.ts');
      const did = await askServer(context, url, prepareServer);
      if (!did.ok) return refused(did.problems);
      return context.json ? sayJson(did.value) : say(did.value.join('\n'));
    },
  },
  'add-house': {
    names: ['NAME'],
    run: async (context, url, [name = '']) => {
      const { addHouse } = await import('../../store/server/admin.ts');
      const id = await askServer(context, url, (link) => addHouse(link, name));
      if (!id.ok) return refused(id.problems);
      if (context.json) return sayJson({ house: name, id: id.value });
      return say(`Added the house ${clean(name)}. Add its stations with ullage server add-station.`);
    },
  },
  'rename-house': {
    names: ['HOUSE', 'NAME'],
    run: async (context, url, [house = '', name = '']) => {
      const { renameHouse } = await import('../../store/server/admin.ts');
      const did = await askServer(context, url, (link) => renameHouse(link, house, name));
      if (!did.ok) return refused(did.problems);
      if (context.json) return sayJson({ house: name });
      return say(
        `The house ${clean(house)} is ${clean(name)} now; what it has stays, and ${clean(house)} may be added again.`,
      );
    },
  },
  'add-station': {
    names: ['HOUSE', 'NAME'],
    run: (context, url, [house = '', name = '']) => addOne(context, url, house, name),
  },
  'drop-station': {
    names: ['HOUSE', 'NAME'],
    run: async (context, url, [house = '', name = '']) => {
      const { dropStation } = await import('../../store/server/admin.ts');
      const id = await askServer(context, url, (link) => dropStation(link, house, name));
      if (!id.ok) return refused(id.problems);
      if (context.json) return sayJson({ station: id.value });
      return say(
        `The access of station ${id.value} is ended. What it sent stays; what it did not send stays on that computer.`,
      );
    },
  },
  check: {
    names: [],
    run: async (context, url) => {
      const { checkServer } = await import('../../store/server/check.ts');
      const found = await askServer(context, url, async (link) => done(await checkServer(link)));
      if (!found.ok) return refused(found.problems);
      const exit = found.value.length === 0 ? 0 : 1;
      if (context.json) return { ...sayJson(found.value), exit };
      return { exit, out: found.value.map((line) => `${clean(line)}\n`).join(''), err: '' };
    },
  },
};

async function addOne(context: Context, url: string, house: string, name: string): Promise<Outcome> {
  const out = flagOf(context, 'out');
  if (out === undefined) return usageProblem('Name the file the station joins with: --out well-2.station.');
  const { readAddress } = await import('../../store/server/address.ts');
  const address = readAddress(url);
  if (!address.ok) return refused(address.problems);
  const reached = hostOf(flagOf(context, 'host'), address.value.host, address.value.port);
  if (reached === null)
    return usageProblem('--host takes a host, or HOST:PORT. Write it as db.example:5432.');
  const authority = authorityOf(address.value.authority);
  if (!authority.ok) return refused(authority.problems);
  if (existsSync(out))
    return refused([
      {
        code: 'file-there',
        exit: 73,
        message: `${clean(out)} is there already. Give another name with --out.`,
      },
    ]);
  // Written first, with nothing in it: a file that can't be written must not cost a station's name.
  const free = context.world.writeFile(out, '');
  if (!free.ok) return refused(free.problems);
  const { addStation } = await import('../../store/server/admin.ts');
  const made = await askServer(context, url, (link) => addStation(link, house, name));
  if (!made.ok) {
    rmSync(out, { force: true });
    return refused(made.problems);
  }
  const { isHere } = await import('../../store/server/address.ts');
  const file: StationFile = {
    ullage: 'station',
    version: 1,
    house: made.value.house,
    station: made.value.station,
    access: {
      ...reached,
      database: address.value.database,
      user: made.value.user,
      password: made.value.password,
      authority: authority.value,
      tls: address.value.tls || !isHere(reached.host),
    },
  };
  const written = context.world.writeFile(out, stationFileText(file));
  if (!written.ok) return refused(written.problems);
  if (context.json) return sayJson({ house: file.house.name, station: file.station, file: out });
  return say(
    `Added the station ${file.station} to ${clean(file.house.name)}. ${clean(out)} holds its password: carry it to that computer by hand, run ullage station join there, and delete it.`,
  );
}

function hostOf(
  given: string | undefined,
  host: string,
  port: number,
): { host: string; port: number } | null {
  if (given === undefined) return { host, port };
  const read = /^(\[[0-9a-fA-F:]+\]|[^\s:/]+)(?::(\d{1,5}))?$/.exec(given);
  if (read === null) return null;
  return {
    host: (read[1] ?? '').replace(/^\[|\]$/g, ''),
    port: read[2] === undefined ? port : Number(read[2]),
  };
}
