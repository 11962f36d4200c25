// The count at two in the morning: forty bottles, a kill in the middle, two people at two windows.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { demoFile, type Night, openNight } from '../support/night.ts';
import { keys, type Pty, startProgram } from '../support/pty.ts';

/** Forty liquids of the demo house, each one open bottle on its shelf, all read by tenths; counted once before. */
async function forty(): Promise<Night> {
  const night = openNight(new Date(Date.now() - 7_200_000).toISOString());
  const [header = '', ...rows] = readFileSync(demoFile('items.csv'), 'utf8').trim().split('\n');
  const liquids = rows.filter((row) => /,(700 ml|750 ml|1 l|500 ml|200 ml),/.test(row)).slice(0, 40);
  expect(liquids).toHaveLength(40);
  const file = join(night.folder, 'forty.csv');
  writeFileSync(
    file,
    [header, ...liquids.map((row) => row.replace(/,(tenths|ml|grams),/, ',tenths,')), ''].join('\n'),
  );
  await night.ok('people add Ines Tom');
  await night.ok('import', file);
  for (const row of liquids) await night.ok('count', row.split(',')[0] as string, '0.8');
  night.later(30);
  return night;
}

const start = (night: Night): Pty =>
  startProgram(['--data', night.folder], { env: { XDG_CONFIG_HOME: night.folder }, columns: 120, rows: 40 });
const counts = (night: Night) =>
  night.store((store) =>
    [...store.allEvents()].flatMap((event) =>
      event.kind === 'stock-counted' && event.reading !== '0.8' ? [event] : [],
    ),
  );

it('counts forty bottles by tenths in at most ninety keys, the way to the room included', async () => {
  const night = await forty();
  const at = start(night);
  await at.sees('No shift is open');
  let pressed = 0;
  const press = (...bytes: string[]): void => {
    for (const key of bytes) at.type(key);
    pressed += bytes.length;
  };
  press(keys.ctrl('o'));
  await at.sees('Who is pouring?');
  press(keys.enter);
  await at.sees('Ines pouring');
  press(keys.tab, keys.tab);
  await at.sees('0 of 40 counted');
  for (let bottle = 0; bottle < 40; bottle += 1) press(String(1 + (bottle % 9)), keys.enter);
  await at.sees('All is counted');
  expect(pressed).toBeLessThanOrEqual(90);
  const made = counts(night);
  expect(made).toHaveLength(40);
  expect(made.map(({ reading }) => reading)).toEqual(
    Array.from({ length: 40 }, (_, at) => String(1 + (at % 9))),
  );
  expect(new Set(made.map(({ item, place }) => `${item} ${place}`)).size).toBe(40);
  for (const { method, by, place } of made)
    expect([method, by, place]).toEqual(['tenths', 'ines', expect.any(String)]);
  expect(
    (await night.json<{ totals: { counted: number; notCounted: number } }>('close')).totals,
  ).toMatchObject({ counted: 40, notCounted: 0 });
});

it('goes on after kill -9 in the middle: nothing read is lost, and the walk stands where it stood', async () => {
  const night = await forty();
  await night.ok('open --by Ines');
  const at = start(night);
  await at.sees('Ines pouring');
  at.type('\t\t');
  for (let bottle = 0; bottle < 13; bottle += 1) at.type('6\r');
  await at.sees('13 of 40 counted');
  // The one after is half typed and not entered.
  at.type('4');
  await at.sees('▸ 4');
  at.kill('SIGKILL');
  await at.exit;
  expect(counts(night)).toHaveLength(13);
  const again = start(night);
  await again.sees('Ines pouring');
  again.type('\t\t');
  await again.sees('13 of 40 counted');
  await again.until('a marked row', (rows) => rows.some((row) => row.startsWith('›')));
  const marked = again.screen().find((row) => row.startsWith('›'));
  again.type('5\r');
  await again.sees('14 of 40 counted');
  const names = new Map([...night.books().items.values()].map(({ id, name }) => [id, name]));
  const last = counts(night).at(-1);
  expect(marked).toContain(names.get(last?.item as never)?.replace(/ \d+ %$/, '') ?? 'no such item');
  expect(night.store((store) => store.check(['store', 'chain', 'replay', 'conservation']))).toEqual([]);
});

it('two people count two places at once, each under their own name', async () => {
  const night = await forty();
  await night.ok('open --by Ines');
  const [one, two] = [start(night), start(night)];
  for (const at of [one, two]) {
    await at.sees('Ines pouring');
    at.type('\t\t');
    await at.sees('0 of 40 counted');
  }
  two.type(keys.ctrl('v'));
  await two.sees('Tom counts at this window');
  // To the third row from the end, in the other place.
  two.type(`\u001b[F${keys.up}${keys.up}`);
  await two.until(
    'the end of the list',
    (rows) => rows.some((row) => row.startsWith('›')) && !rows.some((row) => row.includes('↓')),
  );
  for (let bottle = 0; bottle < 3; bottle += 1) {
    one.type('3\r');
    await one.sees(`${bottle * 2 + 1} of 40 counted`);
    two.type('9\r');
    await two.sees(`${bottle * 2 + 2} of 40 counted`);
    await one.sees(`${bottle * 2 + 2} of 40 counted`);
  }
  const made = counts(night);
  expect(made.filter(({ reading }) => reading === '3').map(({ by }) => by)).toEqual(['ines', 'ines', 'ines']);
  expect(made.filter(({ reading }) => reading === '9').map(({ by }) => by)).toEqual(['tom', 'tom', 'tom']);
  expect(new Set(made.map(({ place }) => place)).size).toBe(2);
});
