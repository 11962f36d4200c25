// The closing report: what was poured, what should be there, what was counted, what is missing and how sure that is.
import type { Unit } from './amount.ts';
import type { Books, Period, ShiftBooks, Stock, Tally } from './books.ts';
import { type Correctable, type PourPurpose, purposes } from './event.ts';
import type { House } from './house.ts';
import type { Item } from './item.ts';
import { millisToMinor, percentOf } from './money.ts';
import {
  countedRow,
  earlierOf,
  lastOfEachPlace,
  type Row,
  slipOf,
  sumFlows,
  uncountedRow,
  whoAndWhy,
} from './report-rows.ts';
import { noTally } from './tally.ts';
import { judge, type Verdict } from './variance.ts';

export type ReportDrink = {
  readonly spec: string;
  readonly name: string;
  readonly count: number;
  readonly as: Readonly<Partial<Record<PourPurpose, number>>>;
};

export type Share = { readonly name: string; readonly amount: number };

/** Two nights in a row that cancel: what was missing came back, so a reading was likely wrong. */
export type Slip = {
  readonly before: number;
  readonly beforeUncertainty: number;
  readonly together: number;
  readonly uncertainty: number;
};

/** What a sealed report would say with what became known later. */
export type Corrected = {
  readonly missing: number;
  readonly missingCostMinor: number | null;
  readonly verdict: Verdict;
  readonly corrections: readonly {
    readonly what: Correctable;
    readonly amount: number;
    readonly why: string;
    readonly by: string | null;
    readonly at: string;
  }[];
};

export type ReportItem = Row & {
  readonly item: string;
  readonly name: string;
  readonly unit: Unit;
  readonly places: readonly string[];
  /** Stretches between earlier counts of the same shift, or since the shift before was sealed. */
  readonly earlier: readonly {
    readonly from: string;
    readonly to: string;
    readonly missing: number;
    readonly uncertainty: number;
    readonly missingCostMinor: number | null;
  }[];
  /** Which drinks drew how much of it, most first; "" stands for straight measures. */
  readonly drawnBy: readonly { readonly spec: string; readonly name: string; readonly amount: number }[];
  /** Who poured how much of it, by name; "" is nobody named. */
  readonly pouredBy: readonly Share[];
  /** Poured other than as sales, and lost: by purpose and by reason. */
  readonly pouredAs: readonly Share[];
  readonly lostTo: readonly Share[];
  readonly slip: Slip | null;
  /** What drinks that the till sold and nobody logged would have taken; null without lines of the till. */
  readonly unlogged: number | null;
  readonly corrected: Corrected | null;
};

/** One name of the till beside the tally. */
export type TillRow = {
  readonly drink: string;
  readonly spec: string | null;
  /** `unknown`: a name nobody has matched yet; `not-ours`: matched to nothing we pour by a spec. */
  readonly match: 'spec' | 'unknown' | 'not-ours';
  readonly sold: number;
  /** Poured as sales; null where there is no spec. */
  readonly logged: number | null;
  readonly difference: number | null;
};

export type PurposeRow = {
  readonly as: PourPurpose;
  readonly count: number;
  readonly costMinor: number;
};

export type Totals = {
  /** Missing less extra, with its expanded uncertainty: the items' own are independent. */
  readonly missingCostMinor: number;
  readonly missingCostUncertaintyMinor: number;
  /** The same in millilitres, over everything counted in them. */
  readonly missingMl: number;
  readonly missingMlUncertainty: number;
  /** The two apart, both above zero: what is extra of one item makes up for nothing of another. */
  readonly missingAloneMinor: number;
  readonly extraAloneMinor: number;
  readonly pouredCostMinor: number;
  readonly soldMinor: number;
  readonly pourCostPercent: number | null;
  /** Standard: what was sold, at the cost of its specs. Actual: all that left, counted where it was counted. */
  readonly standardCostMinor: number;
  readonly standardPercent: number | null;
  readonly actualCostMinor: number;
  readonly actualPercent: number | null;
  readonly lostCostMinor: number;
  /** Missing less extra of the earlier stretches of the same shift, which stand beside the last ones. */
  readonly earlierCostMinor: number;
  readonly counted: number;
  readonly notCounted: number;
};

export type Report = {
  readonly house: { readonly name: string; readonly currency: string };
  readonly shift: {
    readonly id: string;
    readonly date: string;
    readonly openedAt: string;
    readonly closedAt: string | null;
    readonly sealedBy: string | null;
    readonly status: 'open' | 'sealed';
    /** Only for a stretch of dates: its last date and how many shifts it has. */
    readonly to?: string;
    readonly shifts?: number;
  };
  readonly drinks: readonly ReportDrink[];
  /** Straight measures, which have no price of their own. */
  readonly straight: number;
  readonly purposes: readonly PurposeRow[];
  /** Drinks by the hour on the house's wall, in the order of the night. */
  readonly hours: readonly { readonly hour: string; readonly count: number }[];
  readonly items: readonly ReportItem[];
  readonly totals: Totals;
  /** Null until lines of the till were imported. */
  readonly till: readonly TillRow[] | null;
  readonly notes: readonly {
    readonly item: string | null;
    readonly name: string | null;
    readonly text: string;
    readonly by: string | null;
    readonly at: string;
  }[];
};

