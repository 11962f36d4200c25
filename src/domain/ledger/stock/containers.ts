// Containers of one item at one place: sealed ones and open ones. A pour that empties one opens the next; what cannot
// be covered goes below zero and is shown so, because it did leave the bar.
import type { Item } from '../../catalogue/item.ts';
import type { Thousandths } from '../../value/amount.ts';
import type { CountMark, Stock } from '../books.ts';
import { addFlows, type Flows, inflow } from './flows.ts';

export type Containers = { readonly sealed: number; readonly open: readonly Thousandths[] };

export const containersTotal = ({ sealed, open }: Containers, size: Thousandths): Thousandths =>
  sealed * size + open.reduce((sum, amount) => sum + amount, 0);

/** Takes an amount out, open ones first; says how many sealed ones were opened on the way. */
export function drawFrom(
  start: Containers,
  amount: Thousandths,
  size: Thousandths,
): Containers & { opened: number } {
  let { sealed } = start;
  const open = [...start.open];
  let [left, opened] = [amount, 0];
  while (left > 0) {
    const first = open[0];
    if (first !== undefined && (first > left || (open.length === 1 && sealed === 0))) {
      open[0] = first - left;
      break;
    }
    if (first !== undefined) {
      left -= Math.max(first, 0);
      if (first < 0) left -= first;
      open.shift();
    } else if (sealed > 0) {
      ({ sealed, opened, left } = skipWhole(sealed, opened, left, size));
      if (left === 0) break;
      if (sealed === 0) continue;
      sealed -= 1;
      opened += 1;
      open.push(size);
    } else {
      open.push(-left);
      break;
    }
  }
  return { sealed, open: open.filter((rest) => rest !== 0), opened };
}

/** A very large draw empties whole containers in one step. */
function skipWhole(sealed: number, opened: number, left: number, size: number) {
  const whole = Math.min(sealed, Math.floor(left / size));
  return { sealed: sealed - whole, opened: opened + whole, left: left - whole * size };
}

/** Puts sealed containers (and a part of one) in; what was below zero is made up first. */
export function addTo(start: Containers, amount: Thousandths, size: Thousandths): Containers {
  const debt = start.open[0] !== undefined && start.open[0] < 0 ? -start.open[0] : 0;
  const sealed = start.sealed + Math.floor(amount / size);
  const rest = amount % size;
  const open = start.open.filter((level) => level > 0);
  const filled = { sealed, open: rest === 0 ? open : [...open, rest] };
  if (debt === 0) return filled;
  const { sealed: left, open: after } = drawFrom(filled, debt, size);
  return { sealed: left, open: after };
}

/** Opens the next sealed one beside what is open; null when none is sealed. */
export function openNext(start: Containers, size: Thousandths): Containers | null {
  if (start.sealed === 0) return null;
  return { sealed: start.sealed - 1, open: [...start.open.filter((level) => level !== 0), size] };
}

/** Takes containers out for a move: sealed ones first, then from the open ones. */
export function takeOut(start: Containers, amount: Thousandths, size: Thousandths): Containers {
  const whole = Math.min(start.sealed, Math.floor(amount / size));
  const rest = amount - whole * size;
  const after = { sealed: start.sealed - whole, open: start.open };
  if (rest === 0) return after;
  const { sealed, open } = drawFrom(after, rest, size);
  return { sealed, open };
}

// What can be there at most: what was counted before with what came in, and what stands elsewhere, should it have been carried.

/** Four standard uncertainties: a reading is off by so much once in sixteen thousand, if it is no slip (normal distribution). */
const SO_MANY = 4;

type Read = Pick<CountMark, 'amount' | 'deviation' | 'densityDeviation'>;

/** Standard uncertainty of the difference of two readings, thousandths of the unit. */
export const spreadOf = (from: Read, to: Read): number =>
  Math.hypot(from.deviation, to.deviation, from.densityDeviation - to.densityDeviation);

/** Things that are counted by the piece, whatever they hold. */
export const isCountedInPieces = ({ unit, count }: Pick<Item, 'unit' | 'count'>): boolean =>
  unit === 'each' || count === 'pieces';

/**
 * By how much a miscount may be off before it is more than that: a container, or of what is counted by the piece three of them or a
 * tenth of what should be there (our decision).
 */
export const slackOf = (item: Item, expected: number): number => {
  if (!isCountedInPieces(item)) return item.size;
  return Math.max(3 * (item.unit === 'each' ? 1000 : item.size), Math.abs(expected) / 10);
};

/** Nobody opened a bottle to fill another: what was not there and did not come in can't be there now. */
export function isBeyondCeiling(from: Read, flows: Flows, to: Read, elsewhere: number): boolean {
  const most = from.amount + inflow(flows) + Math.max(0, elsewhere);
  return to.amount > most + SO_MANY * spreadOf(from, to);
}

/** What stands of an item at all other places. */
export const elsewhereOf = (
  stocks: Iterable<Stock>,
  { item, place }: Pick<Stock, 'item' | 'place'>,
): number => {
  let sum = 0;
  for (const stock of stocks)
    if (stock.item === item && stock.place !== place) sum += Math.max(0, stock.amount);
  return sum;
};

/** The last count that can be so, and what has flowed since: an improbable one is kept, and nothing is reckoned from it. */
export function baselineOf({ counted, period, flows }: Stock): {
  readonly from: CountMark | null;
  readonly flows: Flows;
} {
  return counted?.improbable === true && period !== null
    ? { from: period.from, flows: addFlows(period.flows, flows) }
    : { from: counted, flows };
}
