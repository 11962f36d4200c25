// The till against the tally: lines in, names matched, and what the difference explains.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Report, TillRow } from '../../src/domain/report/report.ts';
import { instantOfWall } from '../../src/domain/value/clock-date.ts';
import { furnished, type Night } from '../support/night.ts';

async function poured(): Promise<Night> {
  const night = await furnished();
  await night.ok('house zone Europe/London');
  await night.ok('count dry-gin 3.0');
  await night.ok('open --by Ines');
  night.later(30);
  await night.ok('pour 2 lantern-sour');
  await night.ok('pour 1 rye-lamp');
  night.later(120);
  return night;
}

function till(night: Night, lines: readonly string[], header = 'time,drink,quantity,price,by'): string {
  const file = join(night.folder, 'till.csv');
  writeFileSync(file, [header, ...lines, ''].join('\n'));
  return file;
}

describe('lines of the till', () => {
  it('stand beside the tally by drink, and explain missing stock', async () => {
    const night = await poured();
    const file = till(night, [
      '2026-11-20 17:40,Lantern Sour,3,14.00,Ines',
      '2026-11-20 18:00,lamp sour,2,14.00,',
    ]);
    await night.ok('import', file);
    await night.ok('count dry-gin 2.5');
    const report = await night.json<Report>('close');
    expect(report.till).toEqual([
      {
        drink: 'Lantern Sour',
        spec: 'lantern-sour',
        match: 'spec',
        sold: 5,
        logged: 2,
        difference: 3,
        measure: null,
      },
      {
        drink: 'Rye Lamp',
        spec: 'rye-lamp',
        match: 'spec',
        sold: 0,
        logged: 1,
        difference: -1,
        measure: null,
      },
    ]);
    const gin = report.items.find(({ item }) => item === 'dry-gin');
    // Three sours of 60 ml were sold and not tapped.
    expect([gin?.missing, gin?.unlogged]).toEqual([230, 180]);
    expect(report.items.find(({ item }) => item === 'rye')?.unlogged).toBe(-60);
    expect(await night.ok('close')).toContain(
      'drinks the till sold and nobody logged would have taken 180 ml',
    );
    expect(await night.ok('till')).toMatch(/Lantern Sour +5 +2 +3/);
  });

  it('go in once, whatever file they come in again', async () => {
    const night = await poured();
    const lines = [
      '2026-11-20 17:40,Lantern Sour,1,,',
      '2026-11-20 17:40,Lantern Sour,1,,',
      '2026-11-20 17:50,Rye Lamp,1,,',
    ];
    const [first] = await night.json<{ added: number; known: number }[]>('import', till(night, lines));
    expect(first).toMatchObject({ added: 3, known: 0 });
    const [again] = await night.json<{ added: number; known: number }[]>('import', till(night, lines));
    expect(again).toMatchObject({ added: 0, known: 3 });
    const [overlapping] = await night.json<{ added: number; known: number }[]>(
      'import',
      till(night, [...lines.slice(1), '2026-11-20 18:10,Rye Lamp,2,,']),
    );
    // One of the two equal lines is the first of its kind in this file too.
    expect(overlapping).toMatchObject({ added: 1, known: 2 });
    expect((await night.json<TillRow[]>('till')).map(({ sold }) => sold)).toEqual([3, 2]);
  });

  it('keep a name nobody knows, list it with its line, and learn what it means for good', async () => {
    const night = await poured();
    const file = till(night, [
      '2026-11-20 17:40,LANT SR,2,,',
      '2026-11-20 17:45,Tap Water,4,,',
      '2026-11-20 17:50,lant  sr,1,,',
    ]);
    const outcome = await night.run('import', file);
    expect(outcome.exit).toBe(0);
    expect(outcome.err).toContain('line 2: nothing is called "LANT SR" (3 sold)');
    expect(outcome.err).toContain('line 3: nothing is called "Tap Water" (4 sold)');
    expect((await night.json<TillRow[]>('till')).filter(({ match }) => match === 'unknown')).toHaveLength(2);
    await night.ok('match', 'Lant Sr', 'lantern sour');
    await night.ok('match', 'tap water', '--none');
    expect(await night.json<TillRow[]>('till')).toEqual([
      {
        drink: 'Lantern Sour',
        spec: 'lantern-sour',
        match: 'spec',
        sold: 3,
        logged: 2,
        difference: 1,
        measure: null,
      },
      {
        drink: 'Rye Lamp',
        spec: 'rye-lamp',
        match: 'spec',
        sold: 0,
        logged: 1,
        difference: -1,
        measure: null,
      },
      {
        drink: 'Tap Water',
        spec: null,
        match: 'not-ours',
        sold: 4,
        logged: null,
        difference: null,
        measure: null,
      },
    ]);
    night.later(5);
    const next = await night.run('import', till(night, ['2026-11-20 17:59,LANT SR,5,,']));
    expect(next.err).toBe('');
    const own = await night.run('match', 'Lantern Sour', 'rye lamp');
    expect([own.exit, own.err]).toEqual([
      65,
      '"Lantern Sour" is a name of one of our specs already, and means that.\n',
    ]);
  });

  it('belong to the night until the next one opens, also after the seal', async () => {
    const night = await poured();
    await night.ok('close --seal');
    night.later(60);
    await night.ok('import', till(night, ['2026-11-20 19:50,Lantern Sour,2,,']));
    const sour = (report: Report) => report.till?.find(({ spec }) => spec === 'lantern-sour');
    expect(sour(await night.json<Report>('report'))).toMatchObject({
      sold: 2,
      logged: 2,
      difference: 0,
      measure: null,
    });
    night.later(24 * 60);
    await night.ok('open');
    expect((await night.json<Report>('report')).till).toBeNull();
    expect(sour(await night.json<Report>('report 2026-11-20'))).toMatchObject({ sold: 2 });
    expect(sour(await night.json<Report>('report --from 2026-11-20 --to 2026-11-21'))).toMatchObject({
      sold: 2,
    });
  });
});

