// One letter a drink, the same all night; and what else letters have meant is said.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { quickLetters } from '../../src/domain/search/letters.ts';
import { type Night, stocked } from '../support/night.ts';
import { roomsAt } from '../support/rooms.ts';
import { aSpec } from '../support/shelf.ts';

const within = roomsAt({ columns: 120, rows: 30 });
const letters = (...names: string[]): Record<string, string> =>
  Object.fromEntries(
    quickLetters(names.map((name, index) => aSpec(`s${index}`, ['40 ml gin'], { name }))),
  ) as Record<string, string>;

it('the likeliest has its first letter, the next its next, and none has two', () => {
  expect(letters('Lantern Sour', 'Lager', 'Long Landing', 'Sidecar', 'Tom')).toEqual({
    l: 's0',
    a: 's1',
    o: 's2',
    s: 's3',
    t: 's4',
  });
  // "Ll" has no letter left.
  expect(letters('Lull', 'Ull', 'Ll')).toEqual({ l: 's0', u: 's1' });
});

it('each letter stands in the name it is given to, and to each drink at most one is given', () => {
  const names = fc.array(fc.stringMatching(/^[A-Z][a-zà]{0,6}( [a-z]{1,5})?$/), { maxLength: 40 });
  fc.assert(
    fc.property(names, (list) => {
      const specs = list.map((name, index) => aSpec(`s${index}`, ['40 ml gin'], { name }));
      const given = [...quickLetters(specs)];
      expect(new Set(given.map(([, id]) => id)).size).toBe(given.length);
      for (const [letter, id] of given)
        expect(
          (specs.find((spec) => spec.id === id)?.name ?? '').toLowerCase().replaceAll('à', 'a'),
        ).toContain(letter);
    }),
  );
});

/** Two cards that begin alike; the second becomes the likelier one in the middle of the night. */
async function alike(): Promise<Night> {
  const night = await stocked();
  const file = join(night.folder, 's.txt');
  writeFileSync(file, '# Lanyard\nfamily: stirred\n40 ml rye\ndo: stir\n');
  await night.ok('import', file);
  return night;
}

it('stands before the name on an empty line, pours that drink, and means the same all night', async () => {
  const night = await alike();
  within(night, (at, store) => {
    expect(at.screen()).toMatch(/ {2}l Lantern Sour/);
    expect(at.screen()).toMatch(/ {2}a Lanyard/);
    for (let count = 0; count < 6; count += 1) at.press('a', 'enter');
    expect(store.books().shift?.drinks.get('lanyard' as never)?.count).toBe(6);
    at.press('l');
    expect(at.screen()).toMatch(/› Lantern Sour/);
    // A second letter is a search again.
    at.press('anyar');
    expect(at.screen()).toMatch(/› Lanyard/);
  });
});

it('letters that poured another drink before say so', async () => {
  const night = await alike();
  within(night, (at, store) => {
    at.press('lan', 'enter');
    expect(store.books().shift?.drinks.get('lantern-sour' as never)?.count).toBe(1);
    at.press('lanyard', 'enter', 'lanyard', 'enter', 'lan');
    expect(at.screen()).toMatch(/› Lanyard/);
    expect(at.rows()[2]).toContain('≠ "lan" poured Lantern Sour before');
    at.press('enter', 'lan');
    expect(at.rows()[2]).not.toContain('≠');
  });
});
