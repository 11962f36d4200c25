// Bytes of a file as text, strictly.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { decodeText, LARGEST_FILE } from '../../../src/exchange/file/read-text.ts';
import { codesOf, messagesOf, must } from '../../support/shelf.ts';

const bytes = (...parts: readonly (string | readonly number[])[]): Uint8Array =>
  Uint8Array.from(
    parts.flatMap((part) => (typeof part === 'string' ? [...new TextEncoder().encode(part)] : part)),
  );

it('reads UTF-8 and drops the mark some programs put in front', () => {
  expect(must(decodeText(bytes('gin 焼酎 é'), 'a.csv'))).toBe('gin 焼酎 é');
  expect(must(decodeText(bytes([0xef, 0xbb, 0xbf], 'id,name'), 'a.csv'))).toBe('id,name');
  expect(must(decodeText(bytes(), 'a.csv'))).toBe('');
});

it('names every line that is in another encoding, to the last', () => {
  // 0xE9 is é in Latin-1 and no letter in UTF-8.
  const result = decodeText(bytes('id\ncr', [0xe9], 'me\ngin\n', [0xe9]), 'a.csv');
  expect(result.ok ? [] : result.problems.map(({ line }) => line)).toEqual([2, 4]);
  expect(messagesOf(result)[0]).toBe('This line of a.csv is not UTF-8 text. Save the file again as UTF-8.');
});

it('lists twenty such lines at most', () => {
  expect(
    codesOf(decodeText(bytes(Array.from({ length: 100 }, (_, n) => (n % 2 === 0 ? 0xe9 : 10))), 'a')),
  ).toHaveLength(20);
});

it('refuses what is no text: UTF-16, a NUL, a surrogate in disguise', () => {
  expect(codesOf(decodeText(bytes([0xff, 0xfe, 0x67, 0x00]), 'a'))).toEqual(['not-utf8']);
  expect(codesOf(decodeText(bytes('gin\0'), 'a'))).toEqual(['not-text']);
  expect(codesOf(decodeText(bytes([0xed, 0xa0, 0x80]), 'a'))).toEqual(['not-utf8']);
});

it('refuses what is larger than fifty megabytes', () => {
  expect(codesOf(decodeText(new Uint8Array(LARGEST_FILE + 1), 'a'))).toEqual(['too-large']);
});

it('gives back any text that was UTF-8', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'binary' }), (text) => {
      const plain = text
        .replaceAll('\0', '')
        .replace(/^\ufeff/, '')
        .replace(/\p{Cs}/gu, '');
      if (plain.startsWith('\ufeff')) return;
      expect(must(decodeText(bytes(plain), 'a'))).toBe(plain);
    }),
  );
});
