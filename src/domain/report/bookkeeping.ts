// Book-keeping figures over a stretch of nights: cost of beverages by the textbook identity (storeroom and bar), turnover,
// and what the closing stock is worth by two of the published methods. Dittmer & Keefe, Principles of Food, Beverage, and
// Labor Cost Controls, 9th ed. 2009, chapters 8 and 16 (published, seen second-hand).

import type { Item } from '../catalogue/item.ts';
import { type Books, emptyBooks, netFlow } from '../ledger/books.ts';
import { type BeverageCost, beverageCost, turnover } from '../standard/cost.ts';
import { type Thousandths, toUnits, type Unit } from '../value/amount.ts';
import { apportion, millisToMinor, roundHalfUp } from '../value/money.ts';
import { multiplyRatio, type Ratio, ratio } from '../value/ratio.ts';
import type { Report } from './report.ts';

export type StockValue = {
  readonly item: string;
  readonly name: string;
  readonly unit: Unit;
  readonly amount: number;
  readonly latestMinor: number;
  readonly averageMinor: number;
};

export type Bookkeeping = {
  readonly from: string;
  readonly to: string;
  readonly storeroom: string;
  readonly storeroomOpeningMinor: number;
  readonly purchasesMinor: number;
  readonly storeroomClosingMinor: number;
  readonly barOpeningMinor: number;
  readonly barClosingMinor: number;
  /** Staff drinks and comps, at cost: subtracted as managers' drinks and promotions are. */
  readonly staffMinor: number;
  readonly compMinor: number;
  readonly salesMinor: number;
  readonly cost: BeverageCost;
  readonly turnover: number | null;
  /** Closing stock, item by item; both columns add up to their totals. */
  readonly stock: readonly StockValue[];
  readonly closingLatestMinor: number;
  readonly closingAverageMinor: number;
  /** Items without a cost are worth nothing here, and those below zero weaken the figures: both are named. */
  readonly unpriced: readonly string[];
  readonly belowZero: readonly string[];
};

/**
 * Opening and closing are what the books expect; what was counted for the first time within the stretch stood there at its
 * beginning. Purchases are deliveries at the cost given, else at the item's last. Stock is valued at the weighted average of the
 * stretch, so that a dearer delivery is no gain on what was there before.
 */
export function bookkeeping(
  before: Books | null,
  end: Books,
  report: Report,
  storeroom: string,
): Bookkeeping {
  const start = before ?? emptyBooks;
  const opening = openingStock(start, end);
  const prices = new Map(
    [...end.items.values()].map((item) => [item.id as string, priceOf(start, end, item, opening)]),
  );
  const valueAt = (amounts: readonly Held[], isStore: boolean, pick: (price: Price) => Ratio): number =>
    millisToMinor(
      amounts
        .filter(({ place }) => (place === storeroom) === isStore)
        .reduce((sum, { item, amount }) => sum + worth(amount, pick(prices.get(item) ?? noPrice)), 0),
    );
  const closing = [...end.stock.values()];
  const purchases = [...end.bought].reduce(
    (sum, [id, bought]) => sum + bought.costMinor - (start.bought.get(id)?.costMinor ?? 0),
    0,
  );
  const costAs = (as: string): number => report.purposes.find((row) => row.as === as)?.costMinor ?? 0;
  const input = {
    storeroomOpening: valueAt(opening, true, ({ first }) => first),
    purchases,
    storeroomClosing: valueAt(closing, true, ({ average }) => average),
    barOpening: valueAt(opening, false, ({ first }) => first),
    barClosing: valueAt(closing, false, ({ average }) => average),
    adds: [],
    subtracts: [costAs('staff'), costAs('comp')],
    sales: report.totals.soldMinor,
  };
  const cost = beverageCost(input);
  const known = input.storeroomOpening + input.barOpening;
  const { stock, latest, average } = stockValues(end, prices);
  return {
    from: report.shift.date,
    to: report.shift.to ?? report.shift.date,
    storeroom,
    storeroomOpeningMinor: input.storeroomOpening,
    purchasesMinor: purchases,
    storeroomClosingMinor: input.storeroomClosing,
    barOpeningMinor: input.barOpening,
    barClosingMinor: input.barClosing,
    staffMinor: costAs('staff'),
    compMinor: costAs('comp'),
    salesMinor: input.sales,
    cost,
    turnover: turnover(cost.cost, known, input.storeroomClosing + input.barClosing),
    stock,
    closingLatestMinor: latest,
    closingAverageMinor: average,
    unpriced: [...end.items.values()].filter((item) => item.costMinor === null).map(({ name }) => name),
    belowZero: [...end.items.values()]
      .filter((item) => closing.some((one) => one.item === item.id && one.amount < 0))
      .map(({ name }) => name),
  };
}

