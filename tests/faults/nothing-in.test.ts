// Nothing that comes in can shut the books, and nothing that only follows from the events can: what is no event is refused with
// its line, or set aside where it stands already; what was summed up is made anew.
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { newEventId } from '../../src/shell/world.ts';
import { BOOKS_FILE } from '../../src/store/file/open/names.ts';
import { type Night, openNight, sealed, stocked } from '../support/night.ts';
import { plant } from '../support/plant.ts';

type Json = Readonly<Record<string, unknown>>;

const fileOf = (night: Night): string => join(night.folder, BOOKS_FILE);

/** Works past every rule on the file itself. */
function spoil(night: Night, work: (db: DatabaseSync) => void): void {
  const db = new DatabaseSync(fileOf(night), { defensive: false });
  try {
    work(db);
    db.exec('PRAGMA wal_checkpoint(TRUNCATE)');
  } finally {
    db.close();
  }
}

const eventsOf = (night: Night): Json[] => night.store((store) => [...store.allEvents()]) as Json[];
const lastOf = (night: Night, kind: string): Json =>
  eventsOf(night).findLast((event) => event.kind === kind) as Json;

/** A further event of the same kind as the last one, changed. */
function more(night: Night, kind: string, change: Json, ahead = 1): Json {
  const events = eventsOf(night);
  return {
    ...lastOf(night, kind),
    id: newEventId(),
    seq: Math.max(...events.map(({ seq }) => Number(seq))) + ahead,
    ...change,
  };
}

/** What no books could live with: kind, what is changed, and what the refusal speaks of. */
const impossible: readonly (readonly [kind: string, change: Json, word: string])[] = [
  ['drink-poured', { at: '2026-11-20T25:00:00.000Z' }, 'instant'],
  ['drink-poured', { at: '9999-99-99T00:00:00.000Z' }, 'instant'],
  ['drink-poured', { at: '0026-11-20T20:00:00.000Z' }, 'instant'],
  ['shift-opened', { date: '2026-99-99', at: '2026-11-20T19:05:00.000Z' }, 'date'],
  ['shift-opened', { date: '2026-02-30', at: '2026-11-20T19:05:00.000Z' }, 'date'],
  ['drink-poured', { draws: Array.from({ length: 5000 }, () => ({})) }, 'longer than 100'],
  ['drink-poured', { name: 'Lamp\u001b]0;x\u0007' }, 'control character U+001B'],
  [
    'drink-poured',
    { spec: 'nobody-wrote-it', at: '2026-11-20T19:05:00.000Z', shift: null },
    'nobody-wrote-it',
  ],
  ['drink-poured', { by: 'nobody', at: '2026-11-20T19:05:00.000Z', shift: null }, '"nobody"'],
];

