// Sizes and money as price lists write them.
import { expect, it } from 'vitest';
import { emptyBooks } from '../../../src/domain/ledger/books.ts';
import { parseMoney } from '../../../src/domain/value/money.ts';
import { readItems } from '../../../src/exchange/file/item-csv.ts';

const read = (size: string, more = '', head = '') =>
  readItems(`id,name,kind,size${head}\na,A,beer,${size}${more}\n`, emptyBooks);

it.each([
  ['70cl', 700_000, null],
  ['0.75L', 750_000, null],
  ['12x330ml', 330_000, 12],
  ['24 × 33 cl', 330_000, 24],
  ['6 X 0.7 l', 700_000, 6],
])('%s', (text, size, caseOf) => {
  const items = read(text);
  expect(items.ok ? items.value[0] : items.problems).toMatchObject({ size, caseOf });
});

it('a case that its column and its size say differently is refused', () => {
  const both = read('12x330ml', ',24', ',case');
  expect(both.ok ? '' : both.problems[0]?.message).toContain('case says 24 and size says 12');
  expect(read('12x330ml', ',12', ',case').ok).toBe(true);
  expect(read('x330ml').ok).toBe(false);
});

it('money with its thousands apart, by any space', () => {
  expect([
    parseMoney('1 234.50', 'EUR'),
    parseMoney('1 234 567,80', 'EUR'),
    parseMoney('€ 1 234', 'EUR'),
  ]).toEqual([123_450, 123_456_780, 123_400]);
  expect([parseMoney('1 23', 'EUR'), parseMoney('12 34.50', 'EUR')]).toEqual([null, null]);
});
