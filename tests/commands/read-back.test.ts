// Whatever a command writes can be read again: inputs at the edge of what an event can hold.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { furnished, type Night, openNight } from '../support/night.ts';

it.each([
  [
    'a mise line longer than an event can hold',
    async (night: Night) => {
      const { writeFileSync } = await import('node:fs');
      writeFileSync(
        `${night.folder}/l.txt`,
        `# Long\nfamily: sour\n20 ml dry gin\ndo: stir\ngarnish: ${'x'.repeat(110)}\n`,
      );
      await night.ok('import', `${night.folder}/l.txt`);
      const lines = await night.json<{ text: string }[]>('ready');
      await night.ok('ready tick', lines.find(({ text }) => text.startsWith('xxx'))?.text as string);
    },
  ],
  [
    'a till line of another century',
    async (night: Night) => {
      const { writeFileSync } = await import('node:fs');
      writeFileSync(`${night.folder}/t.csv`, 'time,drink,quantity\n1969-12-31 22:41,Rye Lamp,1\n');
      expect((await night.run('import', `${night.folder}/t.csv`)).exit).toBe(65);
    },
  ],
  [
    'a correction of a keg',
    async (night: Night) => {
      const { writeFileSync } = await import('node:fs');
      writeFileSync(`${night.folder}/k.csv`, 'id,name,kind,size\nkeg,Keg,beer,50 l\n');
      await night.ok('import', `${night.folder}/k.csv`);
      await night.ok('count keg 2.0');
      await night.ok('open');
      night.later(5);
      await night.ok('count keg 1.0');
      await night.ok('close --seal');
      expect((await night.run('correct 60000l keg --what received --why x')).exit).toBe(65);
    },
  ],
])('%s leaves the books readable', async (_, work) => {
  const night = await furnished();
  await work(night);
  await night.ok('levels');
  expect(night.store((store) => store.check(['store', 'chain', 'replay']))).toEqual([]);
});

it('a notice of an import is one sentence a line: a size no law knows, a kind that looks misspelt', async () => {
  const night = openNight();
  await night.ok('house allergens us');
  const file = join(night.folder, 'odd.csv');
  writeFileSync(
    file,
    'id,name,kind,size\nodd-gin,Odd gin,sprit,730 ml\nold-gin,Old gin,spirit,730 ml\nsake,Sake,rice-wine,720 ml\nbitter,Bitter,beer,330 ml\n',
  );
  const { exit, err } = await night.run('import', file);
  expect(exit).toBe(0);
  expect(err).toContain('Odd gin: the kind "sprit" is new here, and kept as written. Did you mean spirit?\n');
  expect(err).not.toContain('rice-wine');
  expect(err).toMatch(/^Old gin: 730 ml is no standard of fill .*\.$/m);
  for (const line of err.trim().split('\n')) expect(line).toMatch(/^\S+ .{20,}[.?]$/);
});