describe('a received file', () => {
  it.each(impossible)(
    '%s with %j is refused whole, with its line, and leaves no trace',
    async (kind, change, word) => {
      const night = await sealed();
      const file = join(night.folder, 'theirs.jsonl');
      const bad = more(night, kind, change);
      writeFileSync(file, `${JSON.stringify(eventsOf(night)[0])}\n\n${JSON.stringify(bad)}\n`);
      const before = eventsOf(night);
      const outcome = await night.run('import', file);
      expect([outcome.exit, outcome.out]).toEqual([65, '']);
      expect(outcome.err).toContain('line 3');
      expect(outcome.err).toContain(word);
      expect(eventsOf(night)).toEqual(before);
      expect(await night.ok('check')).toBe('');
    },
  );

  it('with a key twice is refused: of two values one would go unseen', async () => {
    const night = await sealed();
    const file = join(night.folder, 'twice.jsonl');
    writeFileSync(file, `${JSON.stringify(more(night, 'stock-lost', {})).replace('{', '{"kind":"x",')}\n`);
    expect((await night.run('import', file)).err).toContain('gives kind twice');
  });

  it('that opens a second shift over an open one is refused', async () => {
    const night = await sealed();
    await night.ok('open');
    const file = join(night.folder, 'second.jsonl');
    night.later(5);
    const at = new Date(night.world.now()).toISOString();
    writeFileSync(file, `${JSON.stringify(more(night, 'shift-opened', { at, date: '2026-11-21' }))}\n`);
    expect(await night.run('import', file)).toMatchObject({
      exit: 65,
      err: expect.stringContaining('line 1'),
    });
    await night.ok('close --seal');
  });

  it('that opens a shift before the one that is open is refused, too', async () => {
    const night = await sealed();
    night.later(30);
    await night.ok('open');
    const file = join(night.folder, 'before.jsonl');
    const at = new Date(night.world.now() - 60_000).toISOString();
    writeFileSync(file, `${JSON.stringify(more(night, 'shift-opened', { at, date: '2026-11-19' }))}\n`);
    expect(await night.run('import', file)).toMatchObject({
      exit: 65,
      err: expect.stringContaining('line 1'),
    });
    expect(await night.ok('check')).toBe('');
  });

  it('in any order of its lines is the same books, and may be cut in two', async () => {
    const night = await sealed();
    const lines = eventsOf(night).map((event) => `${JSON.stringify(event)}\n`);
    const again = openNight('2026-11-21T12:00:00.000Z');
    const file = join(again.folder, 'backwards.jsonl');
    writeFileSync(file, [...lines].reverse().join(''));
    expect(await again.ok('import', file)).toContain(`${lines.length} events written`);
    expect(await again.ok('report --json')).toBe(await night.ok('report --json'));
    const other = openNight('2026-11-21T12:00:00.000Z');
    for (const part of [lines.slice(0, 9), lines.slice(9)]) {
      writeFileSync(join(other.folder, 'part.jsonl'), part.join(''));
      await other.ok('import', join(other.folder, 'part.jsonl'));
    }
    expect(await other.ok('report --json')).toBe(await night.ok('report --json'));
  });
});

it('a setting in older books that nobody could set today keeps no take-back out', async () => {
  const night = await stocked();
  night.later(1);
  await night.ok('pour 2 rye-lamp');
  const poured = lastOf(night, 'drink-poured');
  const { id, at, station, seq } = more(night, 'drink-poured', {});
  const old = { id, at, station, seq, shift: null, by: null, kind: 'house-set', key: 'nosuch', value: 'x' };
  plant(night.folder, [old as never]);
  night.later(1);
  const line = { id: newEventId(), at: new Date(night.world.now()).toISOString(), station: 'other', seq: 1 };
  const file = join(night.folder, 'back.jsonl');
  const whole = { ...line, shift: null, by: null, kind: 'event-taken-back', target: poured.id };
  writeFileSync(file, `${JSON.stringify(whole)}\n`);
  expect((await night.run('import', file)).err).toBe('');
});