describe('a bad file', () => {
  const bad: readonly (readonly [string, readonly string[], RegExp])[] = [
    [
      'below zero',
      ['2026-11-20 17:40,Rye Lamp,1,,', '2026-11-20 17:41,Rye Lamp,-1,,'],
      /line 3: "-1" is below zero/,
    ],
    ['no number', ['2026-11-20 17:40,Rye Lamp,two,,'], /line 2: "two" is not a number of drinks/],
    ['no drink', ['2026-11-20 17:40,,1,,'], /line 2: There is no drink in this line/],
    ['no time', ['yesterday,Rye Lamp,1,,'], /line 2: "yesterday" is not a time/],
    ['a date that is none', ['2026-02-30 17:40,Rye Lamp,1,,'], /line 2: .* is not a time/],
    ['the future', ['2027-11-20 17:40,Rye Lamp,1,,'], /line 2: .* lies in the future/],
    ['a formula', ['2026-11-20 17:40,"=HYPERLINK(""http://x"")",1,,'], /line 2: .* looks like a formula/],
    ['a formula behind a plus', ['2026-11-20 17:40,+cmd,1,,'], /line 2: .* looks like a formula/],
    [
      'a price that is none',
      ['2026-11-20 17:40,Rye Lamp,1,fourteen,'],
      /line 2: "fourteen" is not the price/,
    ],
    ['a control character', ['2026-11-20 17:40,Rye\u001bLamp,1,,'], /line 2: .* is not a plain name/],
    ['too many cells', ['2026-11-20 17:40,Rye Lamp,1,,,,9'], /line 2: 7 cells where the header has 5/],
    ['two megabytes in one cell', [`2026-11-20 17:40,${'x'.repeat(2_000_000)},1,,`], /line 2/],
    ['an open quote', ['2026-11-20 17:40,"Rye Lamp,1,,'], /a quote is opened and never closed/],
  ];
  it.each(bad)('%s: listed with its line, and no trace of the rest', async (_, lines, message) => {
    const night = await poured();
    const before = night.store((store) => [...store.allEvents()].length);
    const outcome = await night.run(
      'import',
      till(night, ['2026-11-20 17:30,Rye Lamp,1,,', ...lines].slice(lines.length > 1 ? 1 : 1)),
    );
    expect([outcome.exit, outcome.out]).toEqual([65, '']);
    expect(outcome.err).toMatch(message);
    expect(night.store((store) => [...store.allEvents()].length)).toBe(before);
  });

  it('lists every bad line at once', async () => {
    const night = await poured();
    const { err, exit } = await night.run(
      'import',
      till(night, [
        'x,Rye Lamp,1,,',
        '2026-11-20 17:40,Rye Lamp,1,,',
        '2026-11-20 17:40,Rye Lamp,-3,,',
        '2026-11-20 17:40,,1,,',
      ]),
    );
    expect(exit).toBe(65);
    expect([...err.matchAll(/line (\d+)/g)].map(([, line]) => line)).toEqual(['2', '4', '5']);
  });

  it('with wrong columns says which it needs', async () => {
    const night = await poured();
    const { err, exit } = await night.run('import', till(night, ['x'], 'time,drink,quantity,tip'));
    expect([exit, err]).toEqual([
      65,
      expect.stringMatching(/line 1: The column "tip" is not known. Known are time,drink,quantity,price,by/),
    ]);
  });

  it('in mixed encodings names each line that is not UTF-8', async () => {
    const night = await poured();
    const file = join(night.folder, 'till.csv');
    const latin = (text: string): Buffer => Buffer.from(text, 'latin1');
    writeFileSync(
      file,
      Buffer.concat([
        Buffer.from('time,drink,quantity\n2026-11-20 17:40,Café Lamp,1\n'),
        latin('2026-11-20 17:41,Café Lamp,1\n'),
        Buffer.from('2026-11-20 17:42,Rye Lamp,1\n'),
        latin('2026-11-20 17:43,Crème,1\n'),
      ]),
    );
    const { err, exit } = await night.run('import', file);
    expect(exit).toBe(65);
    expect([...err.matchAll(/line (\d+)/g)].map(([, line]) => line)).toEqual(['3', '5']);
  });
});

it('reads a time on the wall as RFC 5545 (3.3.5, 2009) says: twice is the first, skipped is after the gap', () => {
  expect(instantOfWall('2007-11-04 01:30', 'America/New_York')).toBe('2007-11-04T05:30:00.000Z');
  expect(instantOfWall('2007-03-11 02:30', 'America/New_York')).toBe('2007-03-11T07:30:00.000Z');
  expect(instantOfWall('2026-10-25 01:30', 'Europe/London')).toBe('2026-10-25T00:30:00.000Z');
  expect(instantOfWall('2026-07-01 12:00:30', 'Asia/Kathmandu')).toBe('2026-07-01T06:15:30.000Z');
  expect(instantOfWall('2026-11-31 12:00', 'UTC')).toBeNull();
});
