// What an import would write anew is shown, old and new: before it is written, when asked; and after, always.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { furnished, type Night } from '../support/night.ts';

async function files(night: Night): Promise<{ items: string; specs: string }> {
  const [items, specs] = [join(night.folder, 'new.csv'), join(night.folder, 'new.txt')];
  const old = await night.ok('export items');
  writeFileSync(items, `${old.replace(/^(dry-gin,.*)18\.90/m, '$119.50')}plum,Plum,,liqueur,700 ml\n`);
  writeFileSync(specs, (await night.ok('export specs')).replace('price: 13.00', 'price: 13.50'));
  return { items, specs };
}

it('says what is new, what changes and what is the same, and writes nothing', async () => {
  const night = await furnished();
  const { items, specs } = await files(night);
  const before = await night.ok('log --last 1 --json');
  const said = await night.ok('import', items, specs, '--preview');
  expect(said).toMatch(/new\.csv: 1 items new, 1 changed, \d+ the same; nothing is written/);
  expect(said).toMatch(/Dry gin was there and is now\n {2}− cost: 18\.90\n {2}\+ cost: 19\.50/);
  expect(said).toMatch(/Rye Lamp was there and is now\n {2}− price: 13\.00\n {2}\+ price: 13\.50/);
  expect(await night.ok('log --last 1 --json')).toBe(before);
  expect(night.books().items.has('plum' as never)).toBe(false);
});

it('an import that replaces something says what it was', async () => {
  const night = await furnished();
  const { items } = await files(night);
  const said = await night.ok('import', items);
  expect(said).toMatch(
    /2 items written[\s\S]*Dry gin was there and is now\n {2}− cost: 18\.90\n {2}\+ cost: 19\.50/,
  );
  expect(await night.ok('import', items)).not.toContain('was there');
});

it('what can not be read is refused in a preview, too, and so is what has none', async () => {
  const night = await furnished();
  const file = join(night.folder, 'bad.csv');
  writeFileSync(file, 'id,name,kind,size\nx,X,spirit,a lot\n');
  expect(await night.run('import', file, '--preview')).toMatchObject({
    exit: 65,
    err: expect.stringContaining('line 2'),
  });
  const till = join(night.folder, 'till.csv');
  writeFileSync(till, 'time,drink,quantity\n2026-11-20 17:40,x,1\n');
  expect(await night.run('import', till, '--preview')).toMatchObject({
    exit: 64,
    err: expect.stringContaining('Leave --preview out'),
  });
});