type Held = { readonly item: string; readonly place: string; readonly amount: Thousandths };

/** What stood where at the beginning: what the books expected then, and what first counts found since. */
function openingStock(start: Books, end: Books): Held[] {
  return [...end.stock].map(([key, { item, place, first }]) => {
    const before = start.stock.get(key);
    if (before?.counted != null || first === null) return { item, place, amount: before?.amount ?? 0 };
    // What came and went before the first count is in the purchases and the pours; the rest stood there.
    const amount =
      Math.max(0, first.mark.amount - netFlow(first.total)) +
      (before === undefined ? 0 : netFlow(before.flows));
    return { item, place, amount };
  });
}

/** Thousandths of a minor unit for one thousandth of the item: at the beginning, and averaged over the stretch. */
type Price = { readonly first: Ratio; readonly average: Ratio; readonly latest: Ratio };
const noPrice: Price = { first: ratio(0), average: ratio(0), latest: ratio(0) };
const worth = (amount: Thousandths, price: Ratio): number => roundHalfUp(multiplyRatio(ratio(amount), price));

/** Weighted average (chapter 8): value of opening stock and purchases ÷ their amount. */
function priceOf(start: Books, end: Books, item: Item, opening: readonly Held[]): Price {
  const perUnit = (minor: number): Ratio => ratio(BigInt(minor) * 1000n, BigInt(item.size));
  const latest = perUnit(item.costMinor ?? 0);
  const first = perUnit(start.items.get(item.id)?.costMinor ?? firstCost(start, end, item));
  const held = opening.reduce((sum, one) => sum + (one.item === item.id ? Math.max(0, one.amount) : 0), 0);
  const [before, now] = [start.bought.get(item.id), end.bought.get(item.id)];
  const amount = (now?.amount ?? 0) - (before?.amount ?? 0);
  const minor = (now?.costMinor ?? 0) - (before?.costMinor ?? 0);
  if (held + amount === 0) return { first, average: latest, latest };
  const value = ratio(BigInt(held) * first.num + BigInt(minor) * 1000n * first.den, first.den);
  return { first, average: ratio(value.num, value.den * BigInt(held + amount)), latest };
}

/** What an item cost before the stretch is unknown: then what it cost on average within it, else what it costs now. */
function firstCost(start: Books, end: Books, item: Item): number {
  const bought = end.bought.get(item.id);
  if (bought === undefined || start.bought.has(item.id)) return item.costMinor ?? 0;
  return roundHalfUp(ratio(BigInt(bought.costMinor) * BigInt(item.size), BigInt(bought.amount)));
}

/** Each line at the latest cost and at the weighted average; totals rounded once and apportioned to the lines. */
function stockValues(
  end: Books,
  prices: ReadonlyMap<string, Price>,
): { stock: StockValue[]; latest: number; average: number } {
  const amounts = new Map<string, Thousandths>();
  for (const { item, amount } of end.stock.values()) amounts.set(item, (amounts.get(item) ?? 0) + amount);
  const rows = [...end.items.values()].flatMap((item) => {
    const amount = amounts.get(item.id) ?? 0;
    const price = prices.get(item.id);
    if (amount <= 0 || item.costMinor === null || price === undefined) return [];
    return [{ item, amount, latest: worth(amount, price.latest), average: worth(amount, price.average) }];
  });
  const total = (pick: (row: (typeof rows)[number]) => number): number =>
    rows.reduce((sum, row) => sum + pick(row), 0);
  const latest = millisToMinor(total((row) => row.latest));
  const average = millisToMinor(total((row) => row.average));
  const latestParts = apportion(
    latest,
    rows.map((row) => row.latest),
  );
  const averageParts = apportion(
    average,
    rows.map((row) => row.average),
  );
  const stock = rows.map(({ item, amount }, index) => ({
    item: item.id,
    name: item.name,
    unit: item.unit,
    amount: toUnits(amount),
    latestMinor: latestParts[index] ?? 0,
    averageMinor: averageParts[index] ?? 0,
  }));
  return { stock, latest, average };
}
