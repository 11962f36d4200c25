// Lines of the screen: measured in cells, cut where they end, safe whatever stands in a name.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import {
  besides,
  blank,
  cut,
  fitLine,
  fitText,
  line,
  lineWidth,
  piece,
  plainText,
  widthOf,
  wrap,
} from '../../../src/screens/parts/line.ts';

it('measures cells, not letters', () => {
  expect(['gin', '焼酎', 'e\u0301', '½ oz', '›▇█▁', ''].map(widthOf)).toEqual([3, 4, 1, 4, 4, 0]);
});

it('cuts with a sign that something was cut', () => {
  expect([cut('Dry gin', 7), cut('Dry gin', 6), cut('Dry gin', 1)]).toEqual(['Dry gin', 'Dry g…', '…']);
  expect([cut('Dry gin', 0), cut('Dry gin', -3), cut('', 4)]).toEqual(['', '', '']);
  // Each of the three takes two cells: two and the sign fit in five.
  expect([cut('焼酎梅', 6), cut('焼酎梅', 5), cut('焼酎梅', 4)]).toEqual(['焼酎梅', '焼酎…', '焼…']);
});

it('never cuts a letter from its accent', () => {
  expect(cut('cre\u0301me', 4)).toBe('cre\u0301…');
});

it('pads to the left or to the right', () => {
  expect([fitText('gin', 5), fitText('gin', 5, 'right'), fitText('焼酎', 5)]).toEqual([
    'gin  ',
    '  gin',
    '焼酎 ',
  ]);
});

const text = fc.string({
  unit: fc.constantFrom('a', 'Z', ' ', '焼', 'é', '\u0301', '½', '\u001b', '\u202e'),
  maxLength: 16,
});

it('is exactly as wide as asked, whatever stands in it', () => {
  fc.assert(
    fc.property(text, text, fc.integer({ min: 1, max: 24 }), (one, other, width) => {
      expect(widthOf(fitText(one, width))).toBe(width);
      expect(lineWidth(fitLine([piece(one), piece(other, 'strong')], width))).toBe(width);
      expect(widthOf(cut(one, width))).toBeLessThanOrEqual(width);
    }),
  );
});

it('lets nothing through to the screen that moves the cursor or turns the text around', () => {
  fc.assert(
    fc.property(text, fc.integer({ min: 1, max: 24 }), (said, width) => {
      for (const shown of [cut(said, width), plainText(fitLine([piece(said)], width)), ...wrap(said, width)])
        for (const trick of ['\u001b', '\u202e']) expect(shown).not.toContain(trick);
    }),
  );
});

it('keeps the styles of the pieces it fits, and drops those behind the edge', () => {
  const fitted = fitLine(line(piece('Dry ', 'strong'), piece('gin and tonic', 'warn'), piece('!', 'bad')), 8);
  expect(fitted).toEqual([
    { text: 'Dry ', style: 'strong' },
    { text: 'gin…', style: 'warn' },
  ]);
  expect(fitLine(blank, 3)).toEqual([{ text: '   ', style: 'plain' }]);
});

it('makes a line of words and pieces', () => {
  expect(plainText(line('2 ', piece('Quay', 'strong'), ' left'))).toBe('2 Quay left');
  expect(line('gin')).toEqual([{ text: 'gin', style: 'plain' }]);
});

it('sets two columns side by side, the shorter one filled up', () => {
  const rows = besides([line('gin'), line('a very long name')], [line('one')], 6, 2).map(plainText);
  expect(rows).toEqual(['gin     one', 'a ver…  ']);
  expect(besides([], [line('one')], 4).map(plainText)).toEqual(['      one']);
  expect(besides([], [], 4)).toEqual([]);
});

it('wraps at words, and cuts a word that is longer than the line', () => {
  expect(wrap('gin and plum cordial', 8)).toEqual(['gin and', 'plum', 'cordial']);
  expect(wrap('unpronounceable gin', 6)).toEqual(['unpro…', 'gin']);
  expect(wrap('焼酎 梅酒', 5)).toEqual(['焼酎', '梅酒']);
  expect([wrap('', 8), wrap('gin', 8)]).toEqual([[], ['gin']]);
});

it('loses no word that fits on a line of its own', () => {
  const word = fc.stringMatching(/^[a-z]{1,9}$/);
  fc.assert(
    fc.property(fc.array(word, { maxLength: 12 }), fc.integer({ min: 9, max: 30 }), (words, width) => {
      const lines = wrap(words.join(' '), width);
      expect(lines.join(' ')).toBe(words.join(' '));
      for (const one of lines) expect(widthOf(one)).toBeLessThanOrEqual(width);
    }),
  );
});
