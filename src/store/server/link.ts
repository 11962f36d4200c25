// A station's line to its house's server: what an exchange asks of it, and the ear for what others wrote.
import * as z from 'zod/mini';
import { done, type Problem, type Result } from '../../domain/value/problem.ts';
import type { Arrived, Hello, Pushed, SharedRow } from '../exchange.ts';
import { PAGE, PAGE_CHARACTERS, skewOf } from '../exchange.ts';
import type { Access } from '../station.ts';
import { connect, problemOf, type Server } from './connect.ts';
import { SERVER_VERSION } from './schema.ts';

const seq = z.int().check(z.minimum(0));
const stationSchema = z.object({
  id: z.string(),
  name: z.string(),
  of: z.nullable(z.string()),
  mine: z.boolean(),
  resting: z.boolean(),
  behind: seq,
  known: seq,
  knownBy: z.nullable(z.string()),
  left: z.boolean(),
  quietMs: z.nullable(z.number()),
  heardAt: z.nullable(z.string()),
  seq,
  hash: z.nullable(z.string()),
  next: z.nullable(seq),
});
const helloSchema = z.object({
  now: z.string(),
  house: z.string(),
  houseName: z.string(),
  station: z.string(),
  channel: z.string(),
  version: z.int(),
  arrived: seq,
  stations: z.array(stationSchema),
  unsafe: z.array(z.string()),
});
/** PostgreSQL hands big numbers over as text. */
const number = z.pipe(z.string(), z.transform(Number));
const rowSchema = z.object({
  station: z.string(),
  seq: number,
  body: z.string().check(z.maxLength(100_000)),
  hash: z.string(),
  arrived: number,
});

export type Greeting = { readonly hello: Hello; readonly skewMs: number };

export type Link = {
  readonly greet: (heads: Readonly<Record<string, number>>, rests: boolean) => Promise<Result<Greeting>>;
  readonly pull: (after: number, most?: number) => Promise<Result<readonly Arrived[]>>;
  readonly push: (rows: readonly SharedRow[]) => Promise<Result<Pushed>>;
  /** Names under which these books were kept before: allowed while the house is empty. */
  readonly bring: (names: readonly string[]) => Promise<Result<null>>;
  readonly listen: (channel: string, heard: () => void) => Promise<Result<null>>;
  readonly onLost: (lost: () => void) => void;
  readonly close: () => Promise<void>;
};

const tooNew: Problem = {
  code: 'newer-server',
  message:
    'The server was prepared by a newer ullage. Update ullage here; what is recorded is kept meanwhile.',
  exit: 78,
};

/** Opens the line of a station. */
export async function openLink(access: Access, now: () => number = Date.now): Promise<Result<Link>> {
  const connected = await connect(access);
  return connected.ok ? done(linkOn(connected.value, access, now)) : connected;
}

function linkOn(server: Server, access: Access, now: () => number): Link {
  const asked = async <T>(work: () => Promise<T>): Promise<Result<T>> => {
    try {
      return done(await work());
    } catch (error) {
      return { ok: false, problems: [problemOf(error, access)] };
    }
  };
  return {
    greet: async (heads, rests) => {
      const before = now();
      const said = await asked(() =>
        server.query('SELECT ullage.hello($1::jsonb, $2) AS hello', [JSON.stringify(heads), rests]),
      );
      if (!said.ok) return said;
      const hello = helloSchema.safeParse(said.value[0]?.hello);
      if (!hello.success || hello.data.version > SERVER_VERSION) return { ok: false, problems: [tooNew] };
      return done({ hello: hello.data, skewMs: skewOf(hello.data.now, before, now()) });
    },
    pull: (after, most = PAGE) =>
      asked(async () => {
        const rows = await server.query(
          `SELECT station, seq, body, encode(hash, 'hex') AS hash, arrived FROM ullage.event
           WHERE house = (SELECT ullage.my_house()) AND arrived > $1 ORDER BY arrived LIMIT $2`,
          [after, most],
        );
        return bounded(rows.map((row) => z.parse(rowSchema, row)));
      }),
    push: (rows) => asked(() => push(server, rows)),
    bring: (names) =>
      asked(async () => {
        await server.query('SELECT ullage.bring($1)', [[...names]]);
        return null;
      }),
    listen: (channel, heard) =>
      asked(async () => {
        await server.listen(channel, heard);
        return null;
      }),
    onLost: server.onLost,
    close: server.close,
  };
}

/** No more of a page than memory and a short lock of the books allow; at least its first line. */
function bounded(rows: readonly Arrived[]): readonly Arrived[] {
  let characters = 0;
  const end = rows.findIndex(({ body }) => {
    characters += body.length;
    return characters > PAGE_CHARACTERS;
  });
  return end === -1 ? rows : rows.slice(0, Math.max(1, end));
}

/** What is there already is passed over; then the server is asked what it holds, so that nothing rests on a lost answer. */
async function push(server: Server, rows: readonly SharedRow[]): Promise<Pushed> {
  const [first] = rows;
  await server.query(
    `INSERT INTO ullage.event (house, station, seq, body, hash)
     SELECT (SELECT ullage.my_house()), $1, t.seq, t.body, decode(t.hash, 'hex')
     FROM unnest($2::bigint[], $3::text[], $4::text[]) AS t (seq, body, hash) ORDER BY t.seq
     ON CONFLICT DO NOTHING`,
    [
      first?.station ?? '',
      rows.map(({ seq }) => seq),
      rows.map(({ body }) => body),
      rows.map(({ hash }) => hash),
    ],
  );
  const [held] = await server.query(
    `SELECT seq, encode(hash, 'hex') AS hash FROM ullage.event
     WHERE house = (SELECT ullage.my_house()) AND station = $1 AND seq <= $2 ORDER BY seq DESC LIMIT 1`,
    [first?.station ?? '', rows.at(-1)?.seq ?? 0],
  );
  return { seq: Number(held?.seq ?? 0), hash: String(held?.hash ?? '') };
}
