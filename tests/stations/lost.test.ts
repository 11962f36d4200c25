// What is left when a server or a computer is gone for good: every station holds the whole house, and gives it back.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openNight, smallItems, smallSpecs } from '../support/night.ts';
import { startServer, type TestServer, withServer } from '../support/server.ts';
import { onServer, stationNight } from '../support/station.ts';

type Station = ReturnType<typeof stationNight>;

withServer('gone for good', () => {
  const servers: TestServer[] = [];
  const server = async (): Promise<TestServer> => {
    const one = await startServer();
    servers.push(one);
    return one;
  };
  let first: TestServer;
  beforeAll(async () => {
    first = await server();
  });
  afterAll(() => {
    for (const one of servers) one.end();
  });

  const time = { now: Date.parse('2026-11-20T17:00:00.000Z') };
  const addHouse = async (at: TestServer, house: string): Promise<void> => {
    const [url = '', ...password] = onServer(at);
    const keeper = openNight();
    await keeper.ok('server prepare', url, ...password);
    await keeper.ok('server add-house', url, house, ...password);
  };
  let files = 0;
  const fileFor = async (at: TestServer, house: string, station: string): Promise<string> => {
    files += 1;
    const [url = '', ...password] = onServer(at);
    const keeper = openNight();
    const file = join(keeper.folder, `${files}.station`);
    await keeper.ok('server add-station', url, house, station, '--out', file, ...password);
    return file;
  };
  const newStation = (): Station => stationNight(undefined, time);
  /** A house of three; the first brought the books it had before under a name of their own. */
  const house = async (name: string): Promise<readonly [Station, Station, Station]> => {
    await addHouse(first, name);
    const [bar, upstairs, office] = [newStation(), newStation(), newStation()];
    const [items, specs] = [join(bar.home, 'items.csv'), join(bar.home, 'specs.txt')];
    writeFileSync(items, smallItems);
    writeFileSync(specs, smallSpecs);
    await bar.ok('people add Ines Tom');
    await bar.ok('import', items, specs);
    await bar.ok('count dry-gin 3.0');
    await bar.ok('station join', await fileFor(first, name, 'Bar'));
    await upstairs.ok('station join', await fileFor(first, name, 'Upstairs'));
    await office.ok('station join', await fileFor(first, name, 'Office'));
    return [bar, upstairs, office];
  };
  const later = (): void => {
    time.now += 60_000;
  };
  const linesOf = async (one: Station): Promise<string[]> =>
    (await one.ok('export events')).split('\n').sort();
  const areSame = async (stations: readonly Station[]): Promise<void> => {
    const [one, ...others] = await Promise.all(stations.map(linesOf));
    for (const other of others) expect(other).toEqual(one);
  };
  const held = (at: TestServer, name: string) =>
    at.asAdmin((link) =>
      link.query(
        `SELECT station, count(*)::int AS many FROM ullage.event
         WHERE house = (SELECT id FROM ullage.house WHERE name = $1) GROUP BY station ORDER BY station`,
        [name],
      ),
    );

  it('a server without a copy: the house is made anew, and every station gives it what it has', async () => {
    const [bar, upstairs, office] = await house('Oddtide');
    await bar.ok('open --by Ines');
    later();
    await bar.ok('pour 2 lantern-sour');
    for (const one of [bar, upstairs]) await one.ok('sync');
    later();
    await upstairs.ok('pour 1 lantern-sour');
    // The office takes back what upstairs poured: at the new server it comes before what it takes back.
    for (const one of [upstairs, office]) await one.ok('sync');
    later();
    await office.ok('undo', JSON.parse((await upstairs.ok('log --json')).trim()).at(-1)?.id ?? '');
    later();
    await office.ok('pour 3 lantern-sour');
    await bar.ok('pour 4 lantern-sour');
    // Gone, with what the bar and the office had not sent.
    first.stop('immediate');
    const next = await server();
    await addHouse(next, 'Oddtide');
    const [forBar, forUpstairs, forOffice] = [
      await fileFor(next, 'Oddtide', 'Bar'),
      await fileFor(next, 'Oddtide', 'Upstairs'),
      await fileFor(next, 'Oddtide', 'Office'),
    ];
    const unasked = await office.run('station join', forOffice);
    expect([unasked.exit, unasked.err]).toEqual([65, expect.stringMatching(/join with --instead/)]);
    expect(await office.ok('station join', forOffice, '--instead')).toMatch(
      /Of station bar \d+ events stand here that the server has not/,
    );
    await bar.ok('station join', forBar, '--instead');
    await upstairs.ok('station join', forUpstairs, '--instead');
    for (const one of [bar, upstairs, office]) await one.ok('sync');
    await areSame([bar, upstairs, office]);
    const cellar = newStation();
    await cellar.ok('station join', await fileFor(next, 'Oddtide', 'Cellar'));
    await areSame([cellar, bar]);
    for (const one of [bar, upstairs, office, cellar]) expect(await one.ok('check')).toBe('');
    const report = await cellar.json<{ drinks: { count: number }[] }>('close');
    expect(report.drinks.map(({ count }) => count)).toEqual([9]);
    const [url = '', ...password] = onServer(next);
    // This server keeps nothing safe from a power cut, and says so; nothing else.
    expect((await openNight().run('server check', url, ...password)).out.trim()).toMatch(
      /^The setting fsync is off.*$/,
    );
    expect((await held(next, 'Oddtide')).length).toBe(4);
    await first.start();
  });

  it('another house of the same names is not mixed in, and a station that is not there yet is asked for', async () => {
    const [bar, upstairs, office] = await house('Low House');
    await bar.ok('open --by Ines');
    for (const one of [bar, upstairs]) await one.ok('sync');
    later();
    await upstairs.ok('pour 1 lantern-sour');
    for (const one of [upstairs, office]) await one.ok('sync');
    const [stranger, far] = await house('High House');
    await stranger.ok('open --by Ines');
    for (const one of [stranger, far]) await one.ok('sync');
    const next = await server();
    await addHouse(next, 'Low House');
    // A name that only books before their first house bear is given to no station.
    await expect(fileFor(next, 'Low House', 'S 1234abcd')).rejects.toThrow(/name of letters and digits/);
    const forBar = await fileFor(next, 'Low House', 'Bar');
    await bar.ok('station join', forBar, '--instead');
    const before = await held(next, 'Low House');
    const other = await stranger.run('station join', forBar, '--instead');
    expect([other.exit, other.err]).toEqual([65, expect.stringMatching(/of another house/)]);
    const forOffice = await fileFor(next, 'Low House', 'Office');
    const early = await office.run('station join', forOffice, '--instead');
    expect([early.exit, early.err]).toEqual([
      65,
      expect.stringMatching(/has no station upstairs on the server/),
    ]);
    const named = await far.run('station join', await fileFor(next, 'Low House', 'Upstairs'), '--instead');
    expect([named.exit, named.err]).toEqual([65, expect.stringMatching(/of another house/)]);
    expect(await held(next, 'Low House')).toEqual(before);
    await office.ok('station join', forOffice, '--instead');
    expect(await office.ok('sync')).toContain('Of station upstairs');
    // Neither is bound to it by having asked.
    for (const one of [stranger, far]) expect(await one.ok('sync')).toContain('In step');
    const joined = await far.json<{ house: string }>('station');
    expect(joined.house).toBe('High House');
  });

  it('a computer that is gone, and a server put back to before what it sent: another station sends it in its place', async () => {
    const [bar, upstairs, office] = await house('Oddtide Two');
    await upstairs.ok('open --by Ines');
    for (const one of [upstairs, bar, office]) await one.ok('sync');
    first.stop('fast');
    first.keep('an hour ago');
    await first.start();
    later();
    await upstairs.ok('pour 2 lantern-sour');
    await upstairs.ok('sync');
    await bar.ok('sync');
    first.stop('fast');
    await first.putBack('an hour ago');
    expect(await bar.ok('sync')).toMatch(/Of station upstairs 1 event stands here that the server has not/);
    const [url = '', ...password] = onServer(first);
    await openNight().ok('server drop-station', url, 'Oddtide Two', 'Upstairs', ...password);
    const file = await fileFor(first, 'Oddtide Two', 'Upstairs');
    await bar.ok('pour 1 lantern-sour');
    const standing = await bar.ok('station --json');
    expect(await bar.ok('sync', '--for', file)).toMatch(/^For station upstairs: 1 went out/);
    expect(await bar.ok('station --json')).toBe(standing);
    expect(await bar.ok('sync')).not.toContain('has not');
    expect(await bar.ok('station')).toContain('Station bar of Oddtide Two');
    await addHouse(first, 'Elsewhere');
    const refused = await bar.run('sync', '--for', await fileFor(first, 'Elsewhere', 'Upstairs'));
    expect([refused.exit, refused.err]).toEqual([
      65,
      expect.stringMatching(/Give the file of another station/),
    ]);
    const anew = newStation();
    await anew.ok('station join', file);
    await areSame([anew, bar]);
    await anew.ok('pour 1 lantern-sour');
    await anew.ok('sync');
    await bar.ok('sync');
    await areSame([anew, bar]);
    expect(await anew.ok('check')).toBe('');
  });
});
