// CSV in and out (RFC 4180, 2005): separators, quotes, lines, and cells that a spreadsheet would run.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { csvHeader, guardCell, readCsv, writeCsv } from '../../../src/exchange/file/csv.ts';
import { codesOf, messagesOf, must } from '../../support/shelf.ts';

const known = ['id', 'name', 'note'];
const read = (text: string, required: readonly string[] = ['id']) => readCsv(text, known, required);
const rows = (text: string) =>
  must(read(text)).rows.map(({ line, cells }) => [line, ...cells.values()] as const);

it('reads what a spreadsheet writes: comma or semicolon, any line end, capitals in the header', () => {
  const expected = [
    [2, 'gin', 'Dry gin'],
    [3, 'rye', 'Straight rye'],
  ];
  expect(rows('id,name\ngin,Dry gin\nrye,Straight rye\n')).toEqual(expected);
  expect(rows('ID;Name\r\ngin;Dry gin\r\nrye;Straight rye')).toEqual(expected);
  expect(rows('"id","name"\ngin, Dry gin \nrye,Straight rye')).toEqual(expected);
});

it('reads quotes, doubled quotes, and a separator or a line end between them', () => {
  expect(rows('id,name\ngin,"Dry, ""old"" gin"\n')).toEqual([[2, 'gin', 'Dry, "old" gin']]);
  expect(rows('id,name\ngin,"two\nlines"\n')[0]?.slice(1)).toEqual(['gin', 'two\nlines']);
});

it('keeps the number of each line, past empty ones', () => {
  expect(rows('id,name\n\ngin,a\n , \n\nrye,b\n')).toEqual([
    [3, 'gin', 'a'],
    [6, 'rye', 'b'],
  ]);
});

it('fills a short row with nothing, and reads a header alone as no rows', () => {
  expect(rows('id,name,note\ngin\n')).toEqual([[2, 'gin', '', '']]);
  expect(rows('id,name')).toEqual([]);
});

it('says which column is missing, unknown or there twice', () => {
  expect(messagesOf(readCsv('name\nx', known, ['id', 'name']))).toEqual([
    'The header has no column id. It needs id,name.',
  ]);
  expect(messagesOf(read('id,colour\n'))).toEqual([
    'The column "colour" is not known. Known are id,name,note.',
  ]);
  expect(messagesOf(read('id,name,name\n'))).toEqual([
    'The column "name" stands twice. Known are id,name,note.',
  ]);
  expect(codesOf(read(''))).toEqual(['bad-header']);
});

it('lists every row with too many or too long cells, with its line', () => {
  const result = read(`id,name\ngin,a,b\nrye,b\nx,${'y'.repeat(10_001)}\n`);
  expect(codesOf(result)).toEqual(['ragged', 'long-cell']);
  expect(result.ok ? [] : result.problems.map(({ line }) => line)).toEqual([2, 4]);
});

it('says where a quote is left open', () => {
  const result = read('id,name\nvermouth,"two\nlines"\ngin,"open\nrye,b\nrum,c\n');
  expect(messagesOf(result)).toEqual([
    'Here a quote is opened and never closed. Close or double the quotes.',
  ]);
  expect(result.ok ? [] : result.problems.map(({ line }) => line)).toEqual([4]);
});

it('guards what a spreadsheet would run, and leaves numbers below zero alone', () => {
  // OWASP, CSV Injection: cells that begin with = + - @, a tab or a carriage return.
  expect(['=1+1', '+1', '-2+3', '@sum', '\tx', '\rx', "'quoted"].map(guardCell)).toEqual([
    "'=1+1",
    "'+1",
    "'-2+3",
    "'@sum",
    "'\tx",
    "'\rx",
    "''quoted",
  ]);
  expect(['-5', '-0.25', 'gin', '', '5-6'].map(guardCell)).toEqual(['-5', '-0.25', 'gin', '', '5-6']);
});

it('reads back exactly what it wrote', () => {
  const cell = fc
    .oneof(
      fc.string({ unit: 'grapheme', maxLength: 12 }),
      fc.string({ unit: fc.constantFrom(...'=+-@\'",;\n 1a'), maxLength: 8 }),
    )
    .map((text) => text.replaceAll('\0', '').trim());
  fc.assert(
    fc.property(fc.array(fc.tuple(cell, cell), { maxLength: 5 }), (list) => {
      const wanted = list.filter(([a, b]) => a !== '' || b !== '');
      const back = must(read(writeCsv(['id', 'name'], wanted))).rows.map(({ cells }) => [...cells.values()]);
      expect(back).toEqual(wanted);
    }),
  );
});

it('knows a file by its header', () => {
  expect(csvHeader('Time;Drink;Quantity\r\n1;2;3')).toEqual(['time', 'drink', 'quantity']);
  expect(csvHeader('')).toEqual(['']);
});
