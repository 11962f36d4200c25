// What whoever keeps the server does there: prepare it, add houses and stations, end a station's access, look whether all is sound.
import { createHmac, hash, pbkdf2Sync, randomBytes } from 'node:crypto';
import { nearestNames } from '../../domain/search/nearest.ts';
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import { isSoloName } from '../station.ts';
import type { Server } from './connect.ts';
import { GROUP_ROLE, SERVER_VERSION, STATION_ROLE, serverSchema } from './schema.ts';

/** Makes or migrates the tables, roles and policies; what it did, a line each. */
export async function prepareServer(server: Server): Promise<Result<readonly string[]>> {
  const before = await versionOf(server);
  if (before !== null && before > SERVER_VERSION)
    return refuse(
      'newer-server',
      `This server was prepared by a newer ullage (version ${before}, this one knows ${SERVER_VERSION}). Update ullage; nothing was changed.`,
      78,
    );
  const isAlone = await standsAlone(server);
  await withoutDeadlock(() =>
    server.transact(async () => {
      for (const part of serverSchema) await server.query(part);
      if (isAlone) await keepOut(server);
    }),
  );
  return done([
    before === null
      ? 'Made the tables, roles and policies.'
      : 'The tables, roles and policies are as they should be.',
    isAlone
      ? 'Nobody but ullage may connect to this database, or make anything in it.'
      : 'This database holds other tables too: what everybody may do in it was left as it is. A database of its own is safer.',
  ]);
}

/** Stations at work may stand in the way for a moment: PostgreSQL then ends one of the two, which tries again. */
async function withoutDeadlock(work: () => Promise<void>, tries = 6): Promise<void> {
  try {
    await work();
  } catch (error) {
    if ((error as { code?: string }).code !== '40P01' || tries <= 1) throw error;
    await withoutDeadlock(work, tries - 1);
  }
}

async function versionOf(server: Server): Promise<number | null> {
  const [there] = await server.query(`SELECT to_regclass('ullage.about') IS NOT NULL AS yes`);
  if (there?.yes !== true) return null;
  const [row] = await server.query('SELECT max(version) AS version FROM ullage.about');
  return row?.version === null || row === undefined ? null : Number(row.version);
}

/** Whether nothing of anybody else lives in the database. */
async function standsAlone(server: Server): Promise<boolean> {
  const [row] = await server.query(
    `SELECT count(*)::int AS others FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace
     WHERE c.relkind IN ('r', 'p', 'v', 'm', 'f', 'S') AND n.nspname !~ '^pg_' AND n.nspname NOT IN ('information_schema', 'ullage')`,
  );
  return row?.others === 0;
}

async function keepOut(server: Server): Promise<void> {
  await server.query(`DO $$ BEGIN
    EXECUTE format('REVOKE ALL ON DATABASE %I FROM PUBLIC', current_database());
    EXECUTE format('GRANT CONNECT ON DATABASE %I TO ${STATION_ROLE}, ${GROUP_ROLE}', current_database());
  END $$`);
  await server.query(`DO $$ BEGIN
    IF to_regnamespace('public') IS NOT NULL THEN REVOKE ALL ON SCHEMA public FROM PUBLIC; END IF; END $$`);
}

export async function addHouse(server: Server, name: string): Promise<Result<string>> {
  const plain = plainHouseName(name);
  if (!plain.ok) return plain;
  const [made] = await server.query(
    `INSERT INTO ullage.house (name) SELECT $1 WHERE NOT EXISTS (SELECT FROM ullage.house WHERE lower(name) = lower($1))
     ON CONFLICT (name) DO NOTHING RETURNING id`,
    [plain.value],
  );
  return made === undefined ? houseKnown(plain.value) : done(String(made.id));
}

/** A house that was begun by mistake keeps what it has, under another name; the name is free again. */
export async function renameHouse(server: Server, from: string, to: string): Promise<Result<null>> {
  const house = await houseNamed(server, from);
  if (!house.ok) return house;
  const name = plainHouseName(to);
  if (!name.ok) return name;
  const [renamed] = await server.query(
    `UPDATE ullage.house SET name = $2 WHERE id = $1
       AND NOT EXISTS (SELECT FROM ullage.house WHERE lower(name) = lower($2) AND id <> $1) RETURNING id`,
    [house.value.id, name.value],
  );
  return renamed === undefined ? houseKnown(name.value) : done(null);
}

function plainHouseName(name: string): Result<string> {
  const plain = clean(name).trim();
  return plain === '' || plain.length > 60
    ? refuse('bad-name', 'A house has a name of 1 to 60 characters. Give one.', 64)
    : done(plain);
}

const houseKnown = (name: string): Result<never> =>
  refuse(
    'house-known',
    `The server has a house "${name}" already. Give another name, or add stations to it.`,
  );

export type House = { readonly id: string; readonly name: string };

export async function houseNamed(server: Server, name: string): Promise<Result<House>> {
  const houses = (await server.query('SELECT id, name FROM ullage.house ORDER BY name')) as House[];
  const found = houses.find((house) => house.name.toLowerCase() === name.trim().toLowerCase());
  if (found !== undefined) return done(found);
  const names = houses.map((house) => house.name);
  const near = names.length <= 5 ? names : nearestNames(name, names);
  const some = near.length > 0 ? near : names.slice(0, 5);
  const remedy = some.length === 0 ? 'Add one with ullage server add-house.' : `There is ${some.join(', ')}.`;
  return refuse('unknown-house', `The server has no house "${clean(name).slice(0, 60)}". ${remedy}`);
}

