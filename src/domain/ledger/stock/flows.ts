// What went in and out of one item at one place: added up, and taken from one another, since any stretch is a difference of two.
import type { Thousandths } from '../../value/amount.ts';
import type { Drawer, Pourer } from '../../value/ids.ts';
import type { LossReason, PourPurpose } from '../event.ts';

/** What went in and out of one item at one place since its last count. All amounts are positive. */
export type Flows = {
  readonly received: Thousandths;
  readonly movedIn: Thousandths;
  readonly movedOut: Thousandths;
  readonly poured: Thousandths;
  readonly lost: Thousandths;
  /** Came in by being made here, and went out into what was made. */
  readonly made: Thousandths;
  readonly prepped: Thousandths;
  /** How many pours: each brings its own random deviation. */
  readonly pours: number;
  /** Poured by whom (the empty name is nobody), and in which spec (empty: straight). Sums to `poured` each. */
  readonly by: ReadonlyMap<Pourer, Thousandths>;
  readonly bySpec: ReadonlyMap<Drawer, Thousandths>;
  /** Poured as what; sums to `poured`. */
  readonly as: Readonly<Partial<Record<PourPurpose, Thousandths>>>;
  /** Lost why; sums to `lost`. */
  readonly why: Readonly<Partial<Record<LossReason, Thousandths>>>;
};

export const noFlows: Flows = {
  received: 0,
  movedIn: 0,
  movedOut: 0,
  poured: 0,
  lost: 0,
  made: 0,
  prepped: 0,
  pours: 0,
  by: new Map(),
  bySpec: new Map(),
  as: {},
  why: {},
};

type Amounts<K> = ReadonlyMap<K, Thousandths>;

/** Two tables of amounts as one. */
export function addAmounts<K>(a: Amounts<K>, b: Amounts<K>): Map<K, Thousandths> {
  const sum = new Map(a);
  for (const [name, amount] of b) sum.set(name, (sum.get(name) ?? 0) + amount);
  return sum;
}

/** What one table has more than another; names that come to nothing fall away. */
export function subtractAmounts<K>(a: Amounts<K>, b: Amounts<K>): Map<K, Thousandths> {
  const rest = [...a].map(([name, amount]) => [name, amount - (b.get(name) ?? 0)] as const);
  return new Map(rest.filter(([, amount]) => amount !== 0));
}

type Counts<K extends string> = Readonly<Partial<Record<K, Thousandths>>>;

/** The same of a table whose names are words of our own. */
function mergeCounts<K extends string>(a: Counts<K>, b: Counts<K>, sign: 1 | -1): Counts<K> {
  const sum: Partial<Record<K, Thousandths>> = { ...a };
  for (const name of Object.keys(b) as K[]) {
    const total = (sum[name] ?? 0) + sign * (b[name] ?? 0);
    if (total === 0) delete sum[name];
    else sum[name] = total;
  }
  return sum;
}

/** Flows with some more flowed. */
export const addFlows = (flows: Flows, more: Partial<Flows>): Flows => ({
  received: flows.received + (more.received ?? 0),
  movedIn: flows.movedIn + (more.movedIn ?? 0),
  movedOut: flows.movedOut + (more.movedOut ?? 0),
  poured: flows.poured + (more.poured ?? 0),
  lost: flows.lost + (more.lost ?? 0),
  made: flows.made + (more.made ?? 0),
  prepped: flows.prepped + (more.prepped ?? 0),
  pours: flows.pours + (more.pours ?? 0),
  by: more.by === undefined ? flows.by : addAmounts(flows.by, more.by),
  bySpec: more.bySpec === undefined ? flows.bySpec : addAmounts(flows.bySpec, more.bySpec),
  as: more.as === undefined ? flows.as : mergeCounts(flows.as, more.as, 1),
  why: more.why === undefined ? flows.why : mergeCounts(flows.why, more.why, 1),
});

/** What flowed after `before` did: running totals of two moments. */
export const subtractFlows = (flows: Flows, before: Flows): Flows => ({
  received: flows.received - before.received,
  movedIn: flows.movedIn - before.movedIn,
  movedOut: flows.movedOut - before.movedOut,
  poured: flows.poured - before.poured,
  lost: flows.lost - before.lost,
  made: flows.made - before.made,
  prepped: flows.prepped - before.prepped,
  pours: flows.pours - before.pours,
  by: subtractAmounts(flows.by, before.by),
  bySpec: subtractAmounts(flows.bySpec, before.bySpec),
  as: mergeCounts(flows.as, before.as, -1),
  why: mergeCounts(flows.why, before.why, -1),
});

export const netFlow = (flows: Flows): Thousandths => inflow(flows) - outflow(flows);

/** What came to a place, and what left it, logged. */
export const inflow = ({ received, movedIn, made }: Flows): Thousandths => received + movedIn + made;
const outflow = ({ movedOut, poured, lost, prepped }: Flows): Thousandths =>
  movedOut + poured + lost + prepped;

export const hasFlow = (flows: Flows): boolean => inflow(flows) > 0 || outflow(flows) > 0;
