import fc from 'fast-check';
import { expect, it } from 'vitest';
import { hasInOrder, indexOf, nearestNames, searchIndex } from '../../src/domain/search.ts';

const names = [
  'Lantern Sour',
  'Lantern Smash',
  'Long Landing',
  'Daiquiri',
  'Negroni',
  'Café Lamp',
  'Bramble Road',
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
  ['lan', 'Lantern Sour'],
  ['negr', 'Negroni'],
  ['dqri', 'Daiquiri'],
  ['cafe', 'Café Lamp'],
  ['gin lem', 'Lantern Sour'],
  ['lantern sm', 'Lantern Smash'],
  ['ls', 'Lantern Sour'],
  ['daiqiuri', 'Daiquiri'],
])('%s finds %s', (query, name) => expect(first(query)).toBe(name));

it('orders equal matches by what is poured', () => {
  expect(searchIndex(index, 'lan', (name) => (name === 'Lantern Smash' ? 5 : 0))[0]).toBe('Lantern Smash');
});

it('never throws and never builds a pattern from what is typed', () => {
  fc.assert(
    fc.property(
      fc.string({ unit: 'binary', maxLength: 80 }),
      (query) => searchIndex(index, query, () => 0).length >= 0,
    ),
  );
  expect(hasInOrder('a'.repeat(100_000), `${'a'.repeat(50)}b`)).toBe(false);
  expect(nearestNames('lantren sour', names)[0]).toBe('Lantern Sour');
});
