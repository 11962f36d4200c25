// The closing report: what was poured, what should be there, what was counted, what is missing and how sure that is.

import type { House } from '../catalogue/house.ts';
import type { Item } from '../catalogue/item.ts';
import { judge, type Verdict } from '../count/variance.ts';
import type { Books, Period, ShiftBooks, Stock, Tally } from '../ledger/books.ts';
import type { Correctable, PourPurpose } from '../ledger/event.ts';
import type { Unit } from '../value/amount.ts';
import {
  countedRow,
  earlierOf,
  lastOfEachPlace,
  type Row,
  slipOf,
  sumFlows,
  uncountedRow,
  whoAndWhy,
} from './rows.ts';
import { hourRows, purposeRows, totalsOf } from './totals.ts';

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
  /** Counted in this shift for the first time: nothing to compare it with yet. */
  readonly isFirstCount: boolean;
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
  /** Counted for the first time: no figure yet, and nothing left to do. */
  readonly firstCounted: number;
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
    isFirstCount: judged === null && stocks.some(({ counted }) => (counted?.at ?? '') >= shift.openedAt),
    slip: judged === null ? null : slipOf(stocks, last, judged, item, books.house),
    unlogged: null,
    corrected: null,
  };
}

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
