// A report over several shifts, as the difference of the books at its two ends: a year costs what a week costs. An item's
// readings in between cancel: only the first and the last count carry a ±.

import type { Item } from '../catalogue/item.ts';
import { judge } from '../count/variance.ts';
import {
  type Books,
  emptyBooks,
  type Period,
  personName,
  type Stock,
  stockThen,
  type Tally,
} from '../ledger/books.ts';
import { baselineOf } from '../ledger/stock/containers.ts';
import { addFlows, type Flows, noFlows, subtractAmounts, subtractFlows } from '../ledger/stock/flows.ts';
import { noTally, subtractTallies } from '../ledger/tally.ts';
import { toUnits } from '../value/amount.ts';
import type { Drawer, EventId, ItemId } from '../value/ids.ts';
import { manyLooks } from './looks.ts';
import type { Report, ReportItem } from './report.ts';
import { countedRow, piecesOf, reportDrinks, sumFlows, uncountedRow, whoAndWhy } from './rows.ts';
import { hourRows, purposeRows, totalsOf } from './totals.ts';

/** Several shifts in a row, as the books at its two ends. */
export type Span = {
  /** The books when the shift before the first one was sealed; null when there was none. */
  readonly before: Books | null;
  /** The books at the end of the last shift. */
  readonly end: Books;
  readonly first: { readonly id: EventId; readonly date: string; readonly openedAt: string };
  readonly shifts: number;
};

/** What was counted within the stretch is judged over it; the rest is listed as not counted. */
export function periodReport({ before, end, first, shifts }: Span): Report | null {
  const last = end.shift;
  if (last === null) return null;
  const start = before ?? emptyBooks;
  const tallies = talliesBetween(start, end);
  const drinks = new Map(
    [...tallies].flatMap(([spec, tally]) => (spec === '' ? [] : [[spec, tally] as const])),
  );
  const items = manyLooks([...end.items.values()].flatMap((item) => rowOf(start, end, item) ?? []));
  return {
    house: { name: end.house.name, currency: end.house.currency },
    shift: {
      id: first.id,
      date: first.date,
      to: last.date,
      openedAt: first.openedAt,
      closedAt: last.sealedAt,
      sealedBy: personName(end, last.sealedBy),
      status: last.sealedAt === null ? 'open' : 'sealed',
      shifts,
    },
    drinks: reportDrinks(end, drinks),
    straight: (tallies.get('') ?? noTally).count,
    straightSoldMinor: (tallies.get('') ?? noTally).soldMinor,
    straights: straightsBetween(start, end),
    purposes: purposeRows([...tallies.values()]),
    hours: hourRows(subtractAmounts(end.byHour, start.byHour), end.house),
    items,
    totals: totalsOf(items, [...tallies.values()], end.lostMillis - start.lostMillis),
    losses: [],
    till: null,
    notes: [],
  };
}

/** What was poured between two states of the books, by spec. */
function talliesBetween(start: Books, end: Books): Map<Drawer, Tally> {
  return new Map(
    [...end.tallies].map(([spec, tally]) => [
      spec,
      subtractTallies(tally, start.tallies.get(spec) ?? noTally),
    ]),
  );
}

function rowOf(start: Books, end: Books, item: Item): ReportItem | null {
  const stocks = [...end.stock.values()].filter((stock) => stock.item === item.id);
  if (stocks.length === 0) return null;
  const periods = stocks.flatMap((stock) => periodBetween(stockThen(start, stock), stock) ?? []);
  const judged = periods.length === 0 ? null : judge(periods, item, end.house);
  const held = stocks;
  const flows = sumFlows((judged === null ? held : periods).map((each) => each.flows));
  return {
    item: item.id,
    name: item.name,
    kind: item.kind,
    unit: item.unit,
    size: toUnits(item.size),
    pieces: piecesOf(item),
    ...(judged === null ? uncountedRow(held) : countedRow(periods, judged, item)),
    places: (judged === null ? held : periods).map(({ place }) => place),
    earlier: [],
    ...whoAndWhy(end, flows),
    isFirstCount: false,
    slip: null,
    isCosted: item.costMinor !== null,
    lookedTwice: periods.some(({ to }) => to.again === true),
    improbable: judged?.improbable ?? false,
    q: null,
    unlogged: null,
    corrected: null,
  };
}

/**
 * From the last count before the stretch (or the first within it) to the last count within it; null when there are not two.
 * The running totals of the two counts differ by what flowed between them.
 */
function periodBetween(start: Stock | undefined, end: Stock): Period | null {
  const stood = start === undefined ? null : baselineOf(start);
  const from = stood?.from ?? end.first?.mark ?? null;
  const { counted } = end;
  if (from === null || counted === null || from.event === counted.event) return null;
  const baseline = start === undefined || stood?.from == null ? end.first?.total : totalAt(start);
  const { item, place } = end;
  return { item, place, from, to: counted, flows: subtractFlows(end.total, baseline ?? noFlows) };
}

/** Everything that had flowed when the last count that can be so was made. */
const totalAt = (stock: Stock): Flows =>
  subtractFlows(addFlows(stock.total, stock.flows), baselineOf(stock).flows);

/** What was poured straight of each item, all places together. */
function straightsBetween(start: Books, end: Books): Report['straights'] {
  const amounts = new Map<ItemId, number>();
  const poured = (stock: Stock | undefined): number =>
    stock === undefined ? 0 : (stock.total.bySpec.get('') ?? 0) + (stock.flows.bySpec.get('') ?? 0);
  for (const stock of end.stock.values()) {
    const amount = poured(stock) - poured(stockThen(start, stock));
    if (amount !== 0) amounts.set(stock.item, (amounts.get(stock.item) ?? 0) + amount);
  }
  return [...amounts].map(([item, amount]) => ({ item, amount: toUnits(amount) }));
}
