// Is the server sound: every chain, every number, the clocks, who may do what, the partitions. A line for each thing that is not.
import { CHAIN_START, chainHash } from '../chain.ts';
import type { Row, Server } from './connect.ts';
import { GROUP_ROLE, SERVER_VERSION, STATION_ROLE } from './schema.ts';

const PAGE = 2000;

export async function checkServer(server: Server): Promise<readonly string[]> {
  const [about] = await server.query('SELECT max(version) AS version FROM ullage.about');
  return [
    ...(Number(about?.version) === SERVER_VERSION
      ? []
      : [
          `It was prepared as version ${String(about?.version)}, not ${SERVER_VERSION}. Run ullage server prepare.`,
        ]),
    ...(await settings(server)),
    ...(await rights(server)),
    ...(await guards(server)),
    ...(await partitions(server)),
    ...(await chains(server)),
    ...(await arrivals(server)),
    ...(await clocks(server)),
  ];
}

const lines = (rows: readonly Row[], say: (row: Row) => string): string[] => rows.map(say);

const settings = async (server: Server): Promise<string[]> =>
  lines(
    await server.query(
      `SELECT name, setting FROM pg_settings WHERE (name IN ('fsync', 'full_page_writes') AND setting = 'off')
       OR (name = 'synchronous_commit' AND setting = 'off')`,
    ),
    ({ name }) =>
      `The setting ${String(name)} is off: what the server confirmed may be lost in a power cut. Turn it on.`,
  );

/** What nobody may: neither everybody, nor a station, nor a group's reader. */
const rights = async (server: Server): Promise<string[]> => [
  ...lines(
    await server.query(
      `SELECT grantee, privilege_type, table_name FROM information_schema.role_table_grants
       WHERE table_schema = 'ullage' AND grantee IN ('PUBLIC', '${STATION_ROLE}', '${GROUP_ROLE}')
         AND NOT (privilege_type = 'SELECT' AND grantee <> 'PUBLIC')`,
    ),
    ({ grantee, privilege_type, table_name }) =>
      `${String(grantee)} may ${String(privilege_type)} on ${String(table_name)}, which nobody should. Run ullage server prepare.`,
  ),
  ...lines(
    await server.query(
      `SELECT c.relname AS name FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace
       WHERE n.nspname = 'ullage' AND c.relname IN ('house', 'station', 'event') AND NOT c.relrowsecurity`,
    ),
    ({ name }) => `Rows of ${String(name)} are open to every house. Run ullage server prepare.`,
  ),
  ...lines(
    await server.query(
      `SELECT s.login FROM ullage.station s JOIN pg_roles r ON r.rolname = s.login
       WHERE (r.rolsuper OR r.rolcreaterole OR r.rolcreatedb OR r.rolbypassrls OR r.rolreplication)
          OR (s.left_at IS NOT NULL AND r.rolcanlogin)`,
    ),
    ({ login }) => `The role ${String(login)} may more than a station should. Take that from it.`,
  ),
];

/** The triggers that let events in, and let none be changed. */
const guards = async (server: Server): Promise<string[]> =>
  lines(
    await server.query(
      `SELECT wanted FROM unnest(ARRAY['event_enters', 'event_came', 'event_stays', 'event_remains']) AS wanted
       WHERE NOT EXISTS (SELECT FROM pg_trigger t WHERE t.tgrelid = 'ullage.event'::regclass AND t.tgname = wanted AND t.tgenabled IN ('O', 'A'))`,
    ),
    ({ wanted }) => `The guard ${String(wanted)} is missing or off. Run ullage server prepare.`,
  );

const partitions = async (server: Server): Promise<string[]> => {
  const [row] = await server.query(
    `SELECT coalesce(sum(1.0 / (regexp_match(pg_get_expr(c.relpartbound, c.oid), 'modulus (\\d+)'))[1]::int), 0) AS share
     FROM pg_inherits i JOIN pg_class c ON c.oid = i.inhrelid WHERE i.inhparent = 'ullage.event'::regclass`,
  );
  return Math.abs(Number(row?.share) - 1) < 1e-9
    ? []
    : ['The partitions of the events do not cover every house.'];
};

/** Every station's chain from its first event: numbers without a gap, each hash over the text and the hash before. */
async function chains(server: Server): Promise<string[]> {
  const found: string[] = [];
  const stations = await server.query(
    `SELECT s.house, s.id, h.name FROM ullage.station s JOIN ullage.house h ON h.id = s.house ORDER BY h.name, s.id`,
  );
  for (const { house, id, name } of stations) {
    const broken = await brokenAt(server, String(house), String(id));
    if (broken !== null)
      found.push(
        `Event ${broken} of station ${String(id)} in ${String(name)} was altered, or one before it is gone. Put the server's data back from a copy; the stations push what is missing.`,
      );
  }
  return found;
}

async function brokenAt(server: Server, house: string, station: string): Promise<number | null> {
  let [seq, hash] = [0, CHAIN_START];
  for (;;) {
    const page = await server.query(
      `SELECT seq, id, kind, body, encode(hash, 'hex') AS hash FROM ullage.event WHERE house = $1 AND station = $2 AND seq > $3 ORDER BY seq LIMIT ${PAGE}`,
      [house, station, seq],
    );
    for (const row of page) {
      if (Number(row.seq) !== seq + 1 || row.hash !== chainHash(hash, String(row.body)) || !agrees(row))
        return Number(row.seq);
      [seq, hash] = [seq + 1, String(row.hash)];
    }
    if (page.length < PAGE) return null;
  }
}

function agrees({ id, kind, body }: Row): boolean {
  try {
    const said = JSON.parse(String(body)) as Record<string, unknown>;
    return said.id === id && said.kind === kind;
  } catch {
    return false;
  }
}

const arrivals = async (server: Server): Promise<string[]> =>
  lines(
    await server.query(
      `SELECT h.name, count(*) AS events, max(e.arrived) AS last FROM ullage.event e JOIN ullage.house h ON h.id = e.house
       GROUP BY h.name HAVING count(*) <> max(e.arrived)`,
    ),
    ({ name, events, last }) =>
      `${String(name)} has ${String(events)} events and numbers up to ${String(last)}: some are gone. Put the server's data back from a copy.`,
  );

const clocks = async (server: Server): Promise<string[]> =>
  lines(
    await server.query(
      `SELECT h.name, e.station, max(e.at - e.arrived_at) AS ahead FROM ullage.event e JOIN ullage.house h ON h.id = e.house
       WHERE e.at > e.arrived_at + interval '1 minute' GROUP BY h.name, e.station`,
    ),
    ({ name, station }) =>
      `Station ${String(station)} in ${String(name)} recorded ahead of the server's clock. Put that computer's clock right.`,
  );
