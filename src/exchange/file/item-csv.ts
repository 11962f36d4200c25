// The items file, in and out. One line an item; a problem names its line, its cell and what would be right.

import { BadCell, cellsOf, itemColumns, itemOfCells } from '../../domain/card/item-card.ts';
import { type Item, itemNames } from '../../domain/catalogue/item.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { done, type Problem, type Result, refuseAll } from '../../domain/value/problem.ts';
import { foldText, harmless } from '../../domain/value/text.ts';
import { readCsv, writeCsv } from './csv.ts';

const required = ['id', 'name', 'kind', 'size'];

/** Reads items; all problems of the file come at once. */
export function readItems(text: string, books: Books): Result<Item[]> {
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
  problems.push(...nameClashes(items, books));
  return problems.length > 0 ? refuseAll(problems) : done(items.map(({ item }) => item));
}

/** One name, one item: in the file, and against what is stocked under other ids. */
function nameClashes(items: readonly { item: Item; line: number }[], books: Books): Problem[] {
  const problems: Problem[] = [];
  const ids = new Set(items.map(({ item }) => item.id));
  const owner = new Map<string, string>();
  for (const item of books.items.values()) {
    if (!ids.has(item.id)) for (const name of itemNames(item)) owner.set(foldText(name), item.id);
  }
  const seen = new Set<string>();
  for (const { item, line } of items) {
    const twice = seen.has(item.id);
    seen.add(item.id);
    const clash = itemNames(item).find((name) => (owner.get(foldText(name)) ?? item.id) !== item.id);
    if (twice)
      problems.push({
        code: 'double-item',
        exit: 65,
        line,
        message: `The id ${item.id} stands twice in the file. Take one out.`,
      });
    if (clash !== undefined) {
      problems.push({
        code: 'double-name',
        exit: 65,
        line,
        message: `The name "${clash}" belongs to ${owner.get(foldText(clash))} too. Give one of them another.`,
      });
    }
    for (const name of itemNames(item)) owner.set(foldText(name), item.id);
  }
  return problems;
}

/** All items in the file's own format; reading it back gives equal items. */
export const writeItems = (books: Books): string =>
  writeCsv(
    itemColumns,
    [...books.items.values()].map((item) => cellsOf(harmless(item), books)),
  );

export const starterItems = `${itemColumns.join(',')}
dry-gin,Dry gin,gin,spirit,700 ml,480,40,,18.00,6,bar,1,2,tenths,,,,,,25 ml 4.50; 50 ml 8.00,
lemon-juice,Lemon juice,lemon,juice,500 ml,,,,4.00,,fridge,1,2,ml,,,,60,,,
simple-syrup,Simple syrup,syrup,syrup,500 ml,,,615,1.50,,fridge,2,1,ml,,,,,,,
egg-white,Egg white,,egg,1 each,,,,0.30,30,fridge,3,24,pieces,eggs,,,,,,
`;
