// What is counted by the piece is poured, lost and sold by the piece; what only comes near, or is rare, is asked about once.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import type { Report } from '../../src/domain/report/report.ts';
import { type Night, stocked } from '../support/night.ts';
import { roomsAt } from '../support/rooms.ts';

const within = roomsAt({ columns: 110, rows: 30 });

async function withBeer(): Promise<Night> {
  const night = await stocked();
  const file = join(night.folder, 'beer.csv');
  writeFileSync(
    file,
    'id,name,also,kind,size,count,place,prices\nlager,Reed Lager,lager,beer,330 ml,pieces,bar,\nwhite,House White,white,wine,750 ml,tenths,bar,750 ml 26.00\n',
  );
  await night.ok('import', file);
  await night.ok('count', 'lager', '24');
  await night.ok('count', 'white', '3');
  return night;
}

const poured = (night: Night): (readonly [number, number])[] =>
  night.store((store) =>
    [...store.allEvents()].flatMap((event) =>
      event.kind === 'measure-poured' ? [[event.count, event.draws[0]?.amount ?? 0] as const] : [],
    ),
  );
const lostOf = (night: Night): number[] =>
  night.store((store) =>
    [...store.allEvents()].flatMap((event) => (event.kind === 'stock-lost' ? [event.amount] : [])),
  );

it('a lager needs no card: by its name, by the bottle, in the rooms and as a command', async () => {
  const night = await withBeer();
  within(night, (at) => {
    at.press('2 lager');
    expect(at.screen()).toMatch(/2 × 1 bottle Reed Lager/);
    at.press('enter', '3 bottles reed', 'enter', 'bottle white', 'enter', '2 bottles of white', 'enter');
  });
  await night.ok('pour 2 lager');
  await night.ok('pour 1 bottle white');
  expect(poured(night)).toEqual([
    [2, 660_000],
    [3, 990_000],
    [1, 750_000],
    [2, 1_500_000],
    [2, 660_000],
    [1, 750_000],
  ]);
});

it('a loss of two is two bottles, in Levels and as a command', async () => {
  const night = await withBeer();
  await night.ok('lose 2 lager --why breakage');
  await night.ok('lose 100ml lager --why spill');
  await night.ok('lose 1 bottle lager --why spill');
  within(night, (at) => {
    at.press('tab', 'lager', 'enter', 'down', 'enter');
    expect(at.screen()).toContain('2 is two of them; 50 ml of one');
    at.press('2', 'enter');
    // Of a liquid two may be bottles or ml: that is said, not guessed.
    at.press('esc', 'esc', 'gin', 'enter', 'down', 'enter', '2', 'enter');
    expect(at.state().message?.text).toContain('Write 50 ml or 1 bottle');
  });
  expect(lostOf(night)).toEqual([660_000, 100_000, 330_000, 660_000]);
  const other = await night.run('lose 2 gin --why spill');
  expect([other.exit, other.err]).toEqual([65, expect.stringContaining('kept in ml')]);
});

it('the till may say a bottle by its name, a pint, and what is said once of any other name', async () => {
  const night = await withBeer();
  await night.ok('pour 2 lager');
  night.later(60);
  const file = join(night.folder, 'till.csv');
  const line = (drink: string, count: number): string => `2026-11-20 17:40,${drink},${count}\n`;
  writeFileSync(
    file,
    `time,drink,quantity\n${line('Lagers', 3)}${line('Bottle House White', 1)}${line('Vino', 2)}${line('Blond', 4)}`,
  );
  const said = await night.run('import', file);
  expect(said.err).not.toMatch(/Lagers|Bottle/);
  expect(said.err).toContain('nothing is called "Vino"');
  await night.ok('match', 'Vino', '150 ml white');
  within(night, (at) => {
    at.press('tab', 'tab', 'tab', 'ctrl-t');
    expect(at.screen()).toMatch(/› Blond .*which drink/);
    at.press('enter', 'lager');
    expect(at.screen()).toContain('1 bottle Reed Lager, straight');
    at.press('enter');
  });
  const report = await night.json<Report>('close');
  expect(report.till?.map(({ drink, sold, logged }) => [drink, sold, logged])).toEqual([
    ['150 ml House White', 7, 0],
    ['1 bottle Reed Lager', 7, 2],
  ]);
  expect(await night.ok('check')).toBe('');
});

it('a word of what is in it is no name: asked once, and so are more than ten', async () => {
  const night = await withBeer();
  within(night, (at, store) => {
    const counts = () => [...(store.books().shift?.drinks.values() ?? [])].map(({ count }) => count);
    at.press('lemon juice', 'enter');
    expect(at.state().message?.text).toContain('only comes near');
    expect(counts()).toEqual([]);
    at.press('esc', '11 rye', 'enter');
    expect(at.state().message?.text).toBe(
      'That is 11 times Rye Lamp. Enter again pours them all; a measure is written 11 ml rye.',
    );
    expect(counts()).toEqual([]);
    at.press('enter');
    expect(counts()).toEqual([11]);
  });
});

it('a long note is read to its end in a small window', async () => {
  const night = await withBeer();
  roomsAt({ columns: 60, rows: 16 })(night, (at) => {
    at.press('2 lan, rye, gin, white, lager', '!');
    expect(at.screen()).toMatch(/↓ \d+ more/);
    expect(at.screen()).not.toContain('Reed Lager');
    at.press('end');
    expect(at.screen()).toContain('Reed Lager');
    expect(at.screen()).toContain('↑ goes back');
    at.press('home', 'down');
    expect(at.screen()).toMatch(/↓ \d+ more/);
    // Anything else goes on, as before.
    at.press('enter');
    expect(at.screen()).toContain('2 lan, rye');
  });
});

it('a drink that is named twice in a round is one share of each bottle', async () => {
  const night = await stocked();
  within(night, (at) => {
    at.press('2 lan, 1 lan, rye');
    expect(at.screen()).toMatch(/3 × 60 ml Lantern Sour/);
    expect(at.screen()).not.toMatch(/2 × 60 ml Lantern Sour, 60 ml/);
  });
});

it('what is not understood is no drink of the round, and is named', async () => {
  const night = await stocked();
  within(night, (at) => {
    at.press('2 lan, 3 xyzzy, 1 rye');
    expect(at.screen()).toMatch(/one round, 3 drinks/);
    expect(at.screen()).toContain('not understood: xyzzy');
    expect(at.screen()).not.toContain('without a price');
  });
});
