// Rules that once bent, each by the commands that showed it: what a correction belongs to, what a till's names mean later, what
// a piece is counted to, names of every make, bounds of every list, and moments of every command.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { counted, furnished, type Night, openNight } from '../support/night.ts';

const file = (night: Night, name: string, text: string): string => {
  const path = join(night.folder, name);
  writeFileSync(path, text);
  return path;
};
type Row = {
  item: string;
  missing: number | null;
  uncertainty: number | null;
  verdict: string;
  corrected: { missing: number } | null;
  unlogged: number | null;
};
const rowOf = async (night: Night, item: string, ...words: string[]): Promise<Row | undefined> =>
  (await night.json<{ items: Row[] }>('report', ...words)).items.find((row) => row.item === item);

describe('a correction', () => {
  it("of Friday's closing count is none of Saturday's, when Saturday began from a count of its own", async () => {
    const night = await furnished('2026-11-20T12:00:00.000Z');
    for (const [at, line] of [
      ['2026-11-20T16:00:00Z', 'count dry-gin 2.9'],
      ['2026-11-20T17:00:00Z', 'open'],
      ['2026-11-21T01:00:00Z', 'count dry-gin 2.7'],
      ['2026-11-21T02:00:00Z', 'close --seal'],
      ['2026-11-21T15:00:00Z', 'count dry-gin 2.7'],
      ['2026-11-21T17:00:00Z', 'open'],
      ['2026-11-22T01:00:00Z', 'count dry-gin 2.5'],
      ['2026-11-22T02:00:00Z', 'close --seal'],
    ] as const) {
      night.at(new Date(at).toISOString());
      await night.ok(line);
    }
    await night.ok('correct 50ml dry-gin --what counted --shift 2026-11-20 --why', 'misread');
    expect((await rowOf(night, 'dry-gin', '2026-11-21'))?.corrected).toBeNull();
    expect((await rowOf(night, 'dry-gin', '2026-11-20'))?.corrected).not.toBeNull();
  });
});

describe('the till', () => {
  it('explains a sealed night by the cards of that night, whatever is written later', async () => {
    const night = await furnished('2026-11-20T12:00:00.000Z');
    await night.ok('count rye 1.9');
    night.at('2026-11-20T17:00:00.000Z');
    await night.ok('open');
    night.at('2026-11-20T22:00:00.000Z');
    await night.ok('count rye 1.0');
    await night.ok('close --seal');
    await night.ok('import', file(night, 't.csv', 'time,drink,quantity\n2026-11-20 21:00,Rye Lamp,5\n'));
    const before = await rowOf(night, 'rye', '2026-11-20');
    expect(before?.unlogged).toBe(300);
    night.at('2026-11-25T12:00:00.000Z');
    await night.ok('import', file(night, 's.txt', '# Rye Lamp\nfamily: sour\n30 ml rye\n'));
    expect(await rowOf(night, 'rye', '2026-11-20')).toEqual(before);
  });

  it('tells two names made of signs alone apart', async () => {
    const night = await furnished();
    night.later(60);
    await night.ok(
      'import',
      file(night, 't.csv', 'time,drink,quantity\n2026-11-20 17:10,🍸,3\n2026-11-20 17:11,🍺,5\n'),
    );
    await night.ok('open');
    await night.ok('match 🍸 lantern sour');
    expect(await night.json('till')).toMatchObject([
      { drink: '🍺', match: 'unknown', sold: 5 },
      { spec: 'lantern-sour', sold: 3 },
    ]);
  });
});

