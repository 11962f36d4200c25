// What Ink would not get over: a paste without an end, a terminal's late answer that ends in a bell.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { inputFilter } from '../../src/shell/terminal-input.ts';

const through = (...pieces: readonly string[]): string[] => pieces.map(inputFilter());

it('^C alone ends a paste that has no end; anything else of it stays as it came', () => {
  expect(through('\u001b[200~', 'rop\r', '\u0003', '\u0003')).toEqual([
    '\u001b[200~',
    'rop\r',
    '\u001b[201~\u0003',
    '\u0003',
  ]);
  // In two pieces, too.
  expect(through('\u001b[20', '0~rop', '\u0003')[2]).toBe('\u001b[201~\u0003');
  expect(through('\u001b[200~a\u001b[201~', '\u0003')[1]).toBe('\u0003');
  expect(through('\u001b[200~a\u001b[2', '01~', '\u0003')[2]).toBe('\u0003');
  expect(through('\u001b[200~a\u0003b', '\u001b[201~')).toEqual(['\u001b[200~a\u0003b', '\u001b[201~']);
});

it('an answer of the terminal that ends in a bell is no key; the bell itself is one', () => {
  expect(through('\u001b]11;rgb:1e1e/1e1e/1e1e\u0007rye\r')).toEqual(['rye\r']);
  expect(through('\u0007')).toEqual(['\u0007']);
  expect(through('\u001b[200~\u001b]0;x\u0007', '\u001b[201~')).toEqual([
    '\u001b[200~\u001b]0;x\u0007',
    '\u001b[201~',
  ]);
});

it('whatever is typed comes through as it is', () => {
  fc.assert(
    fc.property(
      fc.array(fc.string({ unit: 'grapheme', maxLength: 9 }).filter((text) => !text.includes('\u001b'))),
      (pieces) => {
        expect(through(...pieces)).toEqual(pieces);
      },
    ),
  );
});
