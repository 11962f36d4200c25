// Fifty houses of four stations on one PostgreSQL of this machine: events pushed and pulled a second, from a tap to its sight at
// another station, memory a station, key to frame with an exchange going on and without, joins of 100,000 events. Everything runs on
// the same few cores, server and stations together, so that a real house is quicker.
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { EventDraft } from '../../src/domain/ledger/event.ts';
import { canonicalJson } from '../../src/domain/value/canonical.ts';
import { stationNotes } from '../../src/shell/disk/station.ts';
import { startRounds } from '../../src/shell/station/rounds.ts';
import { newEventId } from '../../src/shell/world.ts';
import { CHAIN_START, chainHash } from '../../src/store/chain.ts';
import type { SharedRow } from '../../src/store/exchange.ts';
import { exchangeOnce } from '../../src/store/exchange-run.ts';
import { openShared } from '../../src/store/file/shared.ts';
import { openSqliteStore } from '../../src/store/file/sqlite.ts';
import { addHouse, addStation, prepareServer } from '../../src/store/server/admin.ts';
import { type Link, openLink } from '../../src/store/server/link.ts';
import type { Access } from '../../src/store/station.ts';
import type { Store } from '../../src/store/store.ts';
import { makeHouse, must, type TestStation } from '../support/house.ts';
import { startServer, type TestServer } from '../support/server.ts';
import { bigHouse, inFolder, keyTimes, type Screen, start } from './frames.ts';
import { figure, quantile } from './measure.ts';
import type { Figure } from './run.ts';

const HOUSES = 50;
const STATIONS = 4;
const EVENTS = 200;
const JOINED = 100_000;
const program = new URL('../../.build/ullage.cjs', import.meta.url).pathname;

const draft = (n: number): EventDraft => ({
  kind: 'note-written',
  shift: null,
  by: null,
  item: null,
  text: `a line as long as a pour is, ${n}, with its draws, its price, its changes, its place and whose hand it was, and some more of it`,
});

/** So many events of a station on its chain, as they would stand in its books. */
function rowsOf(station: string, many: number): SharedRow[] {
  let hash = CHAIN_START;
  return Array.from({ length: many }, (_, index) => {
    const event = {
      ...draft(index),
      id: newEventId(),
      at: '2026-11-20T17:00:00.000Z',
      station,
      seq: index + 1,
    };
    const body = canonicalJson(event);
    hash = chainHash(hash, body);
    return { station, seq: index + 1, body, hash };
  });
}

type Bench = { readonly access: Access; readonly station: string; readonly folder: string; link: Link };

async function manyHouses(server: TestServer, folder: string): Promise<Bench[]> {
  const stations: Bench[] = [];
  for (let house = 0; house < HOUSES; house += 1) {
    const name = `bench ${house}`;
    must(await server.asAdmin((link) => addHouse(link, name)));
    for (let one = 0; one < STATIONS; one += 1) {
      const made = must(await server.asAdmin((link) => addStation(link, name, `well ${one}`)));
      const access = { ...server.admin, user: made.user, password: made.password };
      const own = join(folder, `${house}-${one}`);
      mkdirSync(own);
      stations.push({ access, station: made.station, folder: own, link: must(await openLink(access)) });
    }
  }
  return stations;
}

/** Some at once, as stations come: each in its own time. */
async function allAtOnce<T>(list: readonly T[], work: (one: T) => Promise<void>): Promise<number> {
  const begun = performance.now();
  await Promise.all(list.map(work));
  return (performance.now() - begun) / 1000;
}

