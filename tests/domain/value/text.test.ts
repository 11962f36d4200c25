// Text from outside: what may hide in it is taken out, what bars are called stays.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { clean, firstUnsafe } from '../../../src/domain/value/text.ts';

const hostile = [
  '\u001b[31mred',
  '\u001b]8;;http://x\u0007link',
  'a\rb',
  'a\nb',
  'a\tb',
  'a\u0000b',
  '\u009b31m',
  'abc\u202Edef',
  'a\u200bb',
  '\ufeffx',
  'a\u{e0041}b',
  `e${'\u0301'.repeat(30)}`,
  '\ud800',
  'x\u2028y',
  '\u0007\u0008',
];

it.each(hostile)('makes %j safe', (text) => {
  const safe = clean(text);
  expect(safe).not.toMatch(/[\p{Cc}\p{Cf}\u2028\u2029\ud800-\udfff]/u);
  expect([...safe].filter((char) => /\p{M}/u.test(char)).length).toBeLessThanOrEqual(4);
  expect(clean(safe)).toBe(safe);
});

it('is idempotent and leaves no control character for any text', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (text) => {
      const safe = clean(text);
      expect(clean(safe)).toBe(safe);
      expect(safe).not.toMatch(/[\p{Cc}\p{Zl}\p{Zp}\p{Default_Ignorable_Code_Point}]/u);
    }),
  );
});

it('leaves other scripts as they are', () => {
  for (const name of ['Kräuterlikör', 'Café', '梅酒', '소주', 'עראק', 'Crème de mûre', '½']) {
    expect(clean(name)).toBe(name);
    expect(firstUnsafe(name)).toBeNull();
  }
  expect(firstUnsafe('a\u001bb')).toBe('U+001B');
});