describe('a piece', () => {
  it('that is drawn in parts is counted to half a piece; one that goes whole is exact', async () => {
    const night = await furnished();
    await night.ok(
      'import',
      file(night, 'i.csv', 'id,name,kind,size,yields\nlime,Lime,fruit,1 each,30 ml juice\n'),
    );
    await night.ok('import', file(night, 's.txt', '# Sharp\n60 ml dry gin\n22.5 ml lime juice\n'));
    await night.ok('count lime 10');
    await night.ok('count egg-white 10');
    await night.ok('open');
    await night.ok('pour 3 sharp');
    await night.ok('pour 1 lantern sour');
    await night.ok('count lime 8');
    await night.ok('count egg-white 8');
    // 10 − 2.25 = 7.75 expected; two readings of ±½, rectangular: 2/12; and three measures of 0.75 that vary by 15 %, each
    // 0.1125: 3 × 0.1125² = 0.03797. U = 2 √(0.16667 + 0.03797) = 0.905.
    const lime = await rowOf(night, 'lime');
    expect([lime?.missing, lime?.uncertainty, lime?.verdict]).toEqual([-0.25, 0.905, 'within-count-error']);
    const egg = await rowOf(night, 'egg-white');
    expect([egg?.missing, egg?.uncertainty, egg?.verdict]).toEqual([1, 0, 'real']);
  });
});