async function throughput(server: TestServer, folder: string): Promise<Figure[]> {
  const stations = await manyHouses(server, folder);
  const rows = new Map(stations.map((one) => [one, rowsOf(one.station, EVENTS)]));
  const pushed = await allAtOnce(stations, async (one) => {
    must(await one.link.push(rows.get(one) ?? []));
  });
  const pulled = await allAtOnce(stations, async (one) => {
    let after = 0;
    for (;;) {
      const page = must(await one.link.pull(after, 1000));
      if (page.length === 0) return;
      after = page.at(-1)?.arrived ?? after;
    }
  });
  // And into the books of one house, durable.
  const [first] = stations;
  const books = must(openShared(first?.folder ?? folder));
  const begun = performance.now();
  const { taken } = await exchangeOnce(books, (first as Bench).link, {
    station: first?.station ?? '',
    confirmed: 0,
  });
  const seconds = (performance.now() - begun) / 1000;
  books.close();
  for (const one of stations) await one.link.close();
  const total = stations.length * EVENTS;
  return [
    figure(`events pushed a second, ${HOUSES} houses × ${STATIONS} stations at once`, total / pushed, '1/s'),
    figure('events pulled a second by all of them', (total * STATIONS) / pulled, '1/s'),
    figure('events taken into the books of one station a second', taken / seconds, '1/s'),
  ];
}

async function sight(server: TestServer, folder: string): Promise<Figure[]> {
  const house = await makeHouse(server, folder, ['bar', 'yard'], new Date().toISOString());
  const [bar, yard] = house.stations as [TestStation, TestStation];
  for (const one of [bar, yard]) await one.exchange();
  let seen: (() => void) | null = null;
  const rounds = [bar, yard].map((one) =>
    startRounds({
      station: one.name,
      books: one.books(),
      open: () => openLink(one.access),
      confirmed: 0,
      onRound: ({ taken }) => {
        if (one === yard && taken > 0) seen?.();
      },
    }),
  );
  await new Promise((resolve) => setTimeout(resolve, 500));
  const times: number[] = [];
  const bare: number[] = [];
  for (let tap = 0; tap < 300; tap += 1) {
    const asked = performance.now();
    await server.asAdmin((link) => link.query('SELECT 1'));
    bare.push(performance.now() - asked);
    const came = new Promise<void>((resolve) => {
      seen = resolve;
    });
    const begun = performance.now();
    must(bar.store().record(() => ({ ok: true, value: [draft(tap)] })));
    rounds[0]?.wake();
    await came;
    times.push(performance.now() - begun);
  }
  for (const one of rounds) await one.leave();
  await house.close();
  return [0.5, 0.99].map((share) =>
    figure(
      `from a tap to its sight at another station, p${share * 100}`,
      quantile(times, share),
      'ms',
      quantile(bare, share),
    ),
  );
}

const memoryOf = (pid: number): number =>
  Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))?.[1] ?? 0) / 1024;

