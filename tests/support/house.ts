// A house of several stations for tests: each with a folder, a clock and a store of its own, on one server.
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { instantOf } from '../../src/domain/value/clock-date.ts';
import type { EventId } from '../../src/domain/value/ids.ts';
import type { SharedBooks } from '../../src/store/exchange.ts';
import { type ExchangeLink, exchangeOnce, type Outcome } from '../../src/store/exchange-run.ts';
import { openShared } from '../../src/store/file/shared.ts';
import { openSqliteStore } from '../../src/store/file/sqlite.ts';
import { addHouse, addStation } from '../../src/store/server/admin.ts';
import { type Link, openLink } from '../../src/store/server/link.ts';
import type { Access } from '../../src/store/station.ts';
import type { Store } from '../../src/store/store.ts';
import type { TestServer } from './server.ts';

export type TestStation = {
  readonly name: string;
  readonly access: Access;
  readonly folder: string;
  readonly store: () => Store;
  readonly books: () => SharedBooks;
  readonly link: () => Link;
  /** How far its clock is off, ms. */
  skew: number;
  /** What it knows that the server confirmed. */
  confirmed: number;
  /** One exchange; with a link of its own when one is given. */
  readonly exchange: (link?: ExchangeLink, page?: number) => Promise<Outcome>;
  /** Closes and opens its books anew, as after a crash. */
  readonly restart: () => void;
  /** Opens them after they were closed by hand. */
  readonly reopen: () => void;
  /** A new line after the server was away. */
  readonly relink: () => Promise<void>;
  readonly close: () => Promise<void>;
};

export type TestHouse = {
  readonly id: string;
  readonly name: string;
  readonly stations: readonly TestStation[];
  readonly time: { now: number };
  readonly add: (name: string, at?: string) => Promise<TestStation>;
  readonly close: () => Promise<void>;
};

let houses = 0;
let ids = 0;
/** Ids of the form of version 7, in the order they were made, the same in every run. */
export const testId = (): EventId => {
  ids += 1;
  const hex = ids.toString(16).padStart(12, '0');
  return `019ab000-${hex.slice(0, 4)}-7000-8000-${hex.padStart(12, '0')}` as EventId;
};

export async function makeHouse(
  server: TestServer,
  folder: string,
  names: readonly string[],
  start = '2026-11-20T17:00:00.000Z',
): Promise<TestHouse> {
  houses += 1;
  const name = `House ${houses} of ${process.pid}`;
  const made = await server.asAdmin((link) => addHouse(link, name));
  if (!made.ok) throw new Error(made.problems[0]?.message);
  const time = { now: Date.parse(start) };
  const stations: TestStation[] = [];
  const add = async (station: string, at?: string): Promise<TestStation> => {
    const own = at ?? join(folder, `${houses}-${station}`);
    const one = await makeStation(server, name, station, own, time);
    stations.push(one);
    return one;
  };
  for (const one of names) await add(one);
  return {
    id: made.value,
    name,
    stations,
    time,
    add,
    close: async () => {
      for (const station of stations) await station.close();
    },
  };
}

async function makeStation(
  server: TestServer,
  house: string,
  name: string,
  folder: string,
  time: { now: number },
): Promise<TestStation> {
  const made = await server.asAdmin((link) => addStation(link, house, name));
  if (!made.ok) throw new Error(made.problems[0]?.message);
  const { user, password, station } = made.value;
  const access = { ...server.admin, user, password };
  mkdirSync(folder, { recursive: true });
  const self = { skew: 0, confirmed: 0 };
  const setting = {
    now: () => time.now + self.skew,
    newId: testId,
    station: () => station,
    sharesHouse: true,
    confirmed: () => self.confirmed,
  };
  const openStore = (): Store => must(openSqliteStore(folder, setting));
  let store = openStore();
  let books = must(openShared(folder));
  let link: Link | null = null;
  const linked = async (): Promise<Link> => {
    link ??= must(await openLink(access, () => time.now + self.skew));
    return link;
  };
  await linked();
  const one: TestStation = {
    name: station,
    access,
    folder,
    store: () => store,
    books: () => books,
    link: () => must({ ok: true as const, value: link as unknown as Link }),
    get skew() {
      return self.skew;
    },
    set skew(ms) {
      self.skew = ms;
    },
    get confirmed() {
      return self.confirmed;
    },
    set confirmed(seq) {
      self.confirmed = seq;
    },
    exchange: async (given, page) => {
      const outcome = await exchangeOnce(books, given ?? (await linked()), {
        station,
        confirmed: one.confirmed,
        ...(page === undefined ? {} : { page }),
      });
      if (outcome.problem === null) one.confirmed = outcome.pushed;
      return outcome;
    },
    restart: () => {
      store.close();
      books.close();
      one.reopen();
    },
    reopen: () => {
      store = openStore();
      books = must(openShared(folder));
    },
    relink: async () => {
      await link?.close().catch(() => undefined);
      link = null;
      await linked();
    },
    close: async () => {
      store.close();
      books.close();
      await link?.close().catch(() => undefined);
    },
  };
  return one;
}

export function must<T>(
  result: { ok: true; value: T } | { ok: false; problems: readonly { message: string }[] },
): T {
  if (!result.ok) throw new Error(result.problems.map(({ message }) => message).join('; '));
  return result.value;
}

/** The instant a station's clock shows. */
export const nowAt = ({ time }: TestHouse, station: TestStation): string =>
  instantOf(time.now + station.skew);