describe('names', () => {
  it('of every object are names like any other', async () => {
    const night = await furnished();
    await night.ok(
      'import',
      file(night, 's.txt', '# Constructor\n60 ml dry gin\n# Valueof\n30 ml dry gin\n'),
    );
    await night.ok('people add Constructor');
    await night.ok('open --by Constructor');
    await night.ok('count dry-gin 2.7');
    await night.ok('pour 2 constructor');
    await night.ok('count dry-gin 2.0');
    const report = await night.json<{ items: { item: string; drawnBy: unknown; pouredBy: unknown }[] }>(
      'close',
    );
    expect(report.items.find(({ item }) => item === 'dry-gin')).toMatchObject({
      drawnBy: [{ spec: 'constructor', name: 'Constructor', amount: 120 }],
      pouredBy: [{ name: 'Constructor', amount: 120 }],
    });
  });

  it('with dollar signs stand whole and escaped on the page, and nobody is named there unasked', async () => {
    const night = await furnished();
    await night.ok(
      'import',
      file(night, 'i.csv', `id,name,kind,size,cost\ncash,Ca$'h $& gin,spirit,700 ml,18.00\n`),
    );
    await night.ok('open --by Ines');
    await night.ok('count cash 2.7');
    await night.ok('pour 45ml cash');
    await night.ok('count cash 2.5');
    await night.ok('note ice --by Tom');
    const page = join(night.folder, 'p.html');
    await night.ok('close --html', page);
    const html = readFileSync(page, 'utf8');
    expect(html).toMatch(/aria-label="Stock of Ca\$(&#39;|&apos;)h \$&amp; gin/);
    expect(html).not.toMatch(/Ines|Tom/);
    await night.ok('close --people --html', page);
    expect(readFileSync(page, 'utf8')).toMatch(/Ines[\s\S]*Tom|Tom[\s\S]*Ines/);
  });

  it('that begin with the word of a unit come back from a file as they went out', async () => {
    const night = await furnished();
    await night.ok(
      'import',
      file(night, 'i.csv', 'id,name,kind,size\nleaf-gelatin,Leaf gelatin,other,1 each\n'),
    );
    await night.ok('import', file(night, 's.txt', '# Jelly\n60 ml dry gin\n2 leaf-gelatin\n'));
    const cards = await night.ok('export specs');
    expect(await night.ok('import', file(night, 'o.txt', cards))).toContain('0 specs written');
  });
});

describe('bounds', () => {
  it.each([
    [
      's.txt',
      `# Long\nalso: ${Array.from({ length: 12_000 }, (_, at) => `nm${at}`).join()}\n60 ml dry gin\n`,
    ],
    [
      'i.csv',
      `id,name,also,kind,size\nx,X,${Array.from({ length: 200 }, (_, at) => `nm${at}`).join('|')},spirit,700 ml\n`,
    ],
  ])('a list of twelve thousand names in %s is refused in a sentence', async (name, text) => {
    const night = await furnished();
    const outcome = await night.run('import', file(night, name, text));
    expect([outcome.exit, outcome.out]).toEqual([65, '']);
    expect(outcome.err).toMatch(/also: is longer than 50/);
  });

  it('a bottle for twelve million is a bottle', async () => {
    const night = openNight();
    await night.ok('house currency IDR');
    await night.ok(
      'import',
      file(night, 'i.csv', 'id,name,kind,size,cost\nc,Old cognac,spirit,700 ml,12000000\n'),
    );
    night.later(1);
    await night.ok('receive 1 c --cost 12500000');
    expect(await night.ok('item c')).toContain('12500000.00');
  });

  it('a date far off is refused', async () => {
    const night = await furnished();
    expect((await night.run('open --date 9998-12-31')).err).toMatch(/too far off/);
    expect((await night.run('open --date 1999-12-31')).err).toMatch(/too far off/);
    expect(await night.ok('open --date 2026-11-21')).toContain('Sat 21 Nov');
  });
});

describe('--at', () => {
  const moment = '2026-11-20T17:20:00.000Z';
  it.each([
    ['note fog --at'],
    ['people add Zed --at'],
    ['house dash 0.8 --at'],
    ['undo --at'],
    ['ready add towels --at'],
    ['match Tap --none --at'],
    ['lose 20ml rye --why spill --at'],
    ['drill dry-gin 0.7 812 --at'],
    ['weigh dry-gin 1143 --learn tare --at'],
  ])('holds for %s', async (line) => {
    const night = await furnished();
    await night.ok('open');
    await night.ok('pour 1 rye lamp');
    night.later(60);
    const event = await night.json<{ at: string }>(line, moment);
    expect(event.at).toBe(moment);
    const garbage = await night.run(line, 'garbage');
    expect([garbage.exit, garbage.out]).toEqual([65, '']);
    expect(garbage.err).toContain('is not an instant with an offset');
  });

  it('holds for an items file, so that a delivery of this morning finds its item', async () => {
    const night = openNight('2026-11-20T12:00:00.000Z');
    const items = file(night, 'i.csv', 'id,name,kind,size,cost\ngin,Gin,spirit,700 ml,14.00\n');
    await night.ok('import', items);
    night.later(30);
    const early = await night.run('receive 3 gin --cost 20.00 --at 2026-11-20T09:00:00Z');
    expect([early.exit, early.out]).toEqual([65, '']);
    expect(early.err).toContain('nothing of it can have moved before');
    const other = openNight('2026-11-20T12:00:00.000Z');
    await other.ok('import', items, '--at', '2026-11-20T08:00:00Z');
    await other.ok('receive 3 gin --cost 20.00 --at 2026-11-20T09:00:00Z');
    expect(await other.ok('check')).toBe('');
    expect(await other.ok('item gin')).toContain('20.00');
  });

  it('a night typed in afterwards, with a note and an undo in it, is sealed at its own time', async () => {
    const night = await furnished('2026-11-20T12:00:00.000Z');
    night.at('2026-11-22T12:00:00.000Z');
    await night.ok('open --at 2026-11-20T18:00:00Z');
    await night.ok('pour 1 rye lamp --at 2026-11-20T20:00:00Z');
    await night.ok('pour 1 rye lamp --at 2026-11-20T21:00:00Z');
    await night.ok('undo');
    await night.ok('note', 'typed in on Sunday');
    await night.ok('close --seal --at 2026-11-21T02:00:00Z');
    expect(await night.json('report')).toMatchObject({ shift: { closedAt: '2026-11-21T02:00:00.000Z' } });
    expect(await night.ok('check')).toBe('');
  });
});

describe('a place', () => {
  it('is one place however its name is written, and nothing is lost from one that is not there', async () => {
    const night = await furnished('2026-11-20T12:00:00.000Z');
    await night.ok('count rye 1.9');
    await night.ok('lose 20ml rye --why spill --place BAR');
    const levels = await night.json<{ item: string; place: string }[]>('levels');
    expect(levels.flatMap(({ item, place }) => (item === 'rye' ? [place] : []))).toEqual(['bar']);
    const refused = await night.run('lose 20ml rye --why spill --place attic');
    expect(refused.exit).toBe(65);
    expect(refused.err).toContain('Nothing stands at "attic". It was lost at one of: ');
  });
});

describe('a word that begins with a minus', () => {
  it('is kept as it was typed', async () => {
    const night = await furnished('2026-11-20T12:00:00.000Z');
    await night.ok('open');
    await night.ok('note', '-5 °C in the cellar');
    const { notes } = await night.json<{ notes: { text: string }[] }>('report');
    expect(notes.map(({ text }) => text)).toEqual(['-5 °C in the cellar']);
    const refused = await night.run('lose', '-5ml', 'rye', '--why', 'spill');
    expect(refused.exit).toBe(65);
    expect(refused.err).toContain('-5ml');
  });
});

describe('a reading by tenths', () => {
  it('of none left accuses nobody of what rounding took: 25 ml of the last one are no real loss', async () => {
    const night = await furnished('2026-11-20T12:00:00.000Z');
    await night.ok('count rye 3+0');
    night.later(60);
    await night.ok('open');
    await night.ok('pour', '15 x 45 ml rye');
    night.later(60);
    await night.ok('count rye 2.0');
    const row = await rowOf(night, 'rye');
    expect(row?.verdict).toBe('within-count-error');
    expect(row?.uncertainty).toBeGreaterThan(40);
  });
});

describe('the cost of a pour', () => {
  it('is the cost of its moment: what was forgotten before a delivery knows nothing of its price', async () => {
    const night = await furnished('2026-11-20T12:00:00.000Z');
    await night.ok('receive 2 rye --cost 14.00');
    await night.ok('open');
    const opened = night.world.now();
    night.later(240);
    await night.ok('receive 2 rye --cost 28.00');
    night.later(30);
    await night.ok('pour', '40 ml rye', '--at', new Date(opened + 60_000).toISOString());
    await night.ok('pour', '40 ml rye');
    const costs = night.store((store) =>
      [...store.allEvents()].flatMap((event) =>
        event.kind === 'measure-poured' ? event.draws.map(({ costMillis }) => costMillis) : [],
      ),
    );
    expect(costs).toEqual([80_000, 160_000]);
  });
});

describe('amounts in what things come in', () => {
  it('losses by the bottle, deliveries and moves by the case', async () => {
    const night = await counted();
    const left = (item: string): number =>
      [...night.books().stock.values()]
        .filter((stock) => stock.item === item)
        .reduce((sum, { amount }) => sum + amount, 0) / 1000;
    const gin = left('dry-gin');
    await night.ok('lose', '1 bottle dry gin', '--why', 'breakage');
    expect(left('dry-gin')).toBe(gin - 700);
    await night.ok('receive', '2 cases of dry gin');
    expect(left('dry-gin')).toBe(gin - 700 + 12 * 700);
    await night.ok('receive 1 case', 'dry gin', '--cost', '17.00');
    expect(left('dry-gin')).toBe(gin - 700 + 18 * 700);
    await night.ok('move 1 case', 'dry gin', '--from', 'bar', '--to', 'cellar');
    expect(left('dry-gin')).toBe(gin - 700 + 18 * 700);
    expect((await night.run('receive 1 case', 'aromatic bitters')).err).toContain('are in a case');
    expect((await night.run('lose', '999999999999 bottles dry gin', '--why', 'spill')).exit).toBe(65);
  });
});

describe('one weight', () => {
  it('has one answer: what a count of the item has, calc weigh says of the item', async () => {
    const night = await furnished();
    await night.ok('count dry-gin 812g');
    const counted = night.books().stock.values().next().value?.amount ?? 0;
    const said = await night.json<{ volumeMl: number }>('calc weigh', 'dry gin', '--gross', '812');
    expect(said.volumeMl).toBe(counted / 1000);
    // By strength alone it says what it goes by, and where the item's own answer is.
    expect(await night.ok('calc weigh --abv 40 --gross 812 --tare 480')).toMatch(
      /40 % and 0 g sugar per litre; a count goes by the item's own card: calc weigh ITEM/,
    );
  });
});
