// The search index: the order of what is found, and nothing left out of a large book.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nearestNames } from '../../../src/domain/search/nearest.ts';
import { hasInOrder, indexOf, searchIndex, searchScored } from '../../../src/domain/search/search.ts';
import { foldText } from '../../../src/domain/value/text.ts';
import { tenWords } from '../../support/ten-words.ts';

const names = [
  'Lantern Sour',
  'Lantern Smash',
  'Long Landing',
  'Daiquiri',
  'Negroni',
  'Café Lamp',
  'Gravel Road',
];
const index = indexOf(
  names.map((name) => ({
    value: name,
    names: [name],
    words: name === 'Lantern Sour' ? ['gin', 'lemon juice'] : [],
  })),
);
const first = (query: string): string | undefined => searchIndex(index, query, () => 0)[0];

it.each([
  // by its beginning
  ['lan', 'Lantern Sour'],
  ['negr', 'Negroni'],
  // by letters left out, without accents
  ['dqri', 'Daiquiri'],
  ['cafe', 'Café Lamp'],
  // by what is in it, a word and a beginning, initials
  ['gin lem', 'Lantern Sour'],
  ['lantern sm', 'Lantern Smash'],
  ['ls', 'Lantern Sour'],
  // spelt wrong
  ['daiqiuri', 'Daiquiri'],
])('%s finds %s', (query, name) => expect(first(query)).toBe(name));

it('orders equal matches by what is poured', () => {
  expect(searchIndex(index, 'lan', (name) => (name === 'Lantern Smash' ? 5 : 0))[0]).toBe('Lantern Smash');
});

it('never throws and never builds a pattern from what is typed', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary', maxLength: 80 }), (query) => {
      const found = searchIndex(index, query, () => 0);
      expect(names).toEqual(expect.arrayContaining(found));
      expect(new Set(found).size).toBe(found.length);
    }),
  );
  expect(searchIndex(index, '', () => 0)).toEqual(names);
  expect(hasInOrder('daiquiri', 'd.*i')).toBe(false);
  expect(hasInOrder('a'.repeat(100_000), `${'a'.repeat(50)}b`)).toBe(false);
  expect(nearestNames('lantren sour', names)[0]).toBe('Lantern Sour');
});

it('so many of those that are wanted are the first ones of all that are', () => {
  fc.assert(
    fc.property(
      fc.oneof(fc.constantFrom('', 's', 'lan', 'so', 'lantern'), fc.string({ maxLength: 4 })),
      fc.integer({ min: 1, max: names.length }),
      fc.integer({ min: 1, max: 3 }),
      (query, most, every) => {
        const weight = (name: string): number => name.length % 3;
        const isWanted = (name: string): boolean => name.length % every === 0;
        const all = searchScored(index, query, weight).filter(({ value }) => isWanted(value));
        expect(searchScored(index, query, weight, { most, isWanted })).toEqual(all.slice(0, most));
      },
    ),
  );
});

describe('a book of ten thousand', () => {
  const names = Array.from({ length: 10_000 }, (_, at) =>
    [tenWords[at % 10], tenWords[Math.floor(at / 10) % 10], String(at)].join(' '),
  );
  const big = indexOf(
    names.map((name) => ({
      value: name,
      names: [name],
      words: [name.includes('7') ? 'straight rye' : 'dry gin'],
    })),
  );
  /** What the index may leave out and what it may not: the same rules, walked over all of them. */
  const all = (text: string): number =>
    names.filter((name) => {
      const every = `${foldText(name)} ${name.includes('7') ? 'straight rye' : 'dry gin'}`;
      return (
        text.split(' ').every((word) => ` ${every}`.includes(` ${word}`)) ||
        (text.length >= 4 && every.includes(text))
      );
    }).length;

  /** What three letters find that begin nothing: names that hold them in this order, from the first letter on. */
  const inOrder = (text: string): number =>
    names.filter((name) => new RegExp(`^${[...text].join('.*')}`).test(foldText(name))).length;

  it.each(['lantern', 'lan', 'l', 'rye', 'lantern rye', 'tern', 'copper velvet', '9999', 'velvet ry', 'ver'])(
    '"%s" finds all that match',
    (text) => {
      const found = searchIndex(big, text, () => 0);
      const wanted = all(text) || inOrder(text);
      expect(wanted).toBeGreaterThan(0);
      expect(found).toHaveLength(wanted);
    },
  );

  it('finds a misspelt name first, or among the first', () => {
    expect(searchIndex(big, 'saffron marble 4325', () => 0)[0]).toBe('Saffron Marble 4325');
    expect(searchIndex(big, 'safron marbel 4325', () => 0).slice(0, 5)).toContain('Saffron Marble 4325');
    expect(searchIndex(big, 'zzzzzz', () => 0)).toEqual([]);
  });
});