describe('a file that says what no hand could write', () => {
  const writes = async (
    kind: string,
    change: (event: Json) => Json,
  ): Promise<[number, string, string, string]> => {
    const night = await sealed();
    const before = await night.ok('export events');
    const event = change(lastOf(night, kind));
    const line = {
      ...event,
      id: newEventId(),
      at: new Date(night.world.now()).toISOString(),
      station: 'other',
      seq: 1,
      shift: null,
    };
    const file = join(night.folder, 'more.jsonl');
    writeFileSync(file, `${JSON.stringify(line)}\n`);
    const { exit, err } = await night.run('import', file);
    return [
      exit,
      err,
      await night.ok('check'),
      (await night.ok('export events')) === before ? 'as it was' : 'changed',
    ];
  };
  const measured = (change: Json) => (event: Json) => {
    const spec = event.spec as { measures: Json[] };
    return { ...event, spec: { ...spec, measures: [{ ...spec.measures[0], ...change }] } };
  };
  it.each([
    ['quantity 0', measured({ quantity: '0' })],
    ['quantity -5', measured({ quantity: '-5' })],
    ['quantity 1/0', measured({ quantity: '1/0' })],
    ['quantity 1e999', measured({ quantity: '1e999' })],
    ['quantity in other digits', measured({ quantity: '١' })],
    ['unit constructor', measured({ unit: 'constructor' })],
  ])('a card of %s is refused with its line', async (_, change) => {
    expect(await writes('spec-written', change)).toEqual([
      65,
      expect.stringMatching(/line 1: /),
      '',
      'as it was',
    ]);
  });
  it('a unit that its cards do not go with is refused with its line', async () => {
    const change = (event: Json): Json => ({
      ...event,
      item: { ...(event.item as Json), unit: 'each', strength: 0 },
    });
    expect(await writes('item-written', change)).toEqual([
      65,
      expect.stringMatching(/line 1: /),
      '',
      'as it was',
    ]);
  });
  it.each([
    ['nosuch', 'x'],
    ['zone', 'Mars/Phobos'],
    ['cut-off-hour', '99'],
    ['pour-deviation', '-1'],
  ])('the setting %s = %s is refused with its line', async (key, value) => {
    const change = ({ id, at, station, seq, shift, by, kind }: Json): Json => ({
      id,
      at,
      station,
      seq,
      shift,
      by,
      kind,
      key,
      value,
    });
    const night = await sealed();
    await night.ok('house name Low');
    expect(lastOf(night, 'house-set')).toBeDefined();
    const line = { ...change(lastOf(night, 'house-set')), id: newEventId(), station: 'other', seq: 1 };
    const file = join(night.folder, 'more.jsonl');
    writeFileSync(file, `${JSON.stringify(line)}\n`);
    const { exit, err } = await night.run('import', file);
    expect([exit, err]).toEqual([65, expect.stringMatching(/line 1: /)]);
  });
});

describe('a file that takes back what stands in these books', () => {
  const takesBack = (night: Night, target: unknown): Promise<{ exit: number; err: string }> => {
    const line = {
      id: newEventId(),
      at: new Date(night.world.now()).toISOString(),
      station: 'other',
      seq: 1,
    };
    const file = join(night.folder, 'back.jsonl');
    const whole = { ...line, shift: null, by: null, kind: 'event-taken-back', target };
    writeFileSync(file, `${JSON.stringify(whole)}\n`);
    return night.run('import', file);
  };

  it.each(['drink-poured', 'stock-counted', 'shift-opened', 'shift-sealed'])(
    'is refused for a %s of a sealed night, as by hand',
    async (kind) => {
      const night = await sealed();
      const before = [await night.ok('report'), await night.ok('export events')];
      const refused = await takesBack(night, lastOf(night, kind).id);
      expect([refused.exit, refused.err]).toEqual([
        65,
        expect.stringMatching(/line 1: .*what is sealed stays/),
      ]);
      expect([await night.ok('report'), await night.ok('export events'), await night.ok('check')]).toEqual([
        ...before,
        '',
      ]);
    },
  );

  it.each(['shift-opened', 'item-written', 'spec-written'])(
    'is refused for a %s that the open night hangs on',
    async (kind) => {
      const night = await stocked();
      night.later(1);
      await night.ok('pour 2 rye-lamp');
      night.later(1);
      const poured = lastOf(night, 'drink-poured');
      const of = kind === 'spec-written' ? poured.spec : (poured.draws as { item: string }[])[0]?.item;
      const target = eventsOf(night).findLast(
        (event) =>
          event.kind === kind &&
          (kind === 'shift-opened' || (event.spec as Json)?.id === of || (event.item as Json)?.id === of),
      );
      const before = await night.ok('export events');
      const refused = await takesBack(night, target?.id);
      expect([refused.exit, refused.err]).toEqual([
        65,
        expect.stringMatching(/line 1: A take-back takes away what/),
      ]);
      expect(await night.ok('export events')).toBe(before);
      expect(await night.ok('check')).toBe('');
      // A pour of that night may be taken back by a file as by hand.
      expect((await takesBack(night, poured.id)).exit).toBe(0);
      expect(await night.ok('check')).toBe('');
    },
  );
});

