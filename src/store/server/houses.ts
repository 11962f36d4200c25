// What a reader of several houses asks of the server: which there are, how their stations stand, everything that one recorded.
import { done, type Result } from '../../domain/value/problem.ts';
import type { SharedRow } from '../exchange.ts';
import type { House } from './admin.ts';
import type { Server } from './connect.ts';

const PAGE = 5000;
/** A station that was not heard for longer than this, and did not close its rooms in step. */
const QUIET = '60 seconds';

export type HouseSeen = House & {
  /** Names of stations that are not in step. */
  readonly away: readonly string[];
  readonly events: number;
};

export async function listHouses(server: Server): Promise<readonly HouseSeen[]> {
  const rows = await server.query(
    `SELECT h.id, h.name,
       coalesce((SELECT max(e.arrived) FROM ullage.event e WHERE e.house = h.id), 0) AS events,
       coalesce((SELECT json_agg(s.name ORDER BY s.id) FROM ullage.station s
          WHERE s.house = h.id AND s.of IS NULL AND s.left_at IS NULL AND NOT s.resting
            AND s.heard_at < clock_timestamp() - interval '${QUIET}'), '[]') AS away
     FROM ullage.house h ORDER BY h.name`,
  );
  return rows.map(({ id, name, events, away }) => ({
    id: String(id),
    name: String(name),
    events: Number(events),
    away: away as string[],
  }));
}

/** Everything of a house, page by page, in the order in which it got there. */
export async function* pagesOf(
  server: Server,
  house: string,
  onPage: (arrived: number) => void,
): AsyncGenerator<Result<readonly SharedRow[]>> {
  let after = 0;
  for (;;) {
    const rows = await server.query(
      `SELECT station, seq, body, encode(hash, 'hex') AS hash, arrived FROM ullage.event
       WHERE house = $1 AND arrived > $2 ORDER BY arrived LIMIT ${PAGE}`,
      [house, after],
    );
    if (rows.length === 0) return;
    after = Number(rows.at(-1)?.arrived);
    onPage(after);
    yield done(
      rows.map(({ station, seq, body, hash }) => ({
        station: String(station),
        seq: Number(seq),
        body: String(body),
        hash: String(hash),
      })),
    );
  }
}
