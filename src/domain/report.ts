// The closing report: what was poured, what should be there, what was counted, what is missing and how sure that is.
import { type Thousandths, toUnits, type Unit } from './amount.ts';
import {
  addFlows,
  type Books,
  type Flows,
  noFlows,
  type Period,
  type ShiftBooks,
  type Stock,
  type Tally,
} from './books.ts';
import type { PourPurpose } from './event.ts';
import type { House } from './house.ts';
import type { Item } from './item.ts';
import { millisToMinor, percentOf, valueAtCost } from './money.ts';
import { type Judged, judge, type Verdict } from './variance.ts';

export type ReportDrink = {
  readonly spec: string;
  readonly name: string;
  readonly count: number;
  readonly as: Readonly<Partial<Record<PourPurpose, number>>>;
};

export type ReportItem = {
  readonly item: string;
  readonly name: string;
  readonly unit: Unit;
  readonly from: string | null;
  readonly to: string | null;
  readonly opening: number;
  readonly received: number;
  readonly movedIn: number;
  readonly movedOut: number;
  readonly poured: number;
  readonly lost: number;
  readonly expected: number;
  readonly counted: number | null;
  readonly used: number | null;
  readonly missing: number | null;
  /** Expanded, k = 2. */
  readonly uncertainty: number | null;
  readonly missingPercent: number | null;
  readonly missingCostMinor: number | null;
  readonly verdict: Verdict;
  readonly places: readonly string[];
  /** Stretches between earlier counts of the same shift, or since the shift before was sealed. */
  readonly earlier: readonly {
    readonly from: string;
    readonly to: string;
    readonly missing: number;
    readonly uncertainty: number;
  }[];
  /** Which drinks drew how much of it this shift, most first; "" stands for straight measures. */
  readonly drawnBy: readonly { readonly spec: string; readonly name: string; readonly amount: number }[];
};

export type Report = {
  readonly house: { readonly name: string; readonly currency: string };
  readonly shift: {
    readonly id: string;
    readonly date: string;
    readonly openedAt: string;
    readonly closedAt: string | null;
    readonly status: 'open' | 'sealed';
    /** Only for a stretch of dates: its last date and how many shifts it has. */
    readonly to?: string;
    readonly shifts?: number;
  };
  readonly drinks: readonly ReportDrink[];
  /** Straight measures, which have no price of their own. */
  readonly straight: number;
  readonly items: readonly ReportItem[];
  readonly totals: {
    /** Missing less extra. */
    readonly missingCostMinor: number;
    /** The two apart, both above zero: what is extra of one item makes up for nothing of another. */
    readonly missingAloneMinor: number;
    readonly extraAloneMinor: number;
    readonly pouredCostMinor: number;
    readonly soldMinor: number;
    readonly pourCostPercent: number | null;
    readonly counted: number;
    readonly notCounted: number;
  };
};

/** The report of the shift the books are at: the open one, or the last. Null when there never was one. */
export function closingReport(books: Books): Report | null {
  const shift = books.shift;
  if (shift === null) return null;
  const items = reportItems(books, shift);
  const poured = millisToMinor(shift.costMillis);
  return {
    house: { name: books.house.name, currency: books.house.currency },
    shift: {
      id: shift.id,
      date: shift.date,
      openedAt: shift.openedAt,
      closedAt: shift.sealedAt,
      status: shift.sealedAt === null ? 'open' : 'sealed',
    },
    drinks: reportDrinks(books, shift.drinks),
    straight: shift.straight.count,
    items,
    totals: {
      ...costsOf(items),
      pouredCostMinor: poured,
      soldMinor: shift.soldMinor,
      pourCostPercent: percentOf(poured, shift.soldMinor, 2),
      counted: items.filter((item) => item.counted !== null).length,
      notCounted: items.filter((item) => item.counted === null).length,
    },
  };
}

/** What missing and extra items cost: together and apart. */
export function costsOf(items: readonly ReportItem[]): {
  missingCostMinor: number;
  missingAloneMinor: number;
  extraAloneMinor: number;
} {
  const costs = items.map((item) => item.missingCostMinor ?? 0);
  const sum = (list: readonly number[]): number => list.reduce((total, cost) => total + cost, 0);
  return {
    missingCostMinor: sum(costs),
    missingAloneMinor: sum(costs.filter((cost) => cost > 0)),
    extraAloneMinor: -sum(costs.filter((cost) => cost < 0)) || 0,
  };
}

