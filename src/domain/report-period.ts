// A report over several shifts. An item's readings in between cancel: only the first and the last count carry a ±.
import type { Books, Period } from './books.ts';
import type { Item } from './item.ts';
import { millisToMinor, percentOf } from './money.ts';
import { costsOf, countedRow, type Report, type ReportItem, reportDrinks, uncountedRow } from './report.ts';
import { addTallies } from './tally.ts';
import { judge } from './variance.ts';

/**
 * One report over the shifts of a stretch of dates. `books` are the books at the end of each shift, oldest first, at least
 * one. What was counted within the stretch is judged over it; the rest is listed as not counted.
 */
export function periodReport(books: readonly Books[], from: string, to: string): Report | null {
  const last = books.at(-1);
  const shifts = books.flatMap((each) => (each.shift === null ? [] : [each.shift]));
  const [first] = shifts;
  const end = shifts.at(-1);
  if (last === undefined || first === undefined || end === undefined) return null;
  const periods = shifts.flatMap((shift) => shift.periods);
  const items = [...last.items.values()].flatMap((item) => rowOf(last, item, periods) ?? []);
  const drinks = addTallies(shifts.map((shift) => shift.drinks));
  const soldMinor = shifts.reduce((sum, shift) => sum + shift.soldMinor, 0);
  const pouredCostMinor = millisToMinor(shifts.reduce((sum, shift) => sum + shift.costMillis, 0));
  return {
    house: { name: last.house.name, currency: last.house.currency },
    shift: {
      id: first.id,
      date: from,
      to,
      openedAt: first.openedAt,
      closedAt: end.sealedAt,
      status: end.sealedAt === null ? 'open' : 'sealed',
      shifts: shifts.length,
    },
    drinks: reportDrinks(last, drinks),
    straight: shifts.reduce((sum, shift) => sum + shift.straight.count, 0),
    items,
    totals: {
      ...costsOf(items),
      pouredCostMinor,
      soldMinor,
      pourCostPercent: percentOf(pouredCostMinor, soldMinor, 2),
      counted: items.filter((item) => item.counted !== null).length,
      notCounted: items.filter((item) => item.counted === null).length,
    },
  };
}

function rowOf(last: Books, item: Item, all: readonly Period[]): ReportItem | null {
  const periods = all.filter((period) => period.item === item.id);
  const stocks = [...last.stock.values()].filter((stock) => stock.item === item.id);
  if (periods.length === 0 && stocks.length === 0) return null;
  const judged = periods.length === 0 ? null : judge(periods, item, last.house);
  const places = [...new Set((judged === null ? stocks : periods).map((each) => each.place))];
  const row = judged === null ? uncountedRow(stocks) : countedRow(periods, judged, item);
  return { item: item.id, name: item.name, unit: item.unit, ...row, places, earlier: [], drawnBy: [] };
}
