// The card of an item in lines, as the Book writes it: "kind: spirit". The same cells as a row of the items file.
import type { Catalogue } from '../catalogue/catalogue.ts';
import type { Item } from '../catalogue/item.ts';
import { slugOf } from '../value/ids.ts';
import { done, type Problem, type Result, refuseAll } from '../value/problem.ts';
import { BadCell, cellsOf, itemColumns, itemOfCells } from './item-card.ts';

const problem = (line: number, message: string): Problem => ({ code: 'bad-item', exit: 65, line, message });

/** Reads one item; what is wrong comes with its line. `id` is kept when it is written anew. */
export function readItemLines(text: string, catalogue: Catalogue, id: string | null): Result<Item> {
  const cells = new Map<string, string>();
  const lines = new Map<string, number>();
  const problems: Problem[] = [];
  text.split('\n').forEach((raw, index) => {
    if (raw.trim() === '') return;
    const [, name = '', value = ''] = /^\s*([a-z_0-9]+)\s*:\s*(.*)$/i.exec(raw) ?? [];
    const column = name.toLowerCase();
    if (!itemColumns.includes(column))
      problems.push(
        problem(
          index + 1,
          `"${raw.trim().slice(0, 30)}" is no line of an item. Write name: value, as kind: spirit.`,
        ),
      );
    else if (cells.has(column))
      problems.push(problem(index + 1, `${column} stands twice. Take one of the lines out.`));
    else {
      cells.set(column, value.trim());
      lines.set(column, index + 1);
    }
  });
  if (problems.length > 0) return refuseAll(problems);
  for (const needed of ['name', 'kind', 'size'])
    if ((cells.get(needed) ?? '') === '')
      return refuseAll([
        problem(lines.get(needed) ?? 1, `${needed} is missing. Write ${needed}: ${examples[needed]}.`),
      ]);
  cells.set('id', id ?? cells.get('id') ?? slugOf(cells.get('name') ?? ''));
  try {
    return done(itemOfCells(cells, catalogue));
  } catch (error) {
    if (!(error instanceof BadCell)) throw error;
    const column = [...lines.keys()].find((name) => error.message.startsWith(name)) ?? '';
    return refuseAll([problem(lines.get(column) ?? 1, error.message)]);
  }
}

const examples: Readonly<Record<string, string>> = { name: 'Dry gin', kind: 'spirit', size: '700 ml' };

/** Lines that every item has a word on, whether it says one or not. */
const always = new Set(['name', 'kind', 'size', 'cost', 'abv', 'place', 'count', 'allergens']);

/** An item in lines, to be mended. */
export const writeItemLines = (item: Item, catalogue: Catalogue): string =>
  cellsOf(item, catalogue)
    .map((value, index) => ({ name: itemColumns[index] ?? '', value }))
    .filter(({ name, value }) => name !== 'id' && (value !== '' || always.has(name)))
    .map(({ name, value }) => `${name}: ${value}`)
    .join('\n');

/** What a new item is begun with. */
export const newItemLines = (name: string): string =>
  [`name: ${name}`, 'kind: ', 'size: 700 ml', 'cost: ', 'abv: ', 'place: bar', 'allergens: '].join('\n');
