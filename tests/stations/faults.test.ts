// The server's and the stations' misfortunes, one by one. Row 24 of the fault card: in the end the server and all stations hold the
// same, no event twice, none missing, and what happened is said.
import { copyFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest';
import { intendItem } from '../../src/domain/intent/intend-house.ts';
import { chainHash } from '../../src/store/chain.ts';
import type { ExchangeLink } from '../../src/store/exchange-run.ts';
import { openSqliteStore } from '../../src/store/file/sqlite.ts';
import { prepareServer } from '../../src/store/server/admin.ts';
import { itemOf } from '../support/deeds.ts';
import { makeHouse, must, type TestHouse, type TestStation, testId } from '../support/house.ts';
import { tempFolder } from '../support/night.ts';
import { startServer, type TestServer, withServer } from '../support/server.ts';

withServer('a house of three stations', () => {
  let server: TestServer;
  let house: TestHouse;
  beforeAll(async () => {
    server = await startServer();
    await server.asAdmin(prepareServer);
  });
  afterAll(() => server.end());
  beforeEach(async () => {
    house = await makeHouse(server, tempFolder(), ['bar', 'cellar', 'yard']);
    for (const one of house.stations) await one.exchange();
  });
  afterEach(() => house.close());

  const station = (at: number): TestStation => house.stations[at] as TestStation;
  let written = 0;
  /** So many events at a station. */
  const record = (one: TestStation, many = 1): void => {
    for (let left = many; left > 0; left -= 1) {
      house.time.now += 1000;
      written += 1;
      must(one.store().record((books) => intendItem(books, { ...itemOf(0), costMinor: 1000 + written })));
    }
  };
  const rowsOf = (one: TestStation): unknown[] =>
    must(one.books().heads()).flatMap(({ station: name }) => must(one.books().rowsAfter(name, 0, 100_000)));
  const onServer = (): Promise<readonly unknown[]> =>
    server.asAdmin((link) =>
      link.query(
        `SELECT station, seq::int AS seq, body, encode(hash, 'hex') AS hash FROM ullage.event WHERE house = $1 ORDER BY station, seq`,
        [house.id],
      ),
    );
  const allSame = async (many: number): Promise<void> => {
    for (let round = 0; round < 2; round += 1)
      for (const one of house.stations) expect((await one.exchange()).problem).toBeNull();
    const there = await onServer();
    expect(there).toHaveLength(many);
    for (const one of house.stations) expect(rowsOf(one)).toEqual(there);
  };

  it.each(['smart', 'fast', 'immediate'] as const)(
    'the server stopped (%s) in the middle of each step',
    async (how) => {
      record(station(0), 12);
      record(station(1), 7);
      await station(1).exchange();
      for (let step = 0; step < 6; step += 1) {
        let asked = 0;
        const link = station(0).link();
        const stopping =
          <A extends readonly unknown[], T>(ask: (...words: A) => Promise<T>) =>
          async (...words: A): Promise<T> => {
            asked += 1;
            if (asked !== step + 1) return ask(...words);
            // The question is on its way when the server goes.
            const answer = ask(...words);
            if (how === 'smart') {
              await answer.catch(() => undefined);
              await link.close();
            }
            server.stop(how === 'smart' ? 'fast' : how);
            return answer;
          };
        const cut: ExchangeLink = {
          greet: stopping(link.greet),
          pull: stopping(link.pull),
          push: stopping(link.push),
        };
        const outcome = await station(0).exchange(cut, 4);
        if (asked <= step) break;
        // What was answered just before is no fault; the next question finds nobody.
        if (outcome.problem !== null) expect(outcome.problem.exit).toBe(69);
        record(station(0));
        await server.start();
        for (const one of house.stations) await one.relink();
      }
      const own = must(station(0).books().heads()).find(({ station: name }) => name === 'bar');
      await allSame((own?.seq ?? 0) + 7);
    },
  );

  it('the line cut after COMMIT, before the answer: nothing is sent twice, nothing is missing', async () => {
    record(station(0), 5);
    const link = station(0).link();
    const cut: ExchangeLink = {
      ...link,
      push: async (rows) => {
        await link.push(rows);
        return { ok: false, problems: [{ code: 'server-away', message: 'cut', exit: 69 }] };
      },
    };
    for (let round = 0; round < 3; round += 1) {
      expect((await station(0).exchange(cut, 2)).problem?.code).toBe('server-away');
    }
    await allSame(5);
  });

  it('a station that has just sent is in step for the others in that very moment, whatever it said before', async () => {
    record(station(0), 5);
    const link = station(0).link();
    let greetings = 0;
    const once: ExchangeLink = {
      ...link,
      greet: async (heads, rests) => {
        greetings += 1;
        return greetings === 1
          ? link.greet(heads, rests)
          : { ok: false, problems: [{ code: 'server-away', message: 'not asked', exit: 69 }] };
      },
    };
    const behind = async (): Promise<number | undefined> =>
      must(await station(1).link().greet({}, false)).hello.stations.find(({ id }) => id === 'bar')?.behind;
    await link.greet({ bar: 5 }, false);
    expect(await behind()).toBe(5);
    expect((await station(0).exchange(once)).problem).toBeNull();
    expect(await behind()).toBe(0);
  });

  it("the server's data put back to an hour ago: the stations send again what it lost, and say so", async () => {
    record(station(0), 3);
    record(station(1), 2);
    await allSame(5);
    server.stop('fast');
    server.keep('hour-ago');
    await server.start();
    for (const one of house.stations) await one.relink();
    record(station(0), 4);
    record(station(1), 1);
    await allSame(10);
    server.stop('fast');
    await server.putBack('hour-ago');
    for (const one of house.stations) await one.relink();
    expect(await onServer()).toHaveLength(5);
    record(station(0));
    const outcomes = [];
    for (const one of house.stations) outcomes.push(await one.exchange());
    expect(outcomes.map(({ lostThere }) => lostThere)).toEqual([4, 1, 0]);
    await allSame(11);
  });

  it("a station's file put back to yesterday takes its own back first, and uses no number twice", async () => {
    const bar = station(0);
    record(bar, 3);
    await bar.exchange();
    bar.store().close();
    bar.books().close();
    const file = join(bar.folder, 'books.sqlite');
    copyFileSync(file, join(bar.folder, 'yesterday'));
    bar.reopen();
    record(bar, 4);
    record(station(1), 2);
    await station(1).exchange();
    await bar.exchange();
    bar.store().close();
    bar.books().close();
    for (const ending of ['-wal', '-shm']) rmSync(file + ending, { force: true });
    copyFileSync(join(bar.folder, 'yesterday'), file);
    bar.reopen();
    // Nothing is recorded under numbers that were sent: it waits, and is told why.
    const refused = bar.store().record((books) => intendItem(books, { ...itemOf(0), costMinor: 1 }));
    expect(refused).toMatchObject({ ok: false, problems: [{ code: 'own-missing', exit: 75 }] });
    expect((await bar.exchange()).taken).toBe(6);
    record(bar);
    expect(must(bar.books().heads()).find(({ station: name }) => name === 'bar')?.seq).toBe(8);
    await allSame(10);
  });

  it('two events of one number are an alarm on both sides, and nothing is written over', async () => {
    const bar = station(0);
    record(bar, 2);
    await bar.exchange();
    // The whole computer was put back, its notes too: the number is used a second time.
    const folder = tempFolder();
    const other = must(
      openSqliteStore(folder, {
        now: () => house.time.now,
        newId: testId,
        station: () => 'bar',
        sharesHouse: true,
      }),
    );
    must(other.record((books) => intendItem(books, { ...itemOf(0), costMinor: 77 })));
    other.close();
    bar.store().close();
    bar.books().close();
    for (const ending of ['-wal', '-shm', ''])
      rmSync(join(bar.folder, `books.sqlite${ending}`), { force: true });
    copyFileSync(join(folder, 'books.sqlite'), join(bar.folder, 'books.sqlite'));
    bar.confirmed = 0;
    bar.reopen();
    const before = [rowsOf(bar), await onServer()];
    for (let round = 0; round < 2; round += 1)
      expect((await bar.exchange()).problem?.code).toBe('shared-forked');
    expect([rowsOf(bar), await onServer()]).toEqual(before);
    // The others go on.
    record(station(1));
    expect((await station(1).exchange()).problem).toBeNull();
  });

  it('an event that was altered on the server is not taken in, and nothing after it', async () => {
    record(station(0), 3);
    await station(0).exchange();
    const alter = (from: string, to: string) =>
      server.asAdmin((link) =>
        link.query(
          `ALTER TABLE ullage.event DISABLE TRIGGER event_stays;
           UPDATE ullage.event SET body = replace(body, '${from}', '${to}') WHERE house = '${house.id}' AND seq = 2;
           ALTER TABLE ullage.event ENABLE TRIGGER event_stays`,
        ),
      );
    await alter('"gin"', '"rum"');
    const outcome = await station(1).exchange();
    expect(outcome.problem?.code).toBe('shared-altered');
    expect(rowsOf(station(1))).toEqual([]);
    await alter('"rum"', '"gin"');
    await allSame(3);
  });

  it.each([
    ['on no chain', (body: string) => [body, '00'.repeat(32)], 'shared-altered'],
    [
      'of another station than it is sent for',
      (body: string) => [body.replace('"station":"bar"', '"station":"ba"'), null],
      'shared-altered',
    ],
    ['that is none', () => ['{"a":1}', null], 'shared-unreadable'],
    [
      'with a control in a text',
      (body: string) => [body.replace('"gin"', '"g\\u001b[2J"'), null],
      'shared-unreadable',
    ],
    ['not in canonical form', (body: string) => [` ${body}`, null], 'shared-altered'],
    ['beyond what one may hold', () => [JSON.stringify('x'.repeat(99_000)), null], 'shared-unreadable'],
  ] as const)('a line of the server %s is refused whole', async (_, change, code) => {
    record(station(0));
    await station(0).exchange();
    const link = station(1).link();
    const hostile: ExchangeLink = {
      ...link,
      pull: async (after) => {
        const page = await link.pull(after);
        if (!page.ok) return page;
        return {
          ok: true,
          value: page.value.map((row) => {
            const [body, hash] = change(row.body) as [string, string | null];
            return { ...row, body, hash: hash ?? chainHash('0'.repeat(64), body) };
          }),
        };
      },
    };
    expect((await station(1).exchange(hostile)).problem?.code).toBe(code);
    expect(rowsOf(station(1))).toEqual([]);
    await allSame(1);
  });

  it('a clock far ahead is kept here and refused there until its moment comes', async () => {
    const bar = station(0);
    bar.skew = Date.now() - house.time.now + 3_600_000;
    must(bar.store().record((books) => intendItem(books, itemOf(0))));
    const outcome = await bar.exchange();
    expect([outcome.problem?.code, outcome.problem?.exit]).toEqual(['server-future', 65]);
    expect(rowsOf(bar)).toHaveLength(1);
    expect(await onServer()).toEqual([]);
  });

  it('a server that confirms what a power cut may take is told of', async () => {
    expect((await station(0).exchange()).hello?.unsafe).toEqual(['fsync']);
  });

  it('a join that is broken off goes on where it was', async () => {
    record(station(0), 40);
    await station(0).exchange();
    const late = await house.add('late');
    const link = late.link();
    let pages = 0;
    const broken: ExchangeLink = {
      ...link,
      pull: async (after, most) => {
        pages += 1;
        return pages > 2
          ? { ok: false, problems: [{ code: 'server-away', message: 'cut', exit: 69 }] }
          : link.pull(after, most);
      },
    };
    expect((await late.exchange(broken, 10)).taken).toBe(20);
    expect((await late.exchange(undefined, 10)).taken).toBe(20);
    await allSame(40);
  });
});
