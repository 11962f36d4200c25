// Two items of one name: a measure that calls it could mean either.
import type { Catalogue } from '../catalogue/catalogue.ts';
import { type Item, itemNames } from '../catalogue/item.ts';
import type { Problem } from '../value/problem.ts';
import { foldText } from '../value/text.ts';

/** One name, one item: in the file, and against what is stocked under other ids. */
export function itemClashes(
  items: readonly { readonly item: Item; readonly line: number }[],
  books: Catalogue,
): Problem[] {
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
        message: `${item.name} stands twice in the file (id ${item.id}). Take one out.`,
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
