// houses: a group's reader: each house with its last sealed night, and any report of any of them, from the server alone.
import { dateText } from '../../domain/value/clock-date.ts';
import type { EventId } from '../../domain/value/ids.ts';
import { formatMoney } from '../../domain/value/money.ts';
import { done, type Result } from '../../domain/value/problem.ts';
import { layTable } from '../../exchange/print/table-text.ts';
import { reportOfShift } from '../../store/reports.ts';
import type { Server } from '../../store/server/connect.ts';
import type { HouseSeen } from '../../store/server/houses.ts';
import type { Store } from '../../store/store.ts';
import {
  type Command,
  type Context,
  type Outcome,
  refused,
  say,
  sayJson,
  usageProblem,
} from '../line/command.ts';
import { askServer, passwordFlag } from './server.ts';

type Seen = {
  readonly house: string;
  readonly currency: string;
  /** Its last sealed night; null when it has none. */
  readonly date: string | null;
  readonly drinks: number;
  readonly missingCostMinor: number | null;
  readonly missingCostUncertaintyMinor: number | null;
  readonly soldMinor: number | null;
  readonly away: readonly string[];
};

export const houses: Command = {
  name: 'houses',
  usage: ['houses URL'],
  says: 'each house a reader may see: its last sealed night, what is missing, its value, stations that are not in step; report --house NAME --server URL shows any report',
  examples: ['houses postgresql://anna@db.example/bars'],
  flags: [passwordFlag],
  run: async (context) => {
    const [url, ...more] = context.words;
    if (url === undefined || more.length > 0) return usageProblem('Name the server: ullage houses URL.');
    const { listHouses } = await import('../../store/server/houses.ts');
    const seen = await askServer(context, url, async (server) => {
      const found: Seen[] = [];
      for (const house of await listHouses(server)) {
        const one = await overHouse(context, server, house, (store) => seenOf(store, house));
        if (!one.ok) return one;
        found.push(one.value);
      }
      return done(found);
    });
    if (!seen.ok) return refused(seen.problems);
    if (context.json) return sayJson(seen.value);
    return say(seen.value.length === 0 ? 'This reader may see no house.' : table(seen.value));
  },
};

/** Work on the books of one house as its server has them, in memory. */
export async function overHouse<T>(
  { world }: Context,
  server: Server,
  { id, events }: Pick<HouseSeen, 'id' | 'events'>,
  work: (store: Store) => T | Promise<T>,
): Promise<Result<T>> {
  const { pagesOf } = await import('../../store/server/houses.ts');
  const { openMemoryStore } = await import('../../store/file/memory.ts');
  const pages = pagesOf(server, id, (arrived) => world.progress(events === 0 ? 1 : arrived / events));
  const store = await openMemoryStore(pages, {
    now: world.now,
    newId: () => '' as EventId,
    station: () => 'reader',
  });
  world.progress(1);
  if (!store.ok) return store;
  try {
    return done(await work(store.value));
  } finally {
    store.value.close();
  }
}

function seenOf(store: Store, { name, away }: HouseSeen): Seen {
  const night = store.shifts().findLast(({ sealed }) => sealed);
  const reported = night === undefined ? null : reportOfShift(store, night.id);
  const { currency } = store.books().house;
  if (night === undefined || reported === null)
    return {
      house: name,
      currency,
      date: null,
      drinks: 0,
      missingCostMinor: null,
      missingCostUncertaintyMinor: null,
      soldMinor: null,
      away,
    };
  const { totals, drinks, straight } = reported.report;
  return {
    house: name,
    currency,
    date: night.date,
    drinks: drinks.reduce((sum, { count }) => sum + count, straight),
    missingCostMinor: totals.missingCostMinor,
    missingCostUncertaintyMinor: totals.missingCostUncertaintyMinor,
    soldMinor: totals.soldMinor,
    away,
  };
}

function table(seen: readonly Seen[]): string {
  const money = (minor: number | null, currency: string): string =>
    minor === null ? '—' : formatMoney(minor, currency);
  return layTable(
    ['house', 'last sealed', '>drinks', '>sold', '>missing or extra', '>±', 'not in step'],
    seen.map((one) => [
      one.house,
      one.date === null ? 'no night yet' : dateText(one.date),
      one.date === null ? '' : String(one.drinks),
      money(one.soldMinor, one.currency),
      missingWord(one, money),
      money(one.missingCostUncertaintyMinor, one.currency),
      one.away.join(', '),
    ]),
  );
}

function missingWord(
  { missingCostMinor: minor, currency }: Seen,
  money: (minor: number | null, currency: string) => string,
): string {
  if (minor === null) return '—';
  return minor < 0 ? `extra ${money(-minor, currency)}` : `missing ${money(minor, currency)}`;
}

/** `report --house NAME --server URL`: work on that house's books. */
export async function withHouse(
  context: Context,
  { url, name }: { readonly url: string; readonly name: string },
  work: (store: Store) => Outcome | Promise<Outcome>,
): Promise<Outcome> {
  const { houseNamed } = await import('../../store/server/admin.ts');
  const outcome = await askServer(context, url, async (server) => {
    const house = await houseNamed(server, name);
    if (!house.ok) return house;
    return overHouse(context, server, { ...house.value, events: 0 }, work);
  });
  return outcome.ok ? outcome.value : refused(outcome.problems);
}
