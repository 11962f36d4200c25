// Stations by their commands: a server is kept, stations join, nights are poured apart and sealed, a reader looks at every house.
import {
  chmodSync,
  copyFileSync,
  cpSync,
  existsSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Report } from '../../src/domain/report/report.ts';
import { stationNotes } from '../../src/shell/disk/station.ts';
import { startServer, type TestServer, withServer } from '../support/server.ts';
import { onServer, stationNight, stockFirst } from '../support/station.ts';

type Standing = {
  station: string;
  house: string;
  server: string;
  inStep: boolean;
  waiting: number;
  lastSeen: string | null;
  skewMs: number;
};

withServer('stations by commands', () => {
  let server: TestServer;
  const admin = stationNight;
  beforeAll(async () => {
    server = await startServer();
  });
  afterAll(() => server.end());

  let houses = 0;
  /** A house with a furnished first station and empty others, all on one clock. */
  const house = async (...names: string[]) => {
    houses += 1;
    const time = { now: Date.parse('2026-11-20T17:00:00.000Z') };
    const keeper = admin();
    const name = `Oddtide ${houses}`;
    const [url, ...password] = onServer(server);
    await keeper.ok('server prepare', url ?? '', ...password);
    await keeper.ok('server add-house', url ?? '', name, ...password);
    const stations = [];
    for (const one of names) {
      const file = join(keeper.folder, '..', `${one}.station`);
      await keeper.ok('server add-station', url ?? '', name, one, '--out', file, ...password);
      stations.push({ ...stationNight(undefined, time), file });
    }
    const [first, ...others] = stations;
    if (first === undefined) throw new Error('no station');
    await stockFirst(first);
    for (const one of stations) await one.ok('station join', one.file);
    const minutes = (many: number): void => {
      time.now += many * 60_000;
    };
    return { time, minutes, name, url: url ?? '', password, keeper, first, others, stations };
  };
  const same = async (stations: readonly { ok: (line: string) => Promise<string> }[]): Promise<void> => {
    for (let round = 0; round < 2; round += 1) for (const one of stations) await one.ok('sync');
    const [first, ...others] = await Promise.all(stations.map((one) => one.ok('export events')));
    for (const other of others) expect(other.split('\n').sort()).toEqual(first?.split('\n').sort());
  };

  it('join with what was kept before, and take in what others wrote; the second is empty and then the same', async () => {
    const { first, others, name } = await house('Bar', 'Upstairs');
    const [upstairs] = others;
    expect(await upstairs?.ok('items')).toContain('Dry gin');
    const said = await first.json<Standing>('station');
    expect(said).toMatchObject({ station: 'bar', house: name, inStep: true, waiting: 0 });
    expect(Object.keys(said)).toEqual([
      'station',
      'house',
      'server',
      'inStep',
      'waiting',
      'lastSeen',
      'skewMs',
    ]);
    await first.ok('open --by Ines');
    expect(await first.json<Standing>('station')).toMatchObject({ inStep: false, waiting: 1 });
    await upstairs?.ok('sync');
    expect(await first.ok('sync')).toContain('In step: 0 came in, 1 went out.');
    await same([first, ...others]);
    // Twice is harmless.
    expect(await first.ok('station join', first.file)).toContain('0 events came in, 0 went out');
  });

  it('a night poured apart, sealed by one: the figures stay, what came after stands beside them', async () => {
    const { first, others, minutes, stations } = await house('Bar', 'Upstairs');
    const upstairs = others[0] as (typeof others)[number];
    await first.ok('open --by Ines');
    await first.ok('sync');
    await upstairs.ok('sync');
    minutes(10);
    await first.ok('pour 3 lantern-sour');
    minutes(1);
    // Upstairs pours in the same night, and nobody hears of it before the seal.
    await upstairs.ok('pour 2 lantern-sour --by Tom');
    minutes(60);
    await first.ok('count dry-gin 2.6');
    minutes(1);
    const sealed = await first.json<Report>('close --seal');
    expect([sealed.drinks[0]?.count, sealed.cameAfter]).toEqual([3, undefined]);
    await same(stations);
    for (const one of stations) {
      const later = await one.json<Report>('report');
      const { cameAfter, ...rest } = later;
      expect(rest).toEqual(JSON.parse(JSON.stringify(sealed)));
      expect(cameAfter).toMatchObject({ drinks: 2, stations: ['upstairs'] });
      const gin = cameAfter?.items.find(({ item }) => item === 'dry-gin');
      // Two sours more of 60 ml explain as much of what was missing.
      expect([gin?.missing, gin?.missingThen]).toEqual([gin?.missing, (gin?.missing ?? 0) - 120]);
      const text = await one.ok('report');
      expect(text).toMatch(/came after the seal: 2 drinks, .*from upstairs; the figures above stay/);
      expect(text).toMatch(/as sealed, .* with what came after/);
    }
    // The stock of now has them in: counted after they were poured, it stays as counted.
    const levels = await first.json<{ item: string; expected: number }[]>('levels');
    expect(levels.find(({ item }) => item === 'dry-gin')?.expected).toBe(1820);
    expect(await first.ok('check')).toBe('');
    // What came after is a cache: damaged, it is made anew from the events.
    const db = new DatabaseSync(join(first.folder, 'books.sqlite'));
    db.exec('DELETE FROM unseen');
    db.close();
    const found = await first.run('check');
    expect([found.exit, found.out]).toEqual([
      1,
      expect.stringMatching(/What came after a seal differed .* made anew/),
    ]);
    expect(await first.ok('check')).toBe('');
    expect((await first.json<Report>('report')).cameAfter?.drinks).toBe(2);
  });

  it('a seal waits for a station at work that is not heard, unless its name is given', async () => {
    const { first, others, minutes, url, time } = await house('Bar', 'Upstairs');
    const upstairs = others[0] as (typeof others)[number];
    await first.ok('open --by Ines');
    minutes(5);
    // Upstairs was at work and then fell silent: its rooms are open, nothing of it is heard.
    await server.asAdmin((link) =>
      link.query(
        `UPDATE ullage.station SET resting = false, heard_at = clock_timestamp() - interval '3 minutes' WHERE id = 'upstairs'`,
      ),
    );
    const waits = await first.run('close --seal');
    expect([waits.exit, waits.err]).toEqual([
      75,
      expect.stringMatching(/Not in step: Upstairs \(last heard .*--without upstairs/),
    ]);
    expect((await first.json<Report>('report')).shift.status).toBe('open');
    expect(await first.ok('close --seal --without upstairs')).toContain('sealed');
    expect(upstairs.folder).not.toBe(first.folder);
    expect([url, time.now > 0]).toEqual([url, true]);
  });

  it('with the server away everything is as before: 69 from sync, and what waits is counted', async () => {
    const { first, stations } = await house('Bar', 'Upstairs');
    await first.ok('open --by Ines');
    server.stop('immediate');
    await first.ok('pour 2 lantern-sour');
    const away = await first.run('sync');
    expect([away.exit, away.err]).toEqual([69, expect.stringMatching(/is away; nothing is lost by that/)]);
    expect(await first.json<Standing>('station')).toMatchObject({ inStep: false, waiting: 2 });
    expect(await first.ok('station')).toContain('Kept here: 2.');
    await server.start();
    await same(stations);
    expect(await first.json<Standing>('station')).toMatchObject({ inStep: true, waiting: 0 });
  });

  it('books of another house are refused, and a second house is not mixed in', async () => {
    const one = await house('Bar', 'Upstairs');
    const other = await house('Bar', 'Cellar');
    const elsewhere = await one.first.run('station join', other.others[0]?.file ?? '');
    expect([elsewhere.exit, elsewhere.err]).toEqual([
      65,
      expect.stringMatching(/These books belong to station bar of Oddtide/),
    ]);
    const stranger = stationNight();
    await stranger.ok('people add Zoe');
    await one.keeper.ok(
      'server add-station',
      one.url,
      one.name,
      'Third',
      '--out',
      join(stranger.home, 'third'),
      ...one.password,
    );
    const refused = await stranger.run('station join', join(stranger.home, 'third'));
    expect([refused.exit, refused.err]).toEqual([
      65,
      expect.stringMatching(/These books are of another house/),
    ]);
    expect(await stranger.ok('people')).toContain('Zoe');
    // Nor do events come in by a file.
    const file = join(stranger.home, 'events.jsonl');
    writeFileSync(file, await stranger.ok('export events'));
    const imported = await one.first.run('import', file);
    expect([imported.exit, imported.err]).toEqual([
      65,
      expect.stringMatching(/In a house of several stations events come by the server/),
    ]);
  });

  it('a reader sees each house and any of its reports, and keeps no copy', async () => {
    const { first, others, minutes, keeper, url, password, name } = await house('Bar', 'Upstairs');
    await first.ok('open --by Ines');
    minutes(10);
    await first.ok('pour 3 lantern-sour');
    minutes(60);
    await first.ok('count dry-gin 2.6');
    await first.ok('close --seal');
    await first.ok('sync');
    type Seen = {
      house: string;
      date: string | null;
      drinks: number;
      missingCostMinor: number;
      away: string[];
    };
    const seen = await keeper.json<Seen[]>('houses', url, ...password);
    const own = await first.json<Report>('report');
    expect(seen.find(({ house: one }) => one === name)).toMatchObject({
      date: '2026-11-20',
      drinks: 3,
      missingCostMinor: own.totals.missingCostMinor,
      away: [],
    });
    const there = await keeper.json<Report>('report --house', name, '--server', url, ...password);
    expect(there).toEqual(own);
    expect(existsSync(join(keeper.folder, 'books.sqlite'))).toBe(false);
    // A reader of a group by the role the server was prepared with; it may write nothing.
    await server.asAdmin(async (link) => {
      await link.query(
        `DO $$ BEGIN IF NOT EXISTS (SELECT FROM pg_roles WHERE rolname = 'anna') THEN CREATE ROLE anna LOGIN PASSWORD 'reads' IN ROLE ullage_group; END IF; END $$`,
      );
    });
    const file = join(keeper.home, 'anna');
    writeFileSync(file, 'reads\n', { mode: 0o600 });
    const anna = url.replace('keeper@', 'anna@');
    const table = await keeper.ok('houses', anna, '--password-file', file);
    expect(table).toMatch(new RegExp(`${name} +Fri 20 Nov +3 `));
    expect((await keeper.run('server add-house', anna, 'Mine', '--password-file', file)).exit).toBe(78);
    expect(others.length).toBe(1);
    const missing = await keeper.run('report --house Nowhere --server', url, ...password);
    expect([missing.exit, missing.err]).toEqual([
      65,
      expect.stringMatching(/The server has no house "Nowhere"/),
    ]);
  });

  it('a computer that was put back whole joins anew: its own are recorded behind, nothing is lost', async () => {
    const { first, stations, minutes } = await house('Bar', 'Upstairs');
    await first.ok('open --by Ines');
    await first.ok('sync');
    const [books, kept] = [join(first.folder, 'books.sqlite'), join(first.home, 'yesterday')];
    const copyNotes = (from: string, to: string): void => {
      for (const name of readdirSync(from)) copyFileSync(join(from, name), join(to, name));
    };
    const state = join(first.home, 'state', 'ullage');
    copyFileSync(books, kept);
    rmSync(join(first.home, 'notes'), { recursive: true, force: true });
    const notes = join(first.home, 'notes');
    const { mkdirSync } = await import('node:fs');
    mkdirSync(notes);
    copyNotes(state, notes);
    minutes(5);
    await first.ok('pour 1 lantern-sour');
    await first.ok('sync');
    // Put back, and poured on.
    for (const ending of ['-wal', '-shm']) rmSync(books + ending, { force: true });
    copyFileSync(kept, books);
    copyNotes(notes, state);
    minutes(5);
    await first.ok('pour 4 lantern-sour');
    const forked = await first.run('sync');
    expect([forked.exit, forked.err]).toEqual([
      65,
      expect.stringMatching(/two different events of one number/),
    ]);
    expect(await first.ok('station rejoin')).toMatch(/1 that stood only here was recorded behind them/);
    await same(stations);
    const report = await first.json<Report>('report');
    expect(report.drinks[0]?.count).toBe(5);
    expect(await first.ok('check')).toBe('');
    expect(readdirSync(first.folder).some((name) => name.startsWith('rejoin-'))).toBe(false);
  });

  it('two changes of one card apart: the later holds, and the log says what it replaced', async () => {
    const { first, others, minutes, stations } = await house('Bar', 'Upstairs');
    const upstairs = others[0] as (typeof others)[number];
    await first.ok('spec lantern-sour --write', 'price: 13.00');
    minutes(1);
    await upstairs.ok('spec lantern-sour --write', 'price: 15.50');
    await same(stations);
    for (const one of stations) {
      expect(await one.ok('spec lantern-sour')).toContain('15.50');
      expect(await one.ok('log')).toMatch(/Wrote spec Lantern Sour, in place of what bar wrote at \d\d:\d\d/);
      expect(await one.ok('log')).toMatch(one === first ? /@upstairs Wrote spec/ : /@bar Wrote spec/);
    }
  });

  it('a folder that was moved is the same station; a copy of it is none; a file that was changed binds nothing', async () => {
    const { first, keeper, url, password, name } = await house('Bar', 'Upstairs');
    await first.ok('open --by Ines');
    const moved = join(first.home, 'moved');
    renameSync(first.folder, moved);
    const at = (folder: string) => {
      const notes = stationNotes(folder, {
        XDG_CONFIG_HOME: join(first.home, 'config'),
        XDG_STATE_HOME: join(first.home, 'state'),
      });
      return notes.joined();
    };
    expect(at(moved)).toMatchObject({ ok: true, value: { station: 'bar' } });
    // By a link, too.
    symlinkSync(moved, join(first.home, 'link'));
    expect(at(join(first.home, 'link'))).toMatchObject({ ok: true, value: { station: 'bar' } });
    const copy = join(first.home, 'copy');
    cpSync(moved, copy, { recursive: true });
    expect(at(copy)).toMatchObject({ ok: false, problems: [{ code: 'copied-books' }] });
    rmSync(join(first.home, 'config'), { recursive: true });
    expect(at(moved)).toMatchObject({ ok: false, problems: [{ code: 'lost-access' }] });

    const stranger = stationNight();
    const file = join(stranger.home, 'third');
    await keeper.ok('server add-station', url, name, 'Third', '--out', file, ...password);
    const text = readFileSync(file, 'utf8');
    // A file that stands is never written over, nor emptied by a name that is refused.
    for (const other of ['Third', 'Fourth'])
      expect(
        (await keeper.run('server add-station', url, name, other, '--out', file, ...password)).exit,
      ).toBe(73);
    expect(readFileSync(file, 'utf8')).toBe(text);
    expect(
      (await keeper.run('server add-station', url, name, 'Third', '--out', `${file}-2`, ...password)).exit,
    ).toBe(65);
    expect(existsSync(`${file}-2`)).toBe(false);
    writeFileSync(`${file}-bad`, text.replace('"station": "third"', '"station": "upstairs"'), {
      mode: 0o600,
    });
    const refused = await stranger.run('station join', `${file}-bad`);
    expect([refused.exit, refused.err]).toEqual([
      65,
      expect.stringMatching(/knows this access as station third/),
    ]);
    expect(await stranger.ok('station join', file)).toContain('This is station third');
  });

  it('one file of the till read at two stations apart is counted once, and nothing is stuck by it', async () => {
    const { first, others, minutes, stations } = await house('Bar', 'Upstairs');
    const upstairs = others[0] as (typeof others)[number];
    await first.ok('open --by Ines');
    for (const one of stations) await one.ok('sync');
    minutes(120);
    for (const one of [first, upstairs]) {
      const file = join(one.home, 'till.csv');
      writeFileSync(
        file,
        'time,drink,quantity,price\n2026-11-20 18:10,Lantern Sour,2,13.00\n2026-11-20 18:10,Lantern Sour,2,13.00\n',
      );
      expect(await one.ok('import', file)).toContain('2 lines of the till written');
      expect(await one.ok('import', file)).toContain('0 lines of the till written, 2 already as they are');
    }
    await same(stations);
    for (const one of stations)
      expect((await one.json<Report>('close')).till?.map(({ sold }) => sold)).toEqual([4]);
    expect(await upstairs.ok('import', join(upstairs.home, 'till.csv'))).toContain(
      '0 lines of the till written',
    );
  });

  it('a password stands in one file of the station and nowhere else', async () => {
    const { first, others, password } = await house('Bar', 'Upstairs');
    const text = readFileSync(first.file, 'utf8');
    const secret = (JSON.parse(text) as { access: { password: string } }).access.password;
    const told = [
      await first.run('sync'),
      await first.run('station'),
      await first.run('station --json'),
      await first.run('station join', others[0]?.file ?? ''),
      await first.run('export events'),
      await first.run('backup', join(first.home, 'copy')),
    ];
    for (const { out, err } of told) expect(out + err).not.toContain(secret);
    const filesBelow = (folder: string): string[] =>
      readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
        entry.isDirectory() ? filesBelow(join(folder, entry.name)) : [join(folder, entry.name)],
      );
    const holding = [...filesBelow(first.home), ...filesBelow(first.folder)].filter((file) =>
      readFileSync(file).includes(secret),
    );
    expect(holding).toHaveLength(1);
    expect(holding[0]).toMatch(/config\/ullage\/station-[0-9a-f]{12}\.json$/);
    chmodSync(holding[0] ?? '', 0o644);
    expect((await first.run('sync')).err).toMatch(/Others can read .*station-/);
    expect(password.length).toBe(2);
  });

  it('words that name no server are refused in one sentence', async () => {
    const keeper = admin();
    const [url = '', ...password] = onServer(server);
    const cases: readonly (readonly [string[], number, RegExp])[] = [
      [['server'], 64, /Say what of the server/],
      [['server', 'prepare'], 64, /Write it as ullage server prepare URL/],
      [['server', 'prepare', 'http://x'], 64, /no address of a server/],
      [['server', 'prepare', url.replace('keeper@', 'keeper:word@')], 64, /A password in an address/],
      [['server', 'prepare', url], 78, /No password is known/],
      [
        ['server', 'add-station', url, 'Nowhere', 'Bar', '--out', join(keeper.home, 'x'), ...password],
        65,
        /has no house "Nowhere"/,
      ],
      [['server', 'add-station', url, 'Nowhere', 'Bar', ...password], 64, /--out/],
      [['sync'], 78, /belong to no house/],
      [['station'], 78, /belong to no house/],
      [['station', 'join'], 64, /Name the file/],
      [['station', 'join', join(keeper.home, 'none')], 66, /no file/],
      [['report', '--house', 'x'], 64, /both --house NAME and --server URL/],
    ];
    for (const [words, exit, text] of cases) {
      const { run } = keeper;
      const outcome = await run(words[0] ?? '', ...words.slice(1));
      expect([words.join(' '), outcome.exit, outcome.err]).toEqual([
        words.join(' '),
        exit,
        expect.stringMatching(text),
      ]);
      expect(outcome.err.trim().split('\n')).toHaveLength(1);
    }
  });
});
