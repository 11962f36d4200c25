// One house, four ways out and in: the lines of the Book, the files, the editor, a spreadsheet. Each gives the same house back.

import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { readItemLines, writeItemLines } from '../../src/domain/card/item-lines.ts';
import { readSpecs, writeCard } from '../../src/domain/card/spec-card.ts';
import { demoFile, type Night, openNight } from '../support/night.ts';
import { xlsx } from '../support/xlsx.ts';

async function demoHouse(): Promise<Night> {
  const night = openNight();
  await night.ok('import', demoFile('items.csv'), demoFile('specs.txt'));
  return night;
}
const written = async (night: Night): Promise<readonly string[]> => [
  await night.ok('export items'),
  await night.ok('export specs'),
];

it('every item and every card of the demo by the lines of the Book', async () => {
  const books = (await demoHouse()).books();
  expect(books.items.size).toBeGreaterThan(50);
  for (const item of books.items.values())
    expect(readItemLines(writeItemLines(item, books), books, item.id)).toEqual({ ok: true, value: item });
  for (const spec of books.specs.values()) {
    const others = { ...books, specs: new Map([...books.specs].filter(([id]) => id !== spec.id)) };
    expect(readSpecs(writeCard(spec, books), others)).toEqual({ ok: true, value: [spec] });
  }
});

it('its files into an empty house, and through the editor with nothing changed', async () => {
  const night = await demoHouse();
  const [items = '', specs = ''] = await written(night);
  const other = openNight();
  const [itemsFile, specsFile] = [join(other.folder, 'i.csv'), join(other.folder, 's.txt')];
  writeFileSync(itemsFile, items);
  writeFileSync(specsFile, specs);
  await other.ok('import', itemsFile, specsFile);
  expect(await written(other)).toEqual([items, specs]);
  const edited: Night['world'] = { ...other.world, edit: async (text) => ({ ok: true, value: `${text}\n` }) };
  const { runCommand } = await import('../../src/commands/run.ts');
  for (const what of ['items', 'specs'])
    expect(await runCommand(['edit', what], edited)).toMatchObject({ exit: 0, out: 'Nothing to change.\n' });
  expect(await written(other)).toEqual([items, specs]);
});

it('the items as a spreadsheet into an empty house', async () => {
  const night = await demoHouse();
  const [items = ''] = await written(night);
  const { parse } = await import('csv-parse/sync');
  const cells = (parse(items) as string[][]).map((row) => row.map((cell) => cell.replace(/^'/, '')));
  const other = openNight();
  const file = join(other.folder, 'x.xlsx');
  writeFileSync(file, xlsx(cells));
  await other.ok('import', file);
  expect(await other.ok('export items')).toBe(items);
});
