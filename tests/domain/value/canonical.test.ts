// One text for one value, whatever the order its keys were made in. RFC 8785 (JSON Canonicalization Scheme), 2020.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { canonicalJson } from '../../../src/domain/value/canonical.ts';

it('sorts the keys of records at every depth and keeps the order of lists', () => {
  expect(canonicalJson({ b: [3, 1, { z: null, a: true }], a: { d: 'x', c: 0.5 } })).toBe(
    '{"a":{"c":0.5,"d":"x"},"b":[3,1,{"a":true,"z":null}]}',
  );
});

it('sorts by UTF-16 code units', () => {
  // RFC 8785, 3.2.3 (2020): the example that the standard gives, seven keys of several scripts (from memory).
  const keys = {
    '\u20ac': 'Euro Sign',
    '\r': 'Carriage Return',
    '\ufb33': 'Hebrew Letter Dalet With Dagesh',
    '1': 'One',
    '\u{1f600}': 'Emoji: Grinning Face',
    '\u0080': 'Control',
    '\u00f6': 'Latin Small Letter O With Diaeresis',
  };
  expect(
    Object.values(
      JSON.parse(
        `[${canonicalJson(keys)
          .replace(/[{}]/g, '')
          .replace(/"(?:[^"\\]|\\.)*":/g, '')}]`,
      ),
    ),
  ).toEqual([
    'Carriage Return',
    'One',
    'Control',
    'Latin Small Letter O With Diaeresis',
    'Euro Sign',
    'Emoji: Grinning Face',
    'Hebrew Letter Dalet With Dagesh',
  ]);
});

it('leaves out what is not there, and keeps what is null, empty, zero or false', () => {
  expect(canonicalJson({ note: undefined, by: null, text: '', amount: 0, again: false })).toBe(
    '{"again":false,"amount":0,"by":null,"text":""}',
  );
  expect([canonicalJson({}), canonicalJson([]), canonicalJson(null), canonicalJson('é')]).toEqual([
    '{}',
    '[]',
    'null',
    '"é"',
  ]);
});

/** The same value with the keys of every record in the other order. */
function turned(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(turned);
  if (value === null || typeof value !== 'object') return value;
  return Object.fromEntries(
    Object.entries(value)
      .reverse()
      .map(([key, inner]) => [key, turned(inner)]),
  );
}

it('says the same of the same, and other things of others', () => {
  const json = fc.jsonValue({ maxDepth: 3 });
  fc.assert(
    fc.property(json, json, (one, other) => {
      const text = canonicalJson(one);
      expect(canonicalJson(turned(one))).toBe(text);
      // Reading it gives the value back, so two values never share a text.
      expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(one)));
      if (JSON.stringify(one) === JSON.stringify(other)) expect(canonicalJson(other)).toBe(text);
    }),
  );
});

it('writes keys that look like numbers, or that set a prototype, like any other', () => {
  const odd = JSON.parse('{"9":1,"10":2,"a":{"__proto__":{"b":3,"2":4}}}');
  expect(canonicalJson(odd)).toBe('{"10":2,"9":1,"a":{"__proto__":{"2":4,"b":3}}}');
});