export function reportDrinks(books: Books, drinks: ReadonlyMap<string, Tally>): ReportDrink[] {
  return [...drinks]
    .map(([spec, tally]) => ({
      spec,
      name: books.specs.get(spec as never)?.name ?? spec,
      count: tally.count,
      as: Object.fromEntries(Object.entries(tally.as).filter(([, count]) => count > 0)),
    }))
    .sort((a, b) => b.count - a.count || (a.name < b.name ? -1 : 1));
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
  const earlier = periods.filter((period) => !last.includes(period));
  const row = judged === null ? uncountedRow(stocks) : countedRow(last, judged, item);
  return {
    item: item.id,
    name: item.name,
    unit: item.unit,
    ...row,
    places: judged === null ? stocks.map((stock) => stock.place) : last.map((period) => period.place),
    earlier: earlier.map((period) => {
      const { missing, uncertainty } = judge([period], item, books.house);
      return {
        from: period.from.at,
        to: period.to.at,
        missing: toUnits(missing),
        uncertainty: roundedU(uncertainty, item),
      };
    }),
    drawnBy: [...(shift.drawnBy.get(item.id) ?? [])]
      .map(([spec, amount]) => ({
        spec,
        name: books.specs.get(spec as never)?.name ?? '',
        amount: toUnits(amount),
      }))
      .sort((a, b) => b.amount - a.amount),
  };
}

function lastOfEachPlace(periods: readonly Period[]): Period[] {
  const last = new Map<string, Period>();
  for (const period of periods) last.set(period.place, period);
  return [...last.values()];
}

type Row = Omit<ReportItem, 'item' | 'name' | 'unit' | 'places' | 'earlier' | 'drawnBy'>;

export function countedRow(periods: readonly Period[], judged: Judged, item: Item): Row {
  const flows = sumFlows(periods.map((period) => period.flows));
  const from = periods.map((period) => period.from.at).sort()[0] ?? null;
  const to =
    periods
      .map((period) => period.to.at)
      .sort()
      .at(-1) ?? null;
  return {
    from,
    to,
    opening: toUnits(judged.opening),
    ...flowUnits(flows),
    expected: toUnits(judged.expected),
    counted: toUnits(judged.counted),
    used: toUnits(judged.used),
    missing: toUnits(judged.missing),
    uncertainty: roundedU(judged.uncertainty, item),
    missingPercent: percentOf(judged.missing, flows.poured, 3),
    missingCostMinor: item.costMinor === null ? null : valueAtCost(judged.missing, item.costMinor, item.size),
    verdict: judged.verdict,
  };
}

export function uncountedRow(stocks: readonly Stock[]): Row {
  const flows = sumFlows(stocks.map((stock) => stock.flows));
  const counts = stocks.flatMap((stock) => (stock.counted === null ? [] : [stock.counted]));
  return {
    from: counts.map((mark) => mark.at).sort()[0] ?? null,
    to: null,
    opening: toUnits(counts.reduce((sum, mark) => sum + mark.amount, 0)),
    ...flowUnits(flows),
    expected: toUnits(stocks.reduce((sum, stock) => sum + stock.amount, 0)),
    counted: null,
    used: null,
    missing: null,
    uncertainty: null,
    missingPercent: null,
    missingCostMinor: null,
    verdict: 'not-counted',
  };
}

const roundedU = (uncertainty: Thousandths, item: Item): number =>
  item.unit === 'each' ? Math.round(uncertainty) / 1000 : Math.round(uncertainty / 100) / 10;

export const sumFlows = (all: readonly Flows[]): Flows => all.reduce(addFlows, noFlows);

const flowUnits = (flows: Flows) => ({
  received: toUnits(flows.received),
  movedIn: toUnits(flows.movedIn),
  movedOut: toUnits(flows.movedOut),
  poured: toUnits(flows.poured),
  lost: toUnits(flows.lost),
});

/** What matters first: sure and costly before unsure and cheap; uncounted ones last. */
export const byWeight =
  (house: House) =>
  (a: ReportItem, b: ReportItem): number =>
    weightOf(b, house) - weightOf(a, house) || (a.name < b.name ? -1 : 1);

/**
 * |value| × how many times its own ± it is; items without a cost weigh by certainty alone. What is worth less than the
 * house's money floor is not put forward, however sure it is.
 */
export function weightOf(row: ReportItem, house: House): number {
  if (row.missing === null) return -1;
  const exact = row.uncertainty === null || row.uncertainty === 0;
  const certainty = exact ? (row.missing === 0 ? 0 : 4) : Math.abs(row.missing) / (row.uncertainty ?? 1);
  const value = row.missingCostMinor === null ? house.moneyFloorMinor : Math.abs(row.missingCostMinor);
  const isSmall = value < house.moneyFloorMinor;
  return certainty <= 1 || isSmall ? certainty / 1000 : Math.min(certainty, 4) * Math.max(value, 1);
}
