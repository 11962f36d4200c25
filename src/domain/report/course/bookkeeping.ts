// Book-keeping figures over a stretch of nights: cost of beverages by the textbook identity (storeroom and bar), turnover,
// and what the closing stock is worth at the latest price and at the perpetual moving average. Dittmer & Keefe, Principles of
// Food, Beverage, and Labor Cost Controls, 9th ed. 2009, chapters 8 and 16 (published, seen second-hand).

import { type Average, type Books, emptyBooks, type Stock } from '../../ledger/books.ts';
import { worth } from '../../ledger/stock/worth.ts';
import { type BeverageCost, beverageCost, turnover } from '../../standard/cost.ts';
import { type Thousandths, toUnits, type Unit } from '../../value/amount.ts';
import type { ItemId } from '../../value/ids.ts';
import { apportion, millisToMinor } from '../../value/money.ts';
import type { Report, ReportItem } from '../report.ts';
import { piecesOf } from '../rows.ts';

export type StockValue = {
  readonly item: string;
  readonly name: string;
  readonly unit: Unit;
  readonly pieces: ReportItem['pieces'];
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
  /** Cost of beverages before any rounding to money: thousandths of a minor unit. */
  readonly costMillis: number;
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
 * Opening and closing are what the books expect at their perpetual moving average (`ledger/worth.ts`); what began to count within
 * the stretch stood there at its beginning, at the price it was written with. Purchases are deliveries at the cost given, else at
 * the item's last. So `costMillis` of nights adds up to that of the stretch, to the last thousandth.
 */
export function bookkeeping(
  before: Books | null,
  end: Books,
  report: Report,
  storeroom: string,
): Bookkeeping {
  const start = before ?? emptyBooks;
  const sides = [true, false].map((isStore) => {
    const isHere = ({ place }: Stock): boolean => (place === storeroom) === isStore;
    const closing = worthOf(end, isHere);
    return { opening: worthOf(start, isHere) + foundIn(end, isHere) - foundIn(start, isHere), closing };
  });
  const [store, bar] = sides as [Side, Side];
  const purchases = boughtUntil(end) - boughtUntil(start);
  const costAs = (as: string): number => report.purposes.find((row) => row.as === as)?.costMinor ?? 0;
  const input = {
    storeroomOpening: millisToMinor(store.opening),
    purchases,
    storeroomClosing: millisToMinor(store.closing),
    barOpening: millisToMinor(bar.opening),
    barClosing: millisToMinor(bar.closing),
    adds: [],
    subtracts: [costAs('staff'), costAs('comp')],
    sales: report.totals.soldMinor,
  };
  const cost = beverageCost(input);
  const known = input.storeroomOpening + input.barOpening;
  const { stock, latest, average } = stockValues(end);
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
    costMillis: store.opening + bar.opening + purchases * 1000 - store.closing - bar.closing,
    turnover: turnover(cost.cost, known, input.storeroomClosing + input.barClosing),
    stock,
    closingLatestMinor: latest,
    closingAverageMinor: average,
    unpriced: [...end.items.values()].filter((item) => item.costMinor === null).map(({ name }) => name),
    belowZero: [...end.items.values()]
      .filter((item) => [...end.stock.values()].some((one) => one.item === item.id && one.amount < 0))
      .map(({ name }) => name),
  };
}

type Side = { readonly opening: number; readonly closing: number };
type IsHere = (stock: Stock) => boolean;

const sumOver = (books: Books, isHere: IsHere, of: (stock: Stock) => number): number =>
  [...books.stock.values()].filter(isHere).reduce((sum, stock) => sum + of(stock), 0);

const averageOf = (books: Books, item: ItemId): Average | null => books.bought.get(item)?.average ?? null;

const worthOf = (books: Books, isHere: IsHere): number =>
  sumOver(books, isHere, ({ item, amount }) => worth(amount, averageOf(books, item)));

const foundIn = (books: Books, isHere: IsHere): number => sumOver(books, isHere, ({ found }) => found);

const boughtUntil = (books: Books): number =>
  [...books.bought.values()].reduce((sum, { costMinor }) => sum + costMinor, 0);

/** Each line at the latest cost and at the weighted average; totals rounded once and apportioned to the lines. */
function stockValues(end: Books): { stock: StockValue[]; latest: number; average: number } {
  const amounts = new Map<string, Thousandths>();
  for (const { item, amount } of end.stock.values()) amounts.set(item, (amounts.get(item) ?? 0) + amount);
  const rows = [...end.items.values()].flatMap((item) => {
    const amount = amounts.get(item.id) ?? 0;
    if (amount <= 0 || item.costMinor === null) return [];
    const latest: Average = { amount: item.size, millis: item.costMinor * 1000 };
    return [{ item, amount, latest: worth(amount, latest), average: worth(amount, averageOf(end, item.id)) }];
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
    pieces: piecesOf(item),
    amount: toUnits(amount),
    latestMinor: latestParts[index] ?? 0,
    averageMinor: averageParts[index] ?? 0,
  }));
  return { stock, latest, average };
}
