// Expected against counted, with its uncertainty and a verdict.
// Sign: missing = used − (poured + lost); above zero when more left the bottle than was logged.
// u² = u(from)² + u(to)² + n s²: two readings and n pours of deviation s; U = 2u (k = 2, NIST e-Handbook 2.5.7).

import type { House } from '../catalogue/house.ts';
import type { Item } from '../catalogue/item.ts';
import type { Books, CountMark, Period } from '../ledger/books.ts';
import { elsewhereOf, isBeyondCeiling, isCountedInPieces, slackOf } from '../ledger/stock/containers.ts';
import { netFlow } from '../ledger/stock/flows.ts';
import type { Thousandths } from '../value/amount.ts';

export type Verdict = 'within-count-error' | 'likely' | 'real' | 'not-counted';

export type Judged = {
  readonly opening: Thousandths;
  readonly expected: Thousandths;
  readonly counted: Thousandths;
  readonly used: Thousandths;
  readonly missing: Thousandths;
  /** Expanded uncertainty (k = 2), thousandths of the unit. */
  readonly uncertainty: number;
  readonly verdict: Verdict;
  /** One of its readings is more than can be there: it is counted, and touches nobody's figures nor the cost. */
  readonly improbable: boolean;
};

/**
 * Two stretches that follow each other and cancel: each beyond its own U, of opposite sign, and together within theirs, or next to
 * nothing beside either. The count between them falls out of the sum, so a wrong reading of it shows as exactly this. The one
 * place that says what a slip is.
 */
export function cancel(before: Missed, last: Missed, together: Missed): boolean {
  const smaller = Math.min(Math.abs(before.missing), Math.abs(last.missing));
  return (
    Math.sign(before.missing) === -Math.sign(last.missing) &&
    Math.abs(last.missing) > last.uncertainty &&
    Math.abs(before.missing) > before.uncertainty &&
    Math.abs(together.missing) <= Math.max(together.uncertainty, NEXT_TO_NOTHING * smaller)
  );
}

/** A bottle too many and back again is a slip, though a little more than usual be missing over both nights (our decision). */
const NEXT_TO_NOTHING = 0.2;

export type Missed = Pick<Judged, 'missing' | 'uncertainty'>;

/** |missing| ≤ U: within count error; ≤ 2U: likely; above: real. */
export function verdictOf(missing: number, uncertainty: number): Verdict {
  const size = Math.abs(missing);
  if (size <= uncertainty) return 'within-count-error';
  return size <= 2 * uncertainty ? 'likely' : 'real';
}

/**
 * Judges one item over periods at one or several places, in order. Periods of one place that follow each other
 * telescope: the reading between them cancels and brings no uncertainty.
 */
export function judge(periods: readonly Period[], item: Item, house: House): Judged {
  const sum = (pick: (period: Period) => number): number =>
    periods.reduce((total, period) => total + pick(period), 0);
  const chains = chainsOf(periods);
  const opening = chains.reduce((total, chain) => total + chain.from.amount, 0);
  const counted = chains.reduce((total, chain) => total + chain.to.amount, 0);
  const between = sum((period) => netFlow(period.flows));
  const expected = opening + between;
  const missing = expected - counted;
  const logged = sum((period) => period.flows.poured + period.flows.lost);
  const readings = readingVariance(chains);
  const pours = sum((period) => period.flows.pours) * pourVariance(item, house);
  const parts = partVariance(periods, chains, item, house) + yieldVariance(periods, item, house);
  const uncertainty = 2 * Math.sqrt(readings + pours + parts);
  return {
    opening,
    expected,
    counted,
    used: missing + logged,
    missing,
    uncertainty,
    verdict: verdictOf(missing, uncertainty),
    improbable: chains.some(({ from, to }) => from.improbable === true || to.improbable === true),
  };
}

/** One piece of what is counted by the piece: a lime, a bunch, a bottle of soda. */
const pieceOf = (item: Item): number => (item.unit === 'each' ? 1000 : item.size);

/** Kinds that are used leaf by leaf and slice by slice, also on a night when a whole number of them went. */
const usedInParts = new Set(['herb', 'fruit', 'garnish']);

/**
 * What is drawn in parts of a piece leaves one that is begun, and a person counts it as one or as none: each reading that does not
 * say so itself is known to the house's `piece-width`, rectangular (GUM 4.3.7: from memory). What only goes whole is counted exactly.
 */
function partVariance(
  periods: readonly Period[],
  chains: readonly { readonly from: CountMark; readonly to: CountMark }[],
  item: Item,
  house: House,
): number {
  if (!isCountedInPieces(item)) return 0;
  const piece = pieceOf(item);
  const isDrawnInParts =
    usedInParts.has(item.kind) ||
    (item.yields?.length ?? 0) > 0 ||
    periods.some(({ flows }) => flows.poured % piece !== 0 || flows.lost % piece !== 0);
  if (!isDrawnInParts) return 0;
  const own = (piece * house.pieceWidth) ** 2 / 12;
  return chains.flatMap(({ from, to }) => [from, to]).filter(({ deviation }) => deviation === 0).length * own;
}

/**
 * A lime gives now more, now less than its card says: each measure of it is known to the house's `yield-spread`, a share of it. As
 * pours are, they are independent of one another, so the variance of many is that of one times their number.
 */
function yieldVariance(periods: readonly Period[], item: Item, house: House): number {
  if ((item.yields?.length ?? 0) === 0) return 0;
  return periods.reduce(
    (sum, { flows: { poured, pours } }) =>
      pours === 0 ? sum : sum + (poured * house.yieldSpread) ** 2 / pours,
    0,
  );
}

/** Variance of one pour in (thousandths)²; pieces, grams and whole containers do not flow from a spout. */
export function pourVariance(item: Item, house: House): number {
  return item.unit === 'ml' && !isCountedInPieces(item) ? (house.pourDeviationMl * 1000) ** 2 : 0;
}

/** Two readings a chain; the part that a wrong density brings is common to all weighings of the item, wherever it stands. */
function readingVariance(chains: readonly { readonly from: CountMark; readonly to: CountMark }[]): number {
  const own = chains.reduce((sum, { from, to }) => sum + from.deviation ** 2 + to.deviation ** 2, 0);
  const common = chains.reduce((sum, { from, to }) => sum + from.densityDeviation - to.densityDeviation, 0);
  return own + common ** 2;
}

/** First and last count of each unbroken run of periods; a count is of one place, whatever the place is called by then. */
function chainsOf(periods: readonly Period[]): { from: CountMark; to: CountMark }[] {
  const chains: { from: CountMark; to: CountMark }[] = [];
  for (const { from, to } of periods) {
    const chain = chains.find((known) => known.to.event === from.event);
    if (chain === undefined) chains.push({ from, to });
    else chain.to = to;
  }
  return chains;
}

/**
 * Whether a reading is so far off that it is asked for again: more than was ever there with what came in, or off by more than four
 * of its own standard uncertainties and a container.
 */
export function needsSecondLook(
  judged: Judged,
  period: Period,
  item: Item,
  books: Pick<Books, 'stock'>,
): boolean {
  const elsewhere = elsewhereOf(books.stock.values(), period);
  return (
    judged.improbable ||
    (period.to.sure !== true && isBeyondCeiling(period.from, period.flows, period.to, elsewhere)) ||
    Math.abs(judged.missing) > 2 * judged.uncertainty + slackOf(item, judged.expected)
  );
}
