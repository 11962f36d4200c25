// The items file, in and out. One line an item; a problem names its line, its cell and what would be right.

import { BadCell, cellsOf, itemColumns, itemOfCells } from '../../domain/card/item-card.ts';
import { itemClashes } from '../../domain/card/item-clashes.ts';
import type { Item } from '../../domain/catalogue/item.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { done, type Problem, type Result, refuseAll } from '../../domain/value/problem.ts';
import { harmless } from '../../domain/value/text.ts';
import { readCsv, writeCsv } from './csv.ts';

const required = ['id', 'name', 'kind', 'size'];

/** Headings of our own, even where one is misspelt: such a file is read strictly. */
export const isItemsHeader = (header: readonly string[]): boolean =>
  header.includes('id') && (header.every(isOurs) || header.filter(isOurs).length >= 3);
const isOurs = (name: string): boolean => itemColumns.includes(name);

/** Reads items; all problems of the file come at once. */
export function readItems(text: string, books: Books): Result<Item[]> {
  const rows = readItemRows(text, books);
  return rows.ok ? done(rows.value.map(({ item }) => item)) : rows;
}

/** The same with the line each stands on. */
export function readItemRows(text: string, books: Books): Result<{ item: Item; line: number }[]> {
  const table = readCsv(text, itemColumns, required);
  if (!table.ok) return table;
  const problems: Problem[] = [];
  const items: { item: Item; line: number }[] = [];
  for (const row of table.value.rows) {
    try {
      items.push({ item: itemOfCells(row.cells, books), line: row.line });
    } catch (error) {
      if (!(error instanceof BadCell)) throw error;
      problems.push({ code: 'bad-item', exit: 65, line: row.line, message: error.message });
    }
  }
  problems.push(...itemClashes(items, books));
  return problems.length > 0 ? refuseAll(problems) : done(items);
}

/** All items in the file's own format; reading it back gives equal items. */
export const writeItems = (books: Books): string =>
  writeCsv(
    itemColumns,
    [...books.items.values()].map((item) => cellsOf(harmless(item), books)),
  );

export const starterItems = `${itemColumns.join(',')}
dry-gin,Dry gin,gin,spirit,700 ml,480,40,,18.00,6,bar,1,2,tenths,,,,,,,,,,25 ml 4.50; 50 ml 8.00,
lemon-juice,Lemon juice,lemon,juice,500 ml,,,,4.00,,fridge,1,2,ml,,,,60,,,,,,,
simple-syrup,Simple syrup,syrup,syrup,500 ml,,,615,1.50,,fridge,2,1,ml,,,,,,,,,,,
egg-white,Egg white,,egg,1 each,,,,0.30,30,fridge,3,24,pieces,eggs,,,,,,,,,,
`;
