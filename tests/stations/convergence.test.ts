// Anything in any order over several stations, with lines that are cut anywhere, repeats, crashes and clocks that differ: in the end
// every station and the server hold the same events byte for byte, equal books, and every seal says what it said.
// ULLAGE_RUNS=5000 runs more than a test has time for; ULLAGE_SEED repeats a run.
import fc from 'fast-check';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { intendItem, intendSpec } from '../../src/domain/intent/intend-house.ts';
import type { Intent } from '../../src/domain/intent/intent.ts';
import { type Books, booksAtStation, emptyBooks } from '../../src/domain/ledger/books.ts';
import type { EventId } from '../../src/domain/value/ids.ts';
import { refuse } from '../../src/domain/value/problem.ts';
import type { ExchangeLink } from '../../src/store/exchange-run.ts';
import { takeBackOne } from '../../src/store/last.ts';
import { reportOfShift } from '../../src/store/reports.ts';
import { prepareServer } from '../../src/store/server/admin.ts';
import type { Store } from '../../src/store/store.ts';
import { deeds, itemOf, plain, specOf } from '../support/deeds.ts';
import { foldEvents } from '../support/fold.ts';
import { makeHouse, must, type TestHouse, type TestStation } from '../support/house.ts';
import { tempFolder } from '../support/night.ts';
import { startServer, type TestServer, withServer } from '../support/server.ts';

const RUNS = Number(process.env.ULLAGE_RUNS ?? 200);
const seed = process.env.ULLAGE_SEED === undefined ? Date.now() % 2 ** 31 : Number(process.env.ULLAGE_SEED);

type Step =
  | {
      readonly what: 'deed';
      readonly who: number;
      readonly deed: number;
      readonly n: number;
      readonly minutes: number;
    }
  | { readonly what: 'back'; readonly who: number; readonly n: number }
  | { readonly what: 'exchange'; readonly who: number; readonly page: number }
  | { readonly what: 'cut'; readonly who: number; readonly after: number; readonly isHeard: boolean }
  | { readonly what: 'restart'; readonly who: number }
  | { readonly what: 'skew'; readonly who: number; readonly ms: number };

const who = fc.nat(4);
const step: fc.Arbitrary<Step> = fc.oneof(
  {
    weight: 8,
    arbitrary: fc.record({
      what: fc.constant('deed' as const),
      who,
      deed: fc.nat(deeds.length - 1),
      n: fc.nat(20),
      minutes: fc.constantFrom(0, 0, 0.01, 1, 20),
    }),
  },
  // What a night is made of, more often than chance would have it: opening, pouring, counting, sealing.
  {
    weight: 6,
    arbitrary: fc.record({
      what: fc.constant('deed' as const),
      who,
      deed: fc.constantFrom(6, 8, 9, 9, 14),
      n: fc.nat(20),
      minutes: fc.constantFrom(0, 0.01, 2),
    }),
  },
  { weight: 2, arbitrary: fc.record({ what: fc.constant('back' as const), who, n: fc.nat(12) }) },
  {
    weight: 4,
    arbitrary: fc.record({ what: fc.constant('exchange' as const), who, page: fc.constantFrom(1, 3, 200) }),
  },
  {
    weight: 2,
    arbitrary: fc.record({ what: fc.constant('cut' as const), who, after: fc.nat(6), isHeard: fc.boolean() }),
  },
  { weight: 1, arbitrary: fc.record({ what: fc.constant('restart' as const), who }) },
  {
    weight: 1,
    arbitrary: fc.record({
      what: fc.constant('skew' as const),
      who,
      ms: fc.integer({ min: -90_000, max: 90_000 }),
    }),
  },
);

/** A line that is cut at one of its questions: before the server heard it, or before its answer came back. */
function cutAfter(link: ExchangeLink, after: number, isHeard: boolean): ExchangeLink {
  let left = after;
  const cut =
    <A extends readonly unknown[], T>(ask: (...words: A) => Promise<T>) =>
    async (...words: A): Promise<T | ReturnType<typeof refuse>> => {
      left -= 1;
      if (left >= 0) return ask(...words);
      if (isHeard) await ask(...words);
      return refuse('server-away', 'The line was cut.', 69);
    };
  return { greet: cut(link.greet), pull: cut(link.pull), push: cut(link.push) };
}

/** What a seal said when it was made. */
type Said = { readonly shift: EventId; readonly seal: EventId; readonly report: string };
const reportOf = (store: Store, shift: string): string => {
  const { cameAfter: _, notes: __, ...report } = reportOfShift(store, shift)?.report ?? {};
  return JSON.stringify(report);
};

