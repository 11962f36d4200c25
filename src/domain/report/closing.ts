// The closing report, made from the books a shift is at: the open one, or the last.

import type { Item } from '../catalogue/item.ts';
import { judge } from '../count/variance.ts';
import type { Books, Period, ShiftBooks, Stock } from '../ledger/books.ts';
import { personName } from '../ledger/books.ts';
import { baselineOf } from '../ledger/stock/containers.ts';
import { toUnits } from '../value/amount.ts';
import { manyLooks } from './looks.ts';
import type { Report, ReportItem } from './report.ts';
import {
  countedRow,
  earlierOf,
  lastOfEachPlace,
  piecesOf,
  reportDrinks,
  slipOf,
  sumFlows,
  uncountedRow,
  whoAndWhy,
} from './rows.ts';
import { hourRows, purposeRows, totalsOf } from './totals.ts';

/** The report of the shift the books are at: the open one, or the last. Null when there never was one. */
export function closingReport(books: Books): Report | null {
  const shift = books.shift;
  if (shift === null) return null;
  const items = manyLooks(reportItems(books, shift));
  return {
    house: { name: books.house.name, currency: books.house.currency },
    shift: {
      id: shift.id,
      date: shift.date,
      openedAt: shift.openedAt,
      closedAt: shift.sealedAt,
      sealedBy: personName(books, shift.sealedBy),
      status: shift.sealedAt === null ? 'open' : 'sealed',
    },
    drinks: reportDrinks(books, shift.drinks),
    straight: shift.straight.count,
    straightSoldMinor: shift.straight.soldMinor,
    straights: [...shift.drawnBy].flatMap(([item, by]) => {
      const amount = by.get('') ?? 0;
      return amount === 0 ? [] : [{ item, amount: toUnits(amount) }];
    }),
    purposes: purposeRows([...shift.drinks.values(), shift.straight]),
    hours: hourRows(shift.byHour, books.house),
    items,
    totals: totalsOf(items, [...shift.drinks.values(), shift.straight], shift.lostMillis),
    losses: [],
    till: null,
    notes: [],
  };
}

/** Every item that moved, was counted in this shift or stands somewhere; in the order of the catalogue. */
function reportItems(books: Books, shift: ShiftBooks): ReportItem[] {
  const stocks = new Map<string, Stock[]>();
  for (const stock of books.stock.values())
    stocks.set(stock.item, [...(stocks.get(stock.item) ?? []), stock]);
  const rows: ReportItem[] = [];
  for (const item of books.items.values()) {
    const periods = shift.periods.filter((period) => period.item === item.id);
    const own = stocks.get(item.id) ?? [];
    if (own.length === 0 && periods.length === 0) continue;
    rows.push(reportItem(books, shift, item, own, periods));
  }
  return rows;
}

function reportItem(
  books: Books,
  shift: ShiftBooks,
  item: Item,
  stocks: readonly Stock[],
  periods: readonly Period[],
): ReportItem {
  const last = lastOfEachPlace(periods.filter((period) => period.to.at >= shift.openedAt));
  const judged = last.length === 0 ? null : judge(last, item, books.house);
  const flows = sumFlows(
    judged === null ? stocks.map((stock) => baselineOf(stock).flows) : last.map((period) => period.flows),
  );
  return {
    item: item.id,
    name: item.name,
    kind: item.kind,
    unit: item.unit,
    size: toUnits(item.size),
    pieces: piecesOf(item),
    ...(judged === null ? uncountedRow(stocks) : countedRow(last, judged, item)),
    places: judged === null ? stocks.map((stock) => stock.place) : last.map((period) => period.place),
    earlier: earlierOf(periods, last, item, books.house),
    ...whoAndWhy(books, flows),
    isFirstCount: judged === null && stocks.some(({ counted }) => (counted?.at ?? '') >= shift.openedAt),
    slip: judged === null ? null : slipOf(stocks, last, judged, item, books.house),
    isCosted: item.costMinor !== null,
    lookedTwice: last.some(({ to }) => to.again === true),
    improbable: judged?.improbable ?? false,
    q: null,
    unlogged: null,
    corrected: null,
  };
}
