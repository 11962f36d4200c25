// Another name, and out of use: the past stays, the old name still finds it, and files come back equal.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import type { Report } from '../../src/domain/report/report.ts';
import { openNight, stocked } from '../support/night.ts';
import { openRooms } from '../support/rooms.ts';

it('a renamed card keeps what was poured of it, answers to both names, and comes back from its own file', async () => {
  const night = await stocked();
  await night.ok('pour 2 lantern-sour');
  await night.ok('rename spec', 'Lantern Sour', 'Harbour Lamp');
  await night.ok('pour 1', 'lantern sour');
  const { drinks } = await night.json<Report>('close');
  expect(drinks).toMatchObject([{ spec: 'lantern-sour', name: 'Harbour Lamp', count: 3 }]);
  const file = join(night.folder, 'out.txt');
  writeFileSync(file, await night.ok('export specs'));
  expect(await night.ok('import', file)).toContain('0 specs written, 3 already as they are');
  await night.ok('undo');
});

it('an item and a person, too; a name that is taken is refused', async () => {
  const night = await stocked();
  await night.ok('rename item dry-gin', 'House gin');
  expect(await night.json('item', 'dry gin')).toMatchObject({ item: 'dry-gin', name: 'House gin' });
  await night.ok('rename person Ines Inés');
  expect(night.books().people.get('ines' as never)?.name).toBe('Inés');
  const { exit, err } = await night.run('rename item rye', 'lemon');
  expect([exit, err]).toEqual([65, expect.stringContaining('belongs to Lemon juice')]);
});

it('what is retired leaves search, levels, count and letters, stays in the report, and comes back', async () => {
  const night = await stocked();
  await night.ok('pour 1 rye-lamp');
  const refused = await night.run('retire item rye');
  expect([refused.exit, refused.err]).toEqual([65, expect.stringContaining('is a measure of Rye Lamp')]);
  await night.ok('retire spec', 'Rye Lamp');
  await night.ok('retire item rye');
  expect((await night.json<unknown[]>('specs')).length).toBe(2);
  expect(await night.json<unknown[]>('specs --all')).toContainEqual(
    expect.objectContaining({ spec: 'rye-lamp', retired: true }),
  );
  expect(await night.ok('levels')).not.toContain('Straight rye');
  expect((await night.run('pour 1 rye-lamp')).err).toContain('is retired');
  night.store((store) => {
    const at = openRooms(store, night.world.now);
    expect(at.screen()).not.toContain('r Rye Lamp');
    at.press('rye');
    expect(at.screen()).not.toContain('› Rye Lamp');
  });
  const report = await night.json<Report>('close');
  expect(report.drinks).toMatchObject([{ spec: 'rye-lamp', count: 1 }]);
  expect(report.items.some(({ item }) => item === 'rye')).toBe(true);
  const items = join(night.folder, 'i.csv');
  writeFileSync(items, await night.ok('export items'));
  expect(await night.ok('import', items)).toContain('0 items written');
  await night.ok('retire item rye --back');
  await night.ok('retire spec', 'Rye Lamp', '--back');
  await night.ok('pour 1 rye-lamp');
  expect(await night.ok('check')).toBe('');
});

it('exports with renamed and retired things give equal books elsewhere', async () => {
  const night = await stocked();
  await night.ok('rename spec', 'Lantern Sour', 'Harbour Lamp');
  await night.ok('retire spec', 'Gin Straight');
  const [items, specs] = [join(night.folder, 'a.csv'), join(night.folder, 'a.txt')];
  writeFileSync(items, await night.ok('export items'));
  writeFileSync(specs, await night.ok('export specs'));
  const other = openNight();
  await other.ok('import', items, specs);
  expect([...other.books().specs]).toEqual([...night.books().specs]);
  expect([...other.books().items]).toEqual([...night.books().items]);
});

it('a card does not come back without its items', async () => {
  const night = await stocked();
  await night.ok('retire spec', 'rye lamp');
  await night.ok('retire item rye');
  const back = await night.run('retire spec', 'rye lamp', '--back');
  expect([back.exit, back.err]).toEqual([
    65,
    expect.stringContaining('Straight rye is a measure of it and is retired'),
  ]);
  await night.ok('retire item rye --back');
  await night.ok('retire spec', 'rye lamp', '--back');
  expect(await night.ok('pour 1', 'rye lamp')).toContain('Rye Lamp');
});
