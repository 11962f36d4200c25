// Two wells and a third station by commands on one house, as they are used: pours of each seen at the other, the server away in the
// middle of a night and back, a night sealed with one away. And without a house nothing of all that is loaded.
import { readdirSync, readFileSync, readlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Report } from '../../src/domain/report/report.ts';
import { furnished } from '../support/night.ts';
import { keys, type Pty, processesWith, startProgram } from '../support/pty.ts';
import { startServer, type TestServer, withServer } from '../support/server.ts';
import { onServer, stationNight } from '../support/station.ts';

type Station = ReturnType<typeof stationNight>;

withServer('two wells on one house', () => {
  let server: TestServer;
  beforeAll(async () => {
    server = await startServer();
  });
  afterAll(() => server.end());

  const rooms = (one: Station): Pty =>
    startProgram(['--data', one.folder], {
      columns: 100,
      env: { XDG_CONFIG_HOME: join(one.home, 'config'), XDG_STATE_HOME: join(one.home, 'state') },
    });
  const leave = async (one: Pty): Promise<void> => {
    one.type(keys.ctrl('c') + keys.ctrl('c'));
    const { exitCode } = await one.exit;
    expect([exitCode, exitCode === 0 ? '' : one.screen().join('\n')]).toEqual([0, '']);
  };

  it('are one house: seen at once, apart for a while, sealed with one away, and the same in the end', async () => {
    const time = { now: Date.now() };
    const [bar, upstairs, office] = ['Bar', 'Upstairs', 'Office'].map(() =>
      stationNight(undefined, time),
    ) as [Station, Station, Station];
    const [url = '', ...password] = onServer(server);
    await office.ok('server prepare', url, ...password);
    await office.ok('server add-house', url, 'Oddtide', ...password);
    const furniture = await furnished(new Date(time.now - 600_000).toISOString());
    const events = join(bar.home, 'events.jsonl');
    writeFileSync(events, await furniture.ok('export events'));
    await bar.ok('import', events);
    for (const [one, name] of [
      [bar, 'Bar'],
      [upstairs, 'Upstairs'],
      [office, 'Office'],
    ] as const) {
      await office.ok(
        'server add-station',
        url,
        'Oddtide',
        name,
        '--out',
        join(one.home, 'file'),
        ...password,
      );
      await one.ok('station join', join(one.home, 'file'));
    }

    const first = rooms(bar);
    const second = rooms(upstairs);
    await first.sees('no shift open');
    await second.sees('no shift open');
    first.type(keys.ctrl('o'));
    await first.sees('Who is pouring?');
    first.type('\r');
    await first.sees('Ines pouring');
    // The other well is in the same night a moment later, with nobody's hand yet.
    await second.until(
      'the night that was opened elsewhere',
      (rows) => !rows.some((row) => row.includes('no shift open')),
    );
    expect(second.screen()[0]).not.toContain('Ines pouring');
    first.type('lantern\r');
    await first.sees('Poured 1 Lantern Sour');
    await second.sees('@bar Lantern Sour');
    second.type('rye lamp\r');
    await second.sees('Poured 1 Rye Lamp');
    await first.sees('@upstairs Rye Lamp');
    // What the other well poured last is not what this hand pours again, nor takes back.
    first.type(keys.ctrl('r'));
    await first.sees('Poured 1 Lantern Sour');
    await second.until('the second sour', (rows) =>
      rows.some(
        (row) =>
          /@bar Lantern Sour.*@bar Lantern Sour/.test(row) || /@bar Lantern Sour.*Rye Lamp.*@bar/.test(row),
      ),
    );

    server.stop('immediate');
    await first.sees('kept here: 0');
    await second.sees('kept here: 0');
    for (let taps = 1; taps <= 3; taps += 1) {
      first.type('lantern\r');
      await first.sees(`kept here: ${taps}`);
    }
    second.type('rye lamp\r');
    await second.sees('kept here: 1');
    await server.start();
    await first.until('in step again', (rows) => !rows.some((row) => row.includes('kept here')));
    await second.until('in step again', (rows) => !rows.some((row) => row.includes('kept here')));
    // What comes in while one leaves is nobody's fault.
    for (let pours = 0; pours < 4; pours += 1) first.type('lantern\rrye lamp\r');
    await leave(second);
    await leave(first);

    time.now = Date.now();
    await office.ok('sync');
    expect(await office.ok('levels')).toContain('Dry gin');
    const report = await office.json<Report>('close');
    expect(report.drinks.map(({ name, count }) => `${count} ${name}`).sort()).toEqual([
      '6 Rye Lamp',
      '9 Lantern Sour',
    ]);
    // Office seals with upstairs away: it pours meanwhile, and says so later.
    const sealed = await office.json<Report>('close --seal');
    time.now += 1000;
    for (const one of [bar, upstairs, office, bar, upstairs, office]) await one.ok('sync');
    for (const one of [bar, upstairs])
      expect({ ...(await one.json<Report>('report')), cameAfter: undefined }).toEqual({
        ...sealed,
        cameAfter: undefined,
      });
    const [a, b, c] = await Promise.all([bar, upstairs, office].map((one) => one.ok('export events')));
    expect(b?.split('\n').sort()).toEqual(a?.split('\n').sort());
    expect(c?.split('\n').sort()).toEqual(a?.split('\n').sort());
    const there = await server.asAdmin((link) => link.query('SELECT body FROM ullage.event'));
    expect(there.length).toBe(a?.trim().split('\n').length);
  }, 90_000);

  it('rooms that are open take a house that is joined anew meanwhile: nothing of the night waits, and the old server hears no more', async () => {
    const time = { now: Date.now() };
    const bar = stationNight(undefined, time);
    const furniture = await furnished(new Date(time.now - 600_000).toISOString());
    const events = join(bar.home, 'events.jsonl');
    writeFileSync(events, await furniture.ok('export events'));
    await bar.ok('import', events);
    const fileOf = async (at: TestServer, name: string): Promise<string> => {
      const [url = '', ...password] = onServer(at);
      await furniture.ok('server prepare', url, ...password);
      await furniture.ok('server add-house', url, 'Low House', ...password);
      const file = join(bar.home, name);
      await furniture.ok('server add-station', url, 'Low House', 'Bar', '--out', file, ...password);
      return file;
    };
    await bar.ok('station join', await fileOf(server, 'first'));
    await bar.ok('open --by Ines');
    const at = rooms(bar);
    await at.sees('Ines pouring');
    at.type('lantern\r');
    await at.sees('Poured 1 Lantern Sour');
    server.stop('immediate');
    at.type('rye lamp\r');
    await at.sees('kept here: ');
    const next = await startServer();
    try {
      time.now = Date.now();
      await bar.ok('station join', await fileOf(next, 'second'), '--instead');
      await at.until(
        'in step with the new one',
        (lines) => !lines.some((line) => line.includes('kept here')),
      );
      at.type('lantern\r');
      await at.sees('Poured 1 Lantern Sour');
      await leave(at);
      const poured = await next.asAdmin((link) =>
        link.query(`SELECT id FROM ullage.event WHERE kind = 'drink-poured'`),
      );
      expect(poured).toHaveLength(3);
      expect((await bar.json<{ waiting: number }>('station')).waiting).toBe(0);
    } finally {
      next.end();
      await server.start();
    }
  }, 90_000);
});