describe('a line that stands in the books already and is no event', () => {
  it.each(impossible.filter(([, , word]) => /instant|date|longer/.test(word)))(
    '%s with %j: the books open, leave it out, and check names it',
    async (kind, change) => {
      const night = await sealed();
      const report = await night.ok('report --json');
      const bad = more(night, kind, change);
      plant(night.folder, [{ ...bad, at: String(bad.at) } as never]);
      for (const line of ['report --json', 'levels', 'log', 'costs', 'drift', 'export events', 'items'])
        expect([line, (await night.run(line)).exit]).toEqual([line, 0]);
      const { out, err } = await night.run('report --json');
      expect(out).toBe(report);
      expect(err).toContain("1 line of the books can't be read");
      const checked = await night.run('check');
      expect(checked.exit).toBe(1);
      expect(checked.out).toMatch(/^events: Line \d+ \(event \d+ of station test\) can't be read/m);
      await night.ok('backup', join(night.folder, 'copy.sqlite'));
      await night.ok('open');
      await night.ok('pour 1 rye-lamp');
      await night.ok('close --seal');
    },
  );

  it('is still known of when a checkpoint was made after it', async () => {
    const night = await sealed();
    plant(night.folder, [more(night, 'drink-poured', { at: '2026-11-20T25:00:00.000Z' }) as never]);
    await night.ok('open');
    await night.ok('close --seal');
    expect((await night.run('levels')).err).toContain("1 line of the books can't be read");
  });
});

describe('what only follows from the events', () => {
  const spoiled: readonly (readonly [string, (db: DatabaseSync) => void])[] = [
    ['a checkpoint of another text', (db) => db.exec("UPDATE checkpoint SET body = '{}'")],
    ['a checkpoint that is no JSON', (db) => db.exec("UPDATE checkpoint SET body = body || 'x'")],
    [
      'a checkpoint with one digit changed',
      (db) => db.exec(`UPDATE checkpoint SET body = replace(body, '\\"amount\\":', '\\"amount\\":1')`),
    ],
    ['no checkpoints', (db) => db.exec('DELETE FROM checkpoint')],
    ['no table of them', (db) => db.exec('DROP TABLE checkpoint')],
    ['no table of what was taken back', (db) => db.exec('DROP TABLE taken_back')],
    ['no index of shifts', (db) => db.exec('DROP INDEX event_shift')],
    ['no trigger', (db) => db.exec('DROP TRIGGER event_no_delete')],
    [
      'a planted trigger',
      (db) =>
        db.exec(
          `CREATE TRIGGER planted AFTER INSERT ON event BEGIN INSERT OR IGNORE INTO taken_back VALUES (new.id); END`,
        ),
    ],
    ['a planted view', (db) => db.exec('CREATE VIEW planted AS SELECT * FROM event')],
  ];

  it.each(spoiled)('%s: made anew, and the report is the same', async (_, work) => {
    const night = await sealed();
    await night.ok('open');
    await night.ok('pour 2 lantern-sour');
    await night.ok('undo');
    const [report, levels] = [await night.ok('report 2026-11-20 --json'), await night.ok('levels --json')];
    spoil(night, work);
    expect(await night.ok('report 2026-11-20 --json')).toBe(report);
    expect(await night.ok('levels --json')).toBe(levels);
    await night.ok('pour 1 rye-lamp');
    expect(await night.ok('check')).toBe('');
    expect(await night.ok('drift')).not.toBe('');
    spoil(night, (db) => {
      const names = db.prepare("SELECT name FROM sqlite_schema WHERE name = 'planted'").all();
      expect(names).toEqual([]);
      expect(() => db.exec('DELETE FROM event')).toThrow('never deleted');
    });
  });

  it('a checkpoint of other books is not believed', async () => {
    const [night, other] = [await sealed(), await sealed()];
    const report = await night.ok('report --json');
    let rows: Json[] = [];
    spoil(other, (db) => {
      rows = db.prepare('SELECT * FROM checkpoint').all() as Json[];
    });
    spoil(night, (db) => {
      for (const { body } of rows) db.prepare('UPDATE checkpoint SET body = ?').run(String(body));
    });
    expect(await night.ok('report --json')).toBe(report);
  });

  it('marks of what was taken back that differ are found by check and put right', async () => {
    const night = await sealed();
    const levels = await night.ok('levels --json');
    const id = String(lastOf(night, 'stock-counted').id);
    spoil(night, (db) => db.prepare('INSERT INTO taken_back VALUES (?)').run(id));
    const first = await night.run('check replay');
    expect([first.exit, first.out]).toEqual([1, expect.stringContaining('made anew from the events')]);
    expect(await night.ok('check')).toBe('');
    expect(await night.ok('levels --json')).toBe(levels);
  });
});

describe('the mark of the books', () => {
  const markIn = (text: string): string => /^Mark of the books: (\S+)$/m.exec(text)?.[1] ?? '';

  it('is printed by a seal and by a backup, and holds while the books go on', async () => {
    const night = await sealed();
    const backup = markIn(await night.ok('backup', join(night.folder, 'copy.sqlite')));
    expect(backup).toMatch(/^test:\d+:[0-9a-f]{16}$/);
    await night.ok('open');
    const seal = markIn(await night.ok('close --seal'));
    expect(seal).not.toBe(backup);
    for (const mark of [backup, seal]) expect(await night.ok('check --mark', mark)).toBe('');
    expect((await night.run('check --mark', 'x')).exit).toBe(64);
    expect(await night.ok('check --mark', ` ${seal.toUpperCase()} `)).toBe('');
    expect((await night.run('check --mark', seal.replace('test', 'other'))).out).toContain(
      'the mark of others',
    );
  });

  it('shows a cut tail and a chain that was computed anew, which check alone cannot see', async () => {
    const night = await sealed();
    await night.ok('open');
    const mark = markIn(await night.ok('close --seal'));
    const kept = readFileSync(fileOf(night));
    const cut = (db: DatabaseSync): void => {
      db.exec('DROP TRIGGER event_no_delete');
      db.exec('DELETE FROM event WHERE number = (SELECT max(number) FROM event)');
      db.exec('DELETE FROM checkpoint');
    };
    spoil(night, cut);
    expect(await night.ok('check')).toBe('');
    expect(await night.run('check --mark', mark)).toMatchObject({
      exit: 1,
      out: expect.stringContaining('was cut off'),
    });
    writeFileSync(fileOf(night), kept);
    const events = eventsOf(night).sort((a, b) => Number(a.seq) - Number(b.seq));
    spoil(night, (db) => {
      db.exec('DROP TRIGGER event_no_delete');
      db.exec('DELETE FROM event');
      db.exec('DELETE FROM checkpoint');
    });
    plant(
      night.folder,
      events.map((event) => (event.kind === 'stock-lost' ? { ...event, amount: 50_000 } : event)) as never,
    );
    expect(await night.ok('check')).toBe('');
    expect(await night.run('check --mark', mark)).toMatchObject({
      exit: 1,
      out: expect.stringContaining('is not the one of the mark'),
    });
  });
});

describe('whatever a line says', () => {
  const odd = fc.constantFrom<unknown>(
    null,
    0,
    -1,
    1,
    0.5,
    1e9,
    1_000_000_000,
    2 ** 53,
    1e308,
    '',
    ' ',
    'x'.repeat(80),
    'x'.repeat(5000),
    '1970-01-01T00:00:00.000Z',
    '2026-11-20T19:05:00.000Z',
    '2026-11-19',
    '9998-12-31',
    '1/3',
    '½',
    '1e5',
    'constructor',
    'dry-gin',
    [],
    {},
    true,
  );
  const where = fc.record({
    event: fc.nat(1000),
    path: fc.array(fc.nat(20), { minLength: 1, maxLength: 4 }),
  });

  /** The same record with something odd somewhere in it. */
  function changed(value: unknown, [turn, ...rest]: readonly number[], by: unknown): unknown {
    if (turn === undefined || value === null || typeof value !== 'object') return by;
    const names = Object.keys(value);
    const name = names[turn % Math.max(1, names.length)];
    if (name === undefined) return by;
    const inner = changed((value as Json)[name], rest, by);
    return Array.isArray(value)
      ? value.map((one, at) => (String(at) === name ? inner : one))
      : { ...value, [name]: inner };
  }

  it('it is refused with its line, or everything works with it', { timeout: 600_000 }, async () => {
    const night = await sealed();
    await night.ok('open');
    await night.ok('pour 1 rye-lamp');
    const at = new Date(night.world.now()).toISOString();
    const shift = lastOf(night, 'shift-opened').id;
    // As if recorded now, in the shift that is open.
    const events = eventsOf(night).map((event) => ({
      ...event,
      at,
      shift: event.shift === null ? null : shift,
    }));
    const kept = join(night.folder, 'kept.sqlite');
    await night.ok('backup', kept);
    const file = join(night.folder, 'odd.jsonl');
    let accepted = 0;
    await fc.assert(
      fc.asyncProperty(where, odd, async ({ event, path }, by) => {
        const one = changed(events[event % events.length], path, by) as Json;
        writeFileSync(file, `${JSON.stringify({ ...one, id: newEventId(), seq: events.length + 1 })}\n`);
        const outcome = await night.run('import', file);
        if (outcome.exit !== 0) {
          expect([outcome.exit, outcome.err]).toEqual([65, expect.stringMatching(/line 1: .*\.\n$/)]);
          return;
        }
        accepted += 1;
        for (const line of [
          'report --json',
          'close',
          'levels',
          'log',
          'costs',
          'drift',
          'export items',
          'out',
          'ready',
        ])
          expect([line, (await night.run(line)).exit]).toEqual([line, 0]);
        expect((await night.run('check')).out.replace(/^(catalogue|conservation): .*\n/gm, '')).toBe('');
        await night.ok('restore', kept);
      }),
      { numRuns: Number(process.env.ULLAGE_RUNS ?? 200) },
    );
    expect(accepted).toBeGreaterThan(5);
  });
});

it('two shifts open at once, as older books may have them: reports and seals go on, and check says how to mend it', async () => {
  const night = await sealed();
  await night.ok('open');
  await night.ok('pour 1 rye-lamp');
  night.later(5);
  const at = new Date(night.world.now()).toISOString();
  plant(night.folder, [more(night, 'shift-opened', { at, date: '2026-11-21' }) as never]);
  await night.ok('report');
  await night.ok('pour 1 rye-lamp');
  expect((await night.run('check shifts')).out).toMatch(/opens while that of .* is open/);
  await night.ok('close --seal');
  await night.ok('open');
  await night.ok('close --seal');
});

it('a number that no program can count on is damage, in the books and in a copy', async () => {
  const night = await sealed();
  const copy = join(night.folder, 'copy.sqlite');
  await night.ok('backup', copy);
  spoil(night, (db) =>
    db.exec(
      'DROP TRIGGER event_no_update; UPDATE event SET number = 9007199254740993 WHERE number = (SELECT max(number) FROM event)',
    ),
  );
  for (const line of ['check', 'levels', 'pour 1 rye-lamp', 'export events']) {
    const outcome = await night.run(line);
    expect([line, outcome.exit, outcome.err]).toEqual([
      line,
      65,
      expect.stringMatching(/is damaged or no file of ullage/),
    ]);
  }
  const other = openNight();
  const refused = await other.run('restore', fileOf(night));
  expect([refused.exit, refused.err]).toEqual([65, expect.stringMatching(/not a sound copy/)]);
  await night.ok('restore', copy);
  expect(await night.ok('check')).toBe('');
});

it('check writes nothing over damaged bytes, and a lowered version makes no copies', async () => {
  const night = await sealed();
  spoil(night, () => undefined);
  const bytes = readFileSync(fileOf(night));
  bytes.fill(0, bytes.length - 4096 * 3, bytes.length - 4096 * 2);
  writeFileSync(fileOf(night), bytes);

  const first = await night.run('check');
  const again = await night.run('check');
  if (first.exit === 1) expect(again.out).toBe(first.out);

  const other = await sealed();
  spoil(other, (db) => db.exec('PRAGMA user_version = 2'));
  for (const line of ['check', 'levels', 'report']) expect((await other.run(line)).exit).toBe(65);
  expect(readdirSync(other.folder).filter((name) => name.endsWith('.bak'))).toEqual([]);
});
