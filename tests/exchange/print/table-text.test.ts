// Plain tables for the terminal: columns as wide as what stands in them, in cells and not in letters.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { fitCells, layTable, widthOfText } from '../../../src/exchange/print/table-text.ts';

it('lays words to the left and numbers to the right, without spaces at the end', () => {
  expect(
    layTable(
      ['item', '>left', 'place'],
      [
        ['Dry gin', '1,960 ml', 'bar'],
        ['Rye', '5 ml', ''],
      ],
    ),
  ).toBe(['item         left  place', 'Dry gin  1,960 ml  bar', 'Rye          5 ml'].join('\n'));
});

it('is its header alone without rows, and fills short rows', () => {
  expect(layTable(['item', '>left'], [])).toBe('item  left');
  expect(layTable(['item', '>left', 'at'], [['gin']])).toBe('item  left  at\ngin');
});

it('measures wide letters by the cells they take', () => {
  // Each of the two takes two cells, so both rows end in the same column.
  expect(
    layTable(
      ['>name', '>ml'],
      [
        ['焼酎', '5'],
        ['gin', '10'],
      ],
    ),
  ).toBe(['name  ml', '焼酎   5', ' gin  10'].join('\n'));
  expect([widthOfText('焼酎'), widthOfText('gin'), widthOfText('e\u0301'), widthOfText('')]).toEqual([
    4, 3, 1, 0,
  ]);
});

it('lets no name colour the terminal or break a row', () => {
  const table = layTable(['name'], [['\u001b[31mred\u001b[0m'], ['two\nrows'], ['\u202egin']]);
  expect(table.split('\n')).toHaveLength(4);
  for (const trick of ['\u001b', '\u202e']) expect(table).not.toContain(trick);
});

it('ends every row in the same cell when the last column stands right', () => {
  const cell = fc.string({ unit: fc.constantFrom('a', '1', '焼', 'é', '½'), minLength: 1, maxLength: 10 });
  fc.assert(
    fc.property(fc.array(fc.tuple(cell, cell), { maxLength: 5 }), (rows) => {
      const widths = layTable(['first', '>second'], rows).split('\n').map(widthOfText);
      expect(widths).toHaveLength(rows.length + 1);
      expect(new Set(widths).size).toBe(1);
    }),
  );
});

it('cuts with a sign that something was cut, or pads, to exactly so many cells', () => {
  expect(fitCells('Dry gin', 10)).toBe('Dry gin   ');
  expect(fitCells('Dry gin', 7)).toBe('Dry gin');
  expect(fitCells('Dry gin', 6)).toBe('Dry g…');
  // Three of two cells each need six; in five there is room for two and the sign.
  expect(fitCells('焼酎梅', 5)).toBe('焼酎…');
  expect(fitCells('焼酎梅', 4)).toBe('焼… ');
  expect(fitCells('', 3)).toBe('   ');
});

it('is never wider or narrower than asked', () => {
  const text = fc.string({ unit: fc.constantFrom('a', ' ', '焼', 'é', '\u0301', '…'), maxLength: 14 });
  fc.assert(
    fc.property(text, fc.integer({ min: 1, max: 20 }), (said, width) => {
      expect(widthOfText(fitCells(said, width))).toBe(width);
    }),
  );
});