const build = new URL('../../.build/', import.meta.url).pathname;

/** All that is loaded with a file of the program, without what it asks for later. */
function loadedWith(file: string, seen = new Set<string>()): Set<string> {
  if (seen.has(file)) return seen;
  seen.add(file);
  for (const [, next = ''] of readFileSync(join(build, file), 'utf8').matchAll(
    /from"?\s*"\.\/([^"]+)"|^import"\.\/([^"]+)"|import\s+"\.\/([^"]+)"/gm,
  ))
    if (next !== '') loadedWith(next, seen);
  return seen;
}

it('without a house nothing of a client is loaded, no thread runs and no socket is open', async () => {
  const client = /client_encoding|scram-sha-256/i;
  const files = readdirSync(build).filter((file) => file.endsWith('.mjs'));
  const holding = files.filter((file) => client.test(readFileSync(join(build, file), 'utf8')));
  expect(holding.length).toBeGreaterThan(0);
  const rooms = files.find((file) => /^terminal-/.test(file));
  expect(rooms).toBeDefined();
  for (const entry of ['main.mjs', rooms ?? '']) {
    const loaded = loadedWith(entry);
    expect(loaded.size).toBeGreaterThan(3);
    expect(holding.filter((file) => loaded.has(file))).toEqual([]);
  }
  const night = await furnished(new Date(Date.now() - 600_000).toISOString());
  const at = startProgram(['--data', night.folder], {
    env: { XDG_CONFIG_HOME: night.folder, XDG_STATE_HOME: night.folder },
  });
  await at.sees('no shift open');
  const pid = processesWith(night.folder).at(-1);
  const open = readdirSync(`/proc/${pid}/fd`).map((fd) => {
    try {
      return readlinkSync(`/proc/${pid}/fd/${fd}`);
    } catch {
      return '';
    }
  });
  expect(open.some((target) => target.includes('books.sqlite'))).toBe(true);
  expect(open.filter((target) => target.startsWith('socket:'))).toEqual([]);
  at.type(keys.ctrl('c') + keys.ctrl('c'));
  await at.exit;
});