/** The report of the shift the books are at: the open one, or the last. Null when there never was one. */
export function closingReport(books: Books): Report | null {
  const shift = books.shift;
  if (shift === null) return null;
  const items = reportItems(books, shift);
  return {
    house: { name: books.house.name, currency: books.house.currency },
    shift: {
      id: shift.id,
      date: shift.date,
      openedAt: shift.openedAt,
      closedAt: shift.sealedAt,
      sealedBy: nameOf(books, shift.sealedBy),
      status: shift.sealedAt === null ? 'open' : 'sealed',
    },
    drinks: reportDrinks(books, shift.drinks),
    straight: shift.straight.count,
    purposes: purposeRows([...shift.drinks.values(), shift.straight]),
    hours: hourRows(shift.byHour, books.house),
    items,
    totals: totalsOf(items, [...shift.drinks.values(), shift.straight], shift.lostMillis),
    till: null,
    notes: [],
  };
}

export const nameOf = (books: Books, person: string | null): string | null =>
  person === null ? null : (books.people.get(person as never)?.name ?? person);

/** All money of a report, from its items and its tallies. */
export function totalsOf(
  items: readonly ReportItem[],
  tallies: readonly Tally[],
  lostMillis: number,
): Totals {
  const sum = (pick: (item: ReportItem) => number): number =>
    items.reduce((total, item) => total + pick(item), 0);
  const rootOf = (pick: (item: ReportItem) => number): number => Math.sqrt(sum((item) => pick(item) ** 2));
  const costs = items.map((item) => item.missingCostMinor ?? 0);
  const purposeCosts = purposeRows(tallies);
  const poured = millisToMinor(tallies.reduce((total, tally) => total + allCost(tally), 0));
  const sold = tallies.reduce((total, tally) => total + tally.soldMinor, 0);
  const standard = purposeCosts.find(({ as }) => as === 'sale')?.costMinor ?? 0;
  const missing = costs.reduce((total, cost) => total + cost, 0);
  const lost = millisToMinor(lostMillis);
  const earlier = sum((item) =>
    item.earlier.reduce((total, { missingCostMinor }) => total + (missingCostMinor ?? 0), 0),
  );
  const actual = poured + lost + missing + earlier;
  const ml = items.filter((item) => item.unit === 'ml');
  return {
    missingCostMinor: missing,
    missingCostUncertaintyMinor: Math.round(rootOf((item) => item.missingCostUncertaintyMinor ?? 0)),
    missingMl: Math.round(ml.reduce((total, item) => total + (item.missing ?? 0), 0) * 1000) / 1000,
    missingMlUncertainty:
      Math.round(Math.sqrt(ml.reduce((total, item) => total + (item.uncertainty ?? 0) ** 2, 0)) * 10) / 10,
    missingAloneMinor: costs.filter((cost) => cost > 0).reduce((total, cost) => total + cost, 0),
    extraAloneMinor: -costs.filter((cost) => cost < 0).reduce((total, cost) => total + cost, 0) || 0,
    pouredCostMinor: poured,
    soldMinor: sold,
    pourCostPercent: percentOf(poured, sold, 2),
    standardCostMinor: standard,
    standardPercent: percentOf(standard, sold, 2),
    actualCostMinor: actual,
    actualPercent: percentOf(actual, sold, 2),
    lostCostMinor: lost,
    earlierCostMinor: earlier,
    counted: items.filter((item) => item.counted !== null).length,
    notCounted: items.filter((item) => item.counted === null).length,
  };
}

const allCost = (tally: Tally): number => purposes.reduce((sum, as) => sum + tally.costAs[as], 0);

/** What was poured as what, and what that took at cost; purposes nobody used fall away. */
export function purposeRows(tallies: readonly Tally[]): PurposeRow[] {
  return purposes
    .map((as) => ({
      as,
      count: tallies.reduce((sum, tally) => sum + tally.as[as], 0),
      costMinor: millisToMinor(tallies.reduce((sum, tally) => sum + tally.costAs[as], 0)),
    }))
    .filter(({ count }) => count > 0);
}

/** Hours in the order of a night that begins at the cut-off. */
export function hourRows(byHour: Readonly<Record<string, number>>, house: House): Report['hours'] {
  const place = (hour: string): number => (Number(hour) - house.cutOffHour + 24) % 24;
  return Object.entries(byHour)
    .map(([hour, count]) => ({ hour, count }))
    .filter(({ count }) => count > 0)
    .sort((a, b) => place(a.hour) - place(b.hour));
}

export function reportDrinks(books: Books, drinks: ReadonlyMap<string, Tally>): ReportDrink[] {
  return [...drinks]
    .filter(([, tally]) => tally.count > 0)
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
  const flows = sumFlows(
    judged === null ? stocks.map((stock) => stock.flows) : last.map((period) => period.flows),
  );
  return {
    item: item.id,
    name: item.name,
    unit: item.unit,
    ...(judged === null ? uncountedRow(stocks) : countedRow(last, judged, item)),
    places: judged === null ? stocks.map((stock) => stock.place) : last.map((period) => period.place),
    earlier: earlierOf(periods, last, item, books.house),
    ...whoAndWhy(books, flows),
    slip: judged === null ? null : slipOf(stocks, last, judged, item, books.house),
    unlogged: null,
    corrected: null,
  };
}

/** A tally under every spec that has one, and the one of straight measures apart. */
export const straightTally = (tallies: ReadonlyMap<string, Tally>): Tally => tallies.get('') ?? noTally;

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