/** The same rooms on the same books: alone, joined and quiet, and joined while another station pours ten a second. */
async function rooms(server: TestServer, folder: string): Promise<Figure[]> {
  const [alone, joined] = [join(folder, 'alone'), join(folder, 'joined')];
  for (const one of [alone, joined]) {
    mkdirSync(one);
    await bigHouse(one, 1000);
  }
  const name = 'bench rooms';
  must(await server.asAdmin((link) => addHouse(link, name)));
  const file = async (station: string) => {
    const made = must(await server.asAdmin((link) => addStation(link, name, station)));
    const access = { ...server.admin, user: made.user, password: made.password };
    return { ullage: 'station', version: 1, house: made.house, station: made.station, access } as const;
  };
  const bar = await file('bar');
  const env = { XDG_CONFIG_HOME: joined, XDG_STATE_HOME: joined };
  const notes = stationNotes(joined, env);
  must(notes.keepJoined(bar));
  const books = must(openShared(joined));
  const link = must(await openLink(bar.access));
  must(await link.bring(must(books.heads()).map(({ station }) => station)));
  await exchangeOnce(books, link, { station: 'bar', confirmed: 0 });
  books.close();
  await link.close();
  const other = await pourer(await file('yard'), join(folder, 'other'));
  const screens = {
    alone: await start([program, '--data', alone], '↓', alone),
    joined: await start([program, '--data', joined], '↓', joined, env),
  };
  const letters = [...'lant', ...'\u007f\u007f\u007f\u007f', ...'harb', ...'\u007f\u007f\u007f\u007f'];
  const times = { alone: [] as number[], quiet: [] as number[], busy: [] as number[] };
  const round = async (screen: Screen, into: number[]): Promise<void> => {
    into.push(...(await keyTimes(screen, letters)));
  };
  for (let turn = 0; turn < 20; turn += 1) {
    await round(screens.alone, times.alone);
    await round(screens.joined, times.quiet);
    const timer = setInterval(other.pour, 100);
    await round(screens.joined, times.busy);
    clearInterval(timer);
  }
  const memory = { alone: memoryOf(screens.alone.pid), joined: memoryOf(screens.joined.pid) };
  await screens.alone.end();
  await screens.joined.end();
  await other.close();
  return [
    figure('memory of the rooms of a station, against rooms alone', memory.joined, 'MB', memory.alone),
    figure(
      'letter to frame p99, joined and quiet, against rooms alone',
      quantile(times.quiet, 0.99),
      'ms',
      quantile(times.alone, 0.99),
    ),
    figure(
      'letter to frame p50, ten events a second coming in, against rooms alone',
      quantile(times.busy, 0.5),
      'ms',
      quantile(times.alone, 0.5),
    ),
    figure(
      'letter to frame p99, ten events a second coming in, against rooms alone',
      quantile(times.busy, 0.99),
      'ms',
      quantile(times.alone, 0.99),
    ),
  ];
}

/** Another station that pours when it is asked to. */
async function pourer(
  { access, station }: { readonly access: Access; readonly station: string },
  folder: string,
): Promise<{ readonly pour: () => void; readonly close: () => Promise<void> }> {
  mkdirSync(folder);
  const books = must(openShared(folder));
  const link = must(await openLink(access));
  await exchangeOnce(books, link, { station, confirmed: 0 });
  await link.close();
  const store: Store = must(
    openSqliteStore(folder, { now: Date.now, newId: newEventId, station: () => station, sharesHouse: true }),
  );
  const rounds = startRounds({
    station,
    books,
    open: () => openLink(access),
    confirmed: 0,
    onRound: () => undefined,
  });
  const { intendPour } = await import('../../src/domain/intent/intend-pour.ts');
  return {
    pour: () => {
      must(
        store.record((all) => {
          const [spec] = all.specs.values();
          if (spec === undefined) throw new Error('no card');
          return intendPour(all, { by: null, spec, count: 1, as: 'sale', changes: [] });
        }),
      );
      rounds.wake();
    },
    close: async () => {
      await rounds.leave();
      store.close();
      books.close();
    },
  };
}

/** A long past taken in by an empty station, page by page, durable. */
async function joining(server: TestServer, folder: string): Promise<Figure[]> {
  const house = await makeHouse(server, folder, ['bar', 'yard']);
  const [bar, yard] = house.stations as [TestStation, TestStation];
  const rows = rowsOf('bar', JOINED);
  for (let from = 0; from < rows.length; from += 1000)
    must(await bar.link().push(rows.slice(from, from + 1000)));
  const begun = performance.now();
  const { taken } = await yard.exchange(undefined, 2000);
  const seconds = (performance.now() - begun) / 1000;
  await house.close();
  return [figure(`a join of ${taken} events, events a second`, taken / seconds, '1/s')];
}

export const stationsBench = (): Promise<Figure[]> =>
  inFolder(async (folder) => {
    const server = await startServer(['max_connections=260', 'fsync=on']);
    try {
      must(await server.asAdmin(prepareServer));
      return [
        ...(await throughput(server, folder)),
        ...(await sight(server, folder)),
        ...(await joining(server, folder)),
        ...(await rooms(server, folder)),
      ];
    } finally {
      server.end();
    }
  });
