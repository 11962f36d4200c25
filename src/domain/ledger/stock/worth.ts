// What stands, at cost: one perpetual moving average per item, folded with the events. What comes in moves the average; pours,
// losses, moves and later counts never do. So the worth of the stock is a figure of the books at any moment, and what nights
// cost adds up to what the stretch cost. Weighted average: Dittmer & Keefe, Principles of Food, Beverage, and Labor Cost
// Controls, 9th ed. 2009, chapter 8 (published, seen second-hand).

import { type Item, TAP_WATER } from '../../catalogue/item.ts';
import type { Thousandths } from '../../value/amount.ts';
import type { ItemId } from '../../value/ids.ts';
import { valueAtCost } from '../../value/money.ts';
import { type Average, type Books, type Bought, type Stock, stockKey } from '../books.ts';
import type { Making } from '../event.ts';
import { type Folding, own } from '../folding.ts';

const nothing: Bought = { amount: 0, costMinor: 0, written: null, average: null, costs: [] };

/** Worth of an amount at an average, in thousandths of a minor unit, half away from zero; nothing without a price. Never throws. */
export function worth(amount: Thousandths, average: Average | null): number {
  if (average === null || average.amount <= 0) return 0;
  const [value, of] = [BigInt(Math.abs(amount)) * BigInt(average.millis), BigInt(average.amount)];
  const size = Number((2n * value + of) / (2n * of));
  return amount < 0 ? -size : size;
}

/** What an item cost at a moment since the last seal; null when no cost was known. */
export function costAt({ bought }: Pick<Books, 'bought'>, item: Item, at: string): number | null {
  const costs = bought.get(item.id)?.costs ?? [];
  const known = costs.findLast(({ from }) => from <= at) ?? costs[0];
  return known === undefined ? item.costMinor : known.costMinor;
}

const stocksOf = (folding: Folding, item: ItemId): Stock[] =>
  [...folding.stock.values()].filter((stock) => stock.item === item);

/** What of an item stands with a price, all places together; what is below zero has none to give. */
const standing = (folding: Folding, item: ItemId): Thousandths =>
  Math.max(
    0,
    stocksOf(folding, item).reduce((sum, { amount }) => sum + amount, 0),
  );

const set = (folding: Folding, item: ItemId, bought: Bought): void => {
  folding.bought = own(folding, folding.bought).set(item, bought);
};

const withCost = (costs: Bought['costs'], from: string, costMinor: number | null): Bought['costs'] =>
  costs.at(-1)?.costMinor === costMinor && costs.length > 0 ? costs : [...costs, { from, costMinor }];

/** What stands there unpriced when a price comes counts from then on, as if it had been found. */
function priceWhatStands(folding: Folding, item: ItemId, price: Average): void {
  for (const stock of stocksOf(folding, item))
    if (stock.amount > 0) addFound(folding, stock, worth(stock.amount, price));
}

function addFound(folding: Folding, stock: Stock, millis: number): void {
  if (millis === 0) return;
  const key = stockKey(stock.item, stock.place);
  folding.stock = own(folding, folding.stock).set(key, { ...stock, found: stock.found + millis });
}

/** An item as it is written: its price is the first one, as long as nothing of it has stood anywhere. */
export function notePrice(folding: Folding, item: Item, at: string): void {
  const before = folding.bought.get(item.id) ?? nothing;
  const costs = withCost(before.costs, at, item.costMinor);
  const isPriced = before.average !== null && stocksOf(folding, item.id).length > 0;
  if (item.costMinor === null || isPriced) {
    set(folding, item.id, { ...before, costs });
    return;
  }
  const price: Average = { amount: item.size, millis: item.costMinor * 1000 };
  if (before.average === null) priceWhatStands(folding, item.id, price);
  set(folding, item.id, { ...before, costs, written: price, average: price });
}

/** A delivery with its cost known: call it before the amount is added to the stock. */
export function noteBought(
  folding: Folding,
  item: Item,
  came: { readonly amount: Thousandths; readonly costMinor: number; readonly at: string },
): void {
  const before = folding.bought.get(item.id) ?? nothing;
  const costMinor = valueAtCost(came.amount, came.costMinor, item.size);
  const paid: Average = { amount: came.amount, millis: costMinor * 1000 };
  if (before.average === null) priceWhatStands(folding, item.id, paid);
  const stood = standing(folding, item.id);
  set(folding, item.id, {
    amount: before.amount + came.amount,
    costMinor: before.costMinor + costMinor,
    costs: withCost(before.costs, came.at, came.costMinor),
    written: before.written ?? paid,
    average: {
      amount: stood + came.amount,
      millis: worth(stood, before.average ?? paid) + paid.millis,
    },
  });
}

/** What is made here is worth what went into it, at the averages of that; no purchase. Call it before anything of it moves. */
export function noteMade(folding: Folding, item: Item, making: Making): void {
  const average = (id: ItemId): Average | null => folding.bought.get(id)?.average ?? null;
  const isCosted = making.draws.every((draw) => draw.item === TAP_WATER.id || average(draw.item) !== null);
  if (!isCosted) return;
  const millis = making.draws.reduce((sum, draw) => sum + worth(draw.amount, average(draw.item)), 0);
  const before = folding.bought.get(item.id) ?? nothing;
  const price: Average = { amount: making.amount, millis };
  if (before.average === null) priceWhatStands(folding, item.id, price);
  const stood = standing(folding, item.id);
  set(folding, item.id, {
    ...before,
    costs: withCost(before.costs, making.at, making.made.costMinor ?? item.costMinor),
    written: before.written ?? price,
    average: {
      amount: stood + making.amount,
      millis: worth(stood, before.average ?? price) + millis,
    },
  });
}

/**
 * A first count finds what stood there before the books began, at the price the item was written with: call it before the count
 * is set. `replaced` is what the first look had found, when this is the second look at it.
 */
export function noteFound(folding: Folding, stock: Stock, found: Thousandths, replaced: Thousandths): void {
  const bought = folding.bought.get(stock.item);
  if (bought === undefined || bought.average === null) return;
  const { written, average } = bought;
  const stood = standing(folding, stock.item);
  addFound(folding, stock, worth(found, written) - worth(replaced, written));
  if (replaced > 0 || stood + found <= 0) return;
  const millis = worth(stood, average) + worth(found, written);
  set(folding, stock.item, { ...bought, average: { amount: stood + found, millis } });
}

/** What is sealed takes no late entry: of the costs only the last one is asked for again. */
export function forgetCosts(folding: Folding): void {
  for (const [item, bought] of folding.bought)
    if (bought.costs.length > 1) set(folding, item, { ...bought, costs: bought.costs.slice(-1) });
}
