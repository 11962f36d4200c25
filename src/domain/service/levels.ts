// What stands where, how full, and how many drinks it still gives.

import { itemsInUse, specsInUse } from '../catalogue/catalogue.ts';
import type { Item } from '../catalogue/item.ts';
import { needsOf, specLines } from '../drink/measures.ts';
import { type Books, type Stock, usableByItem } from '../ledger/books.ts';
import { type Thousandths, toUnits, type Unit } from '../value/amount.ts';
import { memoBy } from '../value/memo.ts';

export type Level = {
  readonly item: Item;
  readonly place: string;
  readonly expected: Thousandths;
  readonly sealed: number;
  readonly open: readonly Thousandths[];
  /** Whole drinks of the spec poured most that needs this item; null when no spec does. */
  readonly drinksLeft: number | null;
  /** The same of what stands at this place alone. */
  readonly drinksHere: number | null;
};

/** Every item at every place it stands, home place first, in shelf order; items never seen stand at home with nothing. */
export function levelsOf(books: Books): Level[] {
  const typical = typicalMeasures(books);
  const expected = usableByItem(books);
  const levels: Level[] = [];
  const byItem = new Map<string, Stock[]>();
  for (const stock of books.stock.values())
    byItem.set(stock.item, [...(byItem.get(stock.item) ?? []), stock]);
  for (const item of itemsInUse(books)) {
    const measure = typical.get(item.id);
    const left =
      measure === undefined ? null : Math.max(0, Math.floor((expected.get(item.id) ?? 0) / measure));
    const stocks = byItem.get(item.id) ?? [];
    if (!stocks.some((stock) => stock.place === item.place)) {
      levels.push({
        item,
        place: item.place,
        expected: 0,
        sealed: 0,
        open: [],
        drinksLeft: left,
        drinksHere: measure === undefined ? null : 0,
      });
    }
    for (const stock of stocks) {
      const { place, amount, sealed, open } = stock;
      const here =
        measure === undefined || left === null
          ? null
          : Math.min(left, Math.max(0, Math.floor(amount / measure)));
      levels.push({ item, place, expected: amount, sealed, open, drinksLeft: left, drinksHere: here });
    }
  }
  return levels.sort(byShelf);
}

/** Places in the order of their names, then the shelf (numbers as numbers), then the name. */
function byShelf(a: Level, b: Level): number {
  if (a.place !== b.place) return a.place < b.place ? -1 : 1;
  return (
    shelfOrder.compare(a.item.shelf, b.item.shelf) ||
    (a.item.name < b.item.name ? -1 : a.item.name > b.item.name ? 1 : 0)
  );
}
const shelfOrder = new Intl.Collator('en', { numeric: true });

/** So few drinks of an item are worth a word. */
export const LOW_DRINKS = 4;

/** Whole drinks an amount of an item gives, by the spec poured most that needs it; null when no spec does. */
export function drinksOf(books: Books, item: string, amount: Thousandths): number | null {
  const measure = typicalMeasures(books).get(item);
  return measure === undefined ? null : Math.max(0, Math.floor(amount / measure));
}

/**
 * For each item the measure of the spec that is poured most; so "drinks left" means the drink people will ask for. Worked out
 * once a shift and catalogue: habits move slowly, and every tap asks.
 */
const typicalMeasures = memoBy(
  ({ specs, items, house, shift }: Books) => [specs, items, house, shift?.id],
  (books): ReadonlyMap<string, number> => {
    const best = new Map<string, { weight: number; amount: number }>();
    for (const spec of specsInUse(books)) {
      const lines = specLines(spec, books);
      if (!lines.ok) continue;
      const weight = 1 + (books.habit.get(spec.id) ?? 0);
      for (const [id, amount] of needsOf(lines.value)) {
        const before = best.get(id);
        if (before === undefined || weight > before.weight) best.set(id, { weight, amount });
      }
    }
    return new Map([...best].map(([item, { amount }]) => [item, amount]));
  },
);

export type LevelJson = {
  readonly item: string;
  readonly name: string;
  readonly place: string;
  readonly unit: Unit;
  readonly expected: number;
  readonly sealed: number;
  readonly open: number;
  readonly drinksLeft: number | null;
};

export const levelJson = (level: Level): LevelJson => ({
  item: level.item.id,
  name: level.item.name,
  place: level.place,
  unit: level.item.unit,
  expected: toUnits(level.expected),
  sealed: level.sealed,
  open: toUnits(level.open.reduce((sum, amount) => sum + amount, 0)),
  drinksLeft: level.drinksHere,
});
