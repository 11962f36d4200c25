// The hash chain: what was recorded can't be changed without showing.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { CHAIN_START, chainHash } from '../../src/store/chain.ts';

it('begins with nothing', () => {
  expect(CHAIN_START).toMatch(/^0{64}$/);
});

it('hashes the hash before, a line end and the text', () => {
  // SHA-256 (FIPS 180-4, 2015), worked out by sha256sum: printf '%064d\n{"kind":"x"}' 0 | sha256sum
  expect(chainHash(CHAIN_START, '{"kind":"x"}')).toBe(
    'a3092abfd921a1bd08445431c4a4a4bca9443e95e9996adf436fe9df1ff2b40a',
  );
  // Text is hashed as UTF-8: printf 'abc\n焼酎' | sha256sum
  expect(chainHash('abc', '焼酎')).toBe('f389d0b4d0ee69f579f7eed03217a9a0414ed7c8551fa24630f9b802b4a3b6e8');
});

const chainOf = (bodies: readonly string[]): string =>
  bodies.reduce((previous, body) => chainHash(previous, body), CHAIN_START);
const bodies = fc.array(fc.string({ unit: 'grapheme', maxLength: 8 }), { minLength: 1, maxLength: 6 });

it('comes to another end when one event is changed, left out, doubled or put elsewhere', () => {
  fc.assert(
    fc.property(bodies, fc.nat(5), (list, where) => {
      const at = where % list.length;
      const end = chainOf(list);
      expect(chainOf(list)).toBe(end);
      expect(chainOf(list.with(at, `${list[at]}.`))).not.toBe(end);
      expect(chainOf(list.toSpliced(at, 1))).not.toBe(end);
      expect(chainOf(list.toSpliced(at, 0, list[at] ?? ''))).not.toBe(end);
      const [first, second] = list;
      if (second !== undefined && first !== second)
        expect(chainOf([second, first ?? '', ...list.slice(2)])).not.toBe(end);
    }),
  );
});