export type NewStation = {
  readonly house: House;
  readonly station: string;
  readonly user: string;
  readonly password: string;
};

/** A station of a house with a role of its own. The password is made here and goes to the server only as its SCRAM verifier. */
export async function addStation(
  server: Server,
  houseName: string,
  name: string,
): Promise<Result<NewStation>> {
  const house = await houseNamed(server, houseName);
  if (!house.ok) return house;
  const station = idOfName(name);
  if (station === null || isSoloName(station))
    return refuse(
      'bad-name',
      'A station has a name of letters and digits, as "upstairs" or "well 2". Give one.',
      64,
    );
  const user = `ullage_${house.value.id.replaceAll('-', '').slice(0, 12)}_${station}`.slice(0, 63);
  const password = randomBytes(24).toString('base64url');
  // Both or neither: a role that can't be made must not cost the station its name.
  const isNew = await server.transact(async () => {
    const [made] = await server.query(
      `INSERT INTO ullage.station (house, id, name, login) VALUES ($1, $2, $3, $4) ON CONFLICT DO NOTHING RETURNING id`,
      [house.value.id, station, clean(name).trim(), user],
    );
    if (made === undefined) return revive(server, house.value.id, station, password);
    await server.query(
      `CREATE ROLE ${quoted(user)} LOGIN NOSUPERUSER NOCREATEDB NOCREATEROLE NOREPLICATION CONNECTION LIMIT 10 PASSWORD '${verifierOf(password)}' IN ROLE ${STATION_ROLE}`,
    );
    return true;
  });
  if (!isNew)
    return refuse(
      'station-known',
      `The house ${house.value.name} has a station "${station}". Give this one another name; or end its access with ullage server drop-station, and add it again with another password.`,
    );
  return done({ house: house.value, station, user, password });
}

/** A station whose access was ended may be let in again, under its own name and with another password: its numbers go on. */
async function revive(server: Server, house: string, station: string, password: string): Promise<boolean> {
  const [row] = await server.query(
    `UPDATE ullage.station SET left_at = NULL WHERE house = $1 AND id = $2 AND left_at IS NOT NULL AND login IS NOT NULL RETURNING login`,
    [house, station],
  );
  if (row === undefined) return false;
  await server.query(`ALTER ROLE ${quoted(String(row.login))} LOGIN PASSWORD '${verifierOf(password)}'`);
  return true;
}

/** "Well 2" is well-2; null when nothing of a name is left. */
export function idOfName(name: string): string | null {
  const id = name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 40)
    .replace(/-+$/, '');
  return /^[a-z0-9]/.test(id) ? id : null;
}

/** Ends a station's access at once. What it pushed stays. */
export async function dropStation(server: Server, houseName: string, name: string): Promise<Result<string>> {
  const house = await houseNamed(server, houseName);
  if (!house.ok) return house;
  const stations = (await server.query(
    'SELECT id, name, login, left_at IS NOT NULL AS left FROM ullage.station WHERE house = $1 ORDER BY id',
    [house.value.id],
  )) as { id: string; name: string; login: string; left: boolean }[];
  const wanted = name.trim().toLowerCase();
  const found = stations.find((one) => one.id === wanted || one.name.toLowerCase() === wanted);
  if (found === undefined)
    return refuse(
      'unknown-station',
      `The house ${house.value.name} has no station "${clean(name).slice(0, 60)}". There is ${stations.map(({ id }) => id).join(', ') || 'none yet'}.`,
    );
  await server.query(
    'UPDATE ullage.station SET left_at = coalesce(left_at, clock_timestamp()) WHERE login = $1',
    [found.login],
  );
  await server.query(`DO $$ BEGIN
    IF EXISTS (SELECT FROM pg_roles WHERE rolname = '${found.login}') THEN ALTER ROLE ${quoted(found.login)} NOLOGIN PASSWORD NULL; END IF; END $$`);
  // Without its row it reads and writes nothing any more, also on a line that is open; ending that takes a right not every keeper has.
  await server
    .query('SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE usename = $1', [found.login])
    .catch(() => undefined);
  return done(found.id);
}

/** Names made here hold only letters, digits and lines; quoted all the same. */
const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`;

const SCRAM_ROUNDS = 4096;

/** What PostgreSQL keeps of a password: IETF RFC 5802 (2010) section 3 and RFC 7677 (2015), SCRAM-SHA-256. */
export function verifierOf(password: string, salt: Buffer = randomBytes(16)): string {
  const salted = pbkdf2Sync(password, salt, SCRAM_ROUNDS, 32, 'sha256');
  const keyed = (word: string): Buffer => createHmac('sha256', salted).update(word).digest();
  const stored = hash('sha256', keyed('Client Key'), 'base64');
  return `SCRAM-SHA-256$${SCRAM_ROUNDS}:${salt.toString('base64')}$${stored}:${keyed('Server Key').toString('base64')}`;
}
