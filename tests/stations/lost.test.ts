// What is left when a server or a computer is gone for good: every station holds the whole house, and gives it back.
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openNight } from '../support/night.ts';
import { startServer, type TestServer, withServer } from '../support/server.ts';
import { onServer, stationNight, stockFirst } from '../support/station.ts';

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
    await stockFirst(bar);
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

  const resting = async (at: TestServer, station: string, name: string): Promise<unknown> => {
    const [row] = await at.asAdmin((link) =>
      link.query(
        'SELECT s.resting FROM ullage.station s JOIN ullage.house h ON h.id = s.house WHERE s.id = $1 AND h.name = $2',
        [station, name],
      ),
    );
    return row?.resting;
  };

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
    const named = await bar.run('station join', await fileFor(next, 'Low House', 'Gate'), '--instead');
    expect([named.exit, named.err]).toEqual([
      65,
      expect.stringMatching(/Give another folder with --data for gate/),
    ]);
    // A name that only books before their first house bear is given to no station.
    await expect(fileFor(next, 'Low House', 'S 1234abcd')).rejects.toThrow(/name of letters and digits/);
    const forBar = await fileFor(next, 'Low House', 'Bar');
    const healthy = await bar.run('station join', forBar, '--instead');
    expect([healthy.exit, healthy.err]).toEqual([65, expect.stringMatching(/answers: it is not lost/)]);
    // Nor does the healthy one take it for a station that went to rest by that.
    expect(await resting(first, 'bar', 'Low House')).toBe(true);
    await first.asAdmin((link) => link.query("UPDATE ullage.station SET resting = false WHERE id = 'bar'"));
    await bar.run('station join', forBar, '--instead');
    expect(await resting(first, 'bar', 'Low House')).toBe(false);
    first.stop('fast');
    const strange = await stranger.run('station join', forBar, '--instead');
    expect([strange.exit, strange.err]).toEqual([65, expect.stringMatching(/the file is of Low House/)]);
    await bar.ok('station join', forBar, '--instead');
    const before = await held(next, 'Low House');
    const forOffice = await fileFor(next, 'Low House', 'Office');
    const early = await office.run('station join', forOffice, '--instead');
    expect([early.exit, early.err]).toEqual([
      65,
      expect.stringMatching(/lacks stations of which events stand here: upstairs/),
    ]);
    expect(await held(next, 'Low House')).toEqual(before);
    await fileFor(next, 'Low House', 'Upstairs');
    await office.ok('station join', forOffice, '--instead');
    expect(await office.ok('sync')).toContain('Of station upstairs');
    await first.start();
    // Neither is bound to it by having asked.
    expect(await stranger.json<{ house: string }>('station')).toMatchObject({ house: 'High House' });
    expect(await stranger.ok('sync')).toContain('In step');
  });

  it('a house that an empty computer began anew is refused and can be made once more, the begun one under another name', async () => {
    const [bar] = await house('Third House');
    await bar.ok('open --by Ines');
    await bar.ok('sync');
    const next = await server();
    await addHouse(next, 'Third House');
    const early = newStation();
    await early.ok('station join', await fileFor(next, 'Third House', 'Upstairs'));
    await early.ok('people add Zoe');
    await early.ok('sync');
    first.stop('fast');
    const refused = await bar.run('station join', await fileFor(next, 'Third House', 'Bar'), '--instead');
    expect([refused.exit, refused.err]).toEqual([65, expect.stringMatching(/begun by other books/)]);
    const [url = '', ...password] = onServer(next);
    const keeper = openNight();
    await keeper.ok('server rename-house', url, 'third house', 'Third House, a slip', ...password);
    await addHouse(next, 'Third House');
    for (const name of ['Upstairs', 'Office']) await fileFor(next, 'Third House', name);
    await bar.ok('station join', await fileFor(next, 'Third House', 'Bar'), '--instead');
    expect(await keeper.ok('houses', url, ...password)).toContain('Third House, a slip');
    const taken = await keeper.run(
      'server rename-house',
      url,
      'Third House',
      'Third House, a slip',
      ...password,
    );
    expect([taken.exit, taken.err]).toEqual([
      65,
      expect.stringMatching(/has a house "Third House, a slip" already/),
    ]);
    await first.start();
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
    // Its numbers would be used twice: the house knows that others have more of it.
    const anew = newStation();
    const early = await anew.run('station join', file);
    expect([early.exit, early.err]).toEqual([
      75,
      expect.stringMatching(/One event of station upstairs stands at station bar/),
    ]);
    const partly = await office.ok('sync', '--for', file);
    expect(partly).toMatch(
      /^For station upstairs: 0 went out.*1 more stands at station bar: do the same there/,
    );
    expect(await bar.ok('station')).toContain(
      'Of station upstairs 1 event stands here that the server has not',
    );
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
    await anew.ok('station join', file);
    await areSame([anew, bar]);
    await anew.ok('pour 1 lantern-sour');
    await anew.ok('sync');
    await bar.ok('sync');
    await areSame([anew, bar]);
    expect(await anew.ok('check')).toBe('');
  });

  it('a computer that is gone, whose numbers a new one used again: nothing that others saw of it is lost', async () => {
    const [bar, upstairs, office] = await house('Oddtide Three');
    await upstairs.ok('open --by Ines');
    for (const one of [upstairs, bar, office]) await one.ok('sync');
    first.stop('fast');
    first.keep('an hour before');
    await first.start();
    later();
    await upstairs.ok('pour 2 lantern-sour');
    for (const one of [upstairs, office]) await one.ok('sync');
    later();
    await upstairs.ok('pour 3 lantern-sour');
    for (const one of [upstairs, bar]) await one.ok('sync');
    first.stop('fast');
    await first.putBack('an hour before');
    const [url = '', ...password] = onServer(first);
    await openNight().ok('server drop-station', url, 'Oddtide Three', 'Upstairs', ...password);
    const anew = newStation();
    // Nobody was heard since: it begins at a number that two others hold something under.
    await anew.ok('station join', await fileFor(first, 'Oddtide Three', 'Upstairs'));
    later();
    await anew.ok('pour 4 lantern-sour');
    await anew.ok('sync');
    await bar.ok('pour 5 lantern-sour');
    await office.ok('people add Zoe');
    for (const one of [bar, office]) {
      const forked = await one.run('sync');
      expect([forked.exit, forked.err]).toEqual([
        65,
        expect.stringMatching(/upstairs used numbers again that stand here/),
      ]);
      expect(await one.ok('station rejoin')).toContain('behind them');
    }
    for (const one of [bar, office, anew, bar]) await one.ok('sync');
    await areSame([bar, office, anew]);
    const report = await anew.json<{ drinks: { count: number }[] }>('close');
    expect(report.drinks.map(({ count }) => count)).toEqual([14]);
    for (const one of [bar, office, anew]) expect(await one.ok('check')).toBe('');
    expect(await office.ok('people')).toContain('Zoe');
  });
});
