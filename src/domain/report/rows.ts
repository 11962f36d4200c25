// One row of a report: an item's figures between two counts, and the reasons that stand beside them.

import { shownIn } from '../catalogue/display.ts';
import type { House } from '../catalogue/house.ts';
import type { Item } from '../catalogue/item.ts';
import { cancel, type Judged, judge } from '../count/variance.ts';
import { type Books, type Period, personName, type Stock, type Tally } from '../ledger/books.ts';
import { baselineOf } from '../ledger/stock/containers.ts';
import { addFlows, type Flows, noFlows } from '../ledger/stock/flows.ts';
import { type Thousandths, toUnits } from '../value/amount.ts';
import type { SpecId } from '../value/ids.ts';
import { percentOf, valueAtCost } from '../value/money.ts';
import type { ReportDrink, ReportItem, RowFigures, Share, SlipOfNights } from './report.ts';

export function countedRow(periods: readonly Period[], judged: Judged, item: Item): RowFigures {
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
    missingCostMinor: costOf(judged.missing, item),
    missingCostUncertaintyMinor:
      item.costMinor === null
        ? null
        : Math.round((judged.uncertainty * item.costMinor * 10) / item.size) / 10,
    verdict: judged.verdict,
  };
}

export function uncountedRow(stocks: readonly Stock[]): RowFigures {
  const held = stocks.map(baselineOf);
  const flows = sumFlows(held.map((stock) => stock.flows));
  const counts = held.flatMap(({ from }) => (from === null ? [] : [from]));
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
    missingCostUncertaintyMinor: null,
    verdict: 'not-counted',
  };
}

export const costOf = (amount: Thousandths, item: Item): number | null =>
  item.costMinor === null ? null : valueAtCost(amount, item.costMinor, item.size);

/** What a report says the amounts of an item in, in whole units. */
export function piecesOf(item: Item): ReportItem['pieces'] {
  const { pieces } = shownIn(item);
  return pieces ? { size: toUnits(pieces.size), one: pieces.one } : null;
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
  made: toUnits(flows.made),
  prepped: toUnits(flows.prepped),
});

export function lastOfEachPlace(periods: readonly Period[]): Period[] {
  const last = new Map<string, Period>();
  for (const period of periods) last.set(period.place, period);
  return [...last.values()];
}

/** Stretches of the same shift that ended before the last count. */
export function earlierOf(
  periods: readonly Period[],
  last: readonly Period[],
  item: Item,
  house: House,
): ReportItem['earlier'] {
  return periods
    .filter((period) => !last.includes(period))
    .filter((period) => !judge([period], item, house).improbable)
    .map((period) => {
      const { missing, uncertainty } = judge([period], item, house);
      return {
        from: period.from.at,
        to: period.to.at,
        missing: toUnits(missing),
        uncertainty: roundedU(uncertainty, item),
        missingCostMinor: costOf(missing, item),
      };
    });
}

/** Most first; what is equal by its name, so that a night and a stretch list the same in the same order. */
const byAmount = (a: Share, b: Share): number => b.amount - a.amount || (a.name < b.name ? -1 : 1);

const shares = <K>(
  amounts: Iterable<readonly [K, Thousandths | undefined]>,
  name: (key: K) => string,
): Share[] =>
  [...amounts]
    .filter(([, amount]) => (amount ?? 0) !== 0)
    .map(([key, amount]) => ({ name: name(key), amount: toUnits(amount ?? 0) }))
    .sort(byAmount);

/** The reasons beside a row: which drinks, whose pours, what as, and what was lost to what. */
export function whoAndWhy(
  books: Books,
  flows: Flows,
): Pick<ReportItem, 'drawnBy' | 'pouredBy' | 'pouredAs' | 'lostTo'> {
  return {
    drawnBy: [...flows.bySpec]
      .filter(([, amount]) => amount !== 0)
      .map(([spec, amount]) => ({
        spec,
        name: spec === '' ? '' : (books.specs.get(spec)?.name ?? ''),
        amount: toUnits(amount),
      }))
      .sort(byAmount),
    // By name, never by amount: evidence, not a ranking.
    pouredBy: shares(flows.by, (id) => (id === '' ? '' : (personName(books, id) ?? id))).sort((a, b) =>
      a.name < b.name ? -1 : 1,
    ),
    pouredAs: shares(Object.entries(flows.as), (as) => as).filter(({ name }) => name !== 'sale'),
    lostTo: shares(Object.entries(flows.why), (why) => why),
  };
}

/**
 * A pair of stretches that cancel: each beyond its own U, of opposite sign, and together within theirs. Their shared
 * count falls out of the sum, so a wrong reading of it shows as exactly this.
 */
export function slipOf(
  stocks: readonly Stock[],
  last: readonly Period[],
  judged: Judged,
  item: Item,
  house: House,
): SlipOfNights | null {
  const before = last.flatMap((period) => {
    const stock = stocks.find(({ place }) => place === period.place);
    return stock?.period?.to.event === period.to.event && stock.before !== null ? [stock.before] : [];
  });
  if (before.length !== last.length || before.length === 0) return null;
  const earlier = judge(before, item, house);
  const together = judge([...before, ...last], item, house);
  if (!cancel(earlier, judged, together)) return null;
  return {
    before: toUnits(earlier.missing),
    beforeUncertainty: roundedU(earlier.uncertainty, item),
    together: toUnits(together.missing),
    uncertainty: roundedU(together.uncertainty, item),
  };
}

export function reportDrinks(books: Books, drinks: ReadonlyMap<SpecId, Tally>): ReportDrink[] {
  return [...drinks]
    .filter(([, tally]) => tally.count > 0)
    .map(([spec, tally]) => ({
      spec,
      name: books.specs.get(spec)?.name ?? spec,
      count: tally.count,
      as: Object.fromEntries(Object.entries(tally.as).filter(([, count]) => count > 0)),
      soldMinor: tally.soldMinor,
    }))
    .sort((a, b) => b.count - a.count || (a.name < b.name ? -1 : 1));
}
