// Book-keeping figures over a stretch of nights: cost of beverages by the textbook identity (storeroom and bar), turnover,
// and what the closing stock is worth by two of the published methods. Dittmer & Keefe, Principles of Food, Beverage, and
// Labor Cost Controls, 9th ed. 2009, chapters 8 and 16 (published, seen second-hand).
import { type Thousandths, toUnits, type Unit } from './amount.ts';
import { type Books, emptyBooks, type Stock } from './books.ts';
import { type BeverageCost, beverageCost, turnover } from './cost.ts';
import type { Item } from './item.ts';
import { apportion, millisToMinor, roundHalfUp, valueInMillis } from './money.ts';
import { type Ratio, ratio } from './ratio.ts';
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
  /** Items without a cost: they are worth nothing here, and are named. */
  readonly unpriced: readonly string[];
};

/** Opening and closing are what the books expect, at the cost of the time; purchases are deliveries at the cost given, else at the item's last. */
export function bookkeeping(
  before: Books | null,
  end: Books,
  report: Report,
  storeroom: string,
): Bookkeeping {
  const start = before ?? emptyBooks;
  const [storeroomOpening, barOpening] = valuesAt(start, storeroom);
  const [storeroomClosing, barClosing] = valuesAt(end, storeroom);
  const purchases = [...end.bought].reduce(
    (sum, [id, bought]) => sum + bought.costMinor - (start.bought.get(id)?.costMinor ?? 0),
    0,
  );
  const costAs = (as: string): number => report.purposes.find((row) => row.as === as)?.costMinor ?? 0;
  const input = {
    storeroomOpening,
    purchases,
    storeroomClosing,
    barOpening,
    barClosing,
    adds: [],
    subtracts: [costAs('staff'), costAs('comp')],
    sales: report.totals.soldMinor,
  };
  const cost = beverageCost(input);
  const { stock, latest, average } = stockValues(start, end);
  return {
    from: report.shift.date,
    to: report.shift.to ?? report.shift.date,
    storeroom,
    storeroomOpeningMinor: storeroomOpening,
    purchasesMinor: purchases,
    storeroomClosingMinor: storeroomClosing,
    barOpeningMinor: barOpening,
    barClosingMinor: barClosing,
    staffMinor: costAs('staff'),
    compMinor: costAs('comp'),
    salesMinor: input.sales,
    cost,
    turnover: turnover(cost.cost, storeroomOpening + barOpening, storeroomClosing + barClosing),
    stock,
    closingLatestMinor: latest,
    closingAverageMinor: average,
    unpriced: [...end.items.values()].filter((item) => item.costMinor === null).map(({ name }) => name),
  };
}

/** What stands in the storeroom and what at the bar, each rounded once. */
function valuesAt(books: Books, storeroom: string): [storeroom: number, bar: number] {
  const millis = (wanted: (stock: Stock) => boolean): number =>
    [...books.stock.values()].filter(wanted).reduce((sum, stock) => sum + millisOf(stock, books), 0);
  return [
    millisToMinor(millis(({ place }) => place === storeroom)),
    millisToMinor(millis(({ place }) => place !== storeroom)),
  ];
}

function millisOf({ item, amount }: Stock, books: Books): number {
  const known = books.items.get(item);
  return known === undefined || known.costMinor === null
    ? 0
    : valueInMillis(amount, known.costMinor, known.size);
}

/** Each line at the latest cost and at the period's weighted average; totals rounded once and apportioned to the lines. */
function stockValues(start: Books, end: Books): { stock: StockValue[]; latest: number; average: number } {
  const amounts = amountsOf(end);
  const opening = amountsOf(start);
  const rows = [...end.items.values()].flatMap((item) => {
    const amount = Math.max(0, amounts.get(item.id) ?? 0);
    if (amount === 0 || item.costMinor === null) return [];
    const latest = valueInMillis(amount, item.costMinor, item.size);
    const average = averageMillis(start, end, item, opening.get(item.id) ?? 0, amount);
    return [{ item, amount, latest, average }];
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

function amountsOf(books: Books): Map<string, Thousandths> {
  const sums = new Map<string, Thousandths>();
  for (const { item, amount } of books.stock.values()) sums.set(item, (sums.get(item) ?? 0) + amount);
  return sums;
}

/** Weighted average (chapter 8): value of opening stock and purchases ÷ their amount, times what is left. */
function averageMillis(
  start: Books,
  end: Books,
  item: Item,
  opening: Thousandths,
  amount: Thousandths,
): number {
  const cost = start.items.get(item.id)?.costMinor ?? item.costMinor ?? 0;
  const [before, now] = [start.bought.get(item.id), end.bought.get(item.id)];
  const boughtAmount = (now?.amount ?? 0) - (before?.amount ?? 0);
  const boughtMinor = (now?.costMinor ?? 0) - (before?.costMinor ?? 0);
  const held = Math.max(0, opening);
  if (held + boughtAmount === 0) return valueInMillis(amount, item.costMinor ?? 0, item.size);
  const value: Ratio = ratio(
    BigInt(held) * BigInt(cost) * 1000n + BigInt(boughtMinor) * 1000n * BigInt(item.size),
    BigInt(item.size),
  );
  return roundHalfUp(ratio(value.num * BigInt(amount), value.den * BigInt(held + boughtAmount)));
}