function takeDeed(station: TestStation, intent: Intent, said: Said[]): void {
  const result = station.store().record(intent);
  if (!result.ok) return;
  for (const event of result.value)
    if (event.kind === 'shift-sealed')
      said.push({ shift: event.of, seal: event.id, report: reportOf(station.store(), event.of) });
}

async function take(house: TestHouse, one: Step, said: Said[]): Promise<void> {
  const station = house.stations[one.who % house.stations.length] as TestStation;
  switch (one.what) {
    case 'deed':
      house.time.now += Math.round(one.minutes * 60_000);
      return takeDeed(station, (deeds[one.deed] as (n: number) => Intent)(one.n), said);
    case 'back': {
      house.time.now += 500;
      const event = station.store().log(12)[one.n]?.event;
      if (event !== undefined) takeBackOne(station.store(), event.id);
      return;
    }
    case 'exchange':
      expect((await station.exchange(undefined, one.page)).problem).toBeNull();
      return;
    case 'cut':
      await station.exchange(cutAfter(station.link(), one.after, one.isHeard), 3);
      return;
    case 'restart':
      station.restart();
      return;
    case 'skew':
      station.skew = one.ms;
  }
}

/** But for whose hand pours at which station, which each reads as its own. */
const seen = (books: Books): unknown => plain(booksAtStation(books, 'none'));

/** Another seal that counts names the same opening, and comes first. */
const isSecond = (store: Store, seal: EventId, shift: EventId): boolean => {
  const seals = [...store.allEvents()].filter(
    (event) =>
      event.kind === 'shift-sealed' &&
      (event.of === shift || event.also?.includes(shift) === true) &&
      store.eventById(event.id)?.takenBack === false,
  );
  return seals[0]?.id !== seal;
};

const rowsOf = (station: TestStation): unknown[] => {
  const books = station.books();
  return must(books.heads()).flatMap(({ station: name }) => must(books.rowsAfter(name, 0, 100_000)));
};

async function holdsTheLaws(house: TestHouse, server: TestServer, said: readonly Said[]): Promise<void> {
  house.time.now += 300_000;
  for (const station of house.stations) station.skew = 0;
  for (let round = 0; round < 2; round += 1)
    for (const station of house.stations) expect((await station.exchange()).problem).toBeNull();
  const there = await server.asAdmin((link) =>
    link.query(
      `SELECT station, seq::int AS seq, body, encode(hash, 'hex') AS hash FROM ullage.event WHERE house = $1 ORDER BY station, seq`,
      [house.id],
    ),
  );
  const [first] = house.stations;
  const books = seen(first?.store().books() ?? emptyBooks);
  for (const station of house.stations) {
    expect(rowsOf(station)).toEqual(there);
    const store = station.store();
    expect(seen(store.books())).toEqual(books);
    // A shift or an item that was taken back while another station used it, or wrote a card with it: both stand, and the check says so.
    expect(
      store
        .check([])
        .filter(
          ({ message }) =>
            !/the shift it was recorded in|that item was taken back|is not stocked/.test(message),
        ),
    ).toEqual([]);
    for (const { shift, seal, report } of said) {
      // Sealed apart under one name, the first seal is the one that counts; or it was taken back.
      const night = store.shifts().find((each) => each.openings.includes(shift));
      // Sealed while another station took its opening back: there is no such night any more.
      const isGone = [seal, shift].some((id) => store.eventById(id)?.takenBack === true);
      if (isGone || isSecond(store, seal, shift)) continue;
      expect([night !== undefined, night?.id === shift || night?.seal !== seal]).toEqual([true, true]);
      expect(reportOf(store, shift)).toBe(report);
    }
  }
  const events = [...(first?.store().allEvents() ?? [])];
  expect(seen(foldEvents(emptyBooks, events))).toEqual(books);
}

withServer('several stations', () => {
  let server: TestServer;
  beforeAll(async () => {
    server = await startServer();
    await server.asAdmin(prepareServer);
  });
  afterAll(() => server.end());

  it('come to the same, whatever happens on the way', async () => {
    process.stdout.write(`convergence: seed ${seed}, ${RUNS} runs\n`);
    const folder = tempFolder();
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 2, max: 5 }),
        fc.array(step, { minLength: 8, maxLength: 40 }),
        async (many, steps) => {
          const house = await makeHouse(
            server,
            folder,
            ['bar', 'cellar', 'upstairs', 'well', 'yard'].slice(0, many),
          );
          const said: Said[] = [];
          try {
            const [first] = house.stations;
            first?.store().record((books) => intendItem(books, itemOf(0)));
            first?.store().record((books) => intendSpec(books, specOf(0)));
            for (const station of house.stations) await station.exchange();
            for (const one of steps) await take(house, one, said);
            await holdsTheLaws(house, server, said);
          } finally {
            await house.close();
          }
        },
      ),
      { numRuns: RUNS, seed },
    );
  }, 10_800_000);
});
