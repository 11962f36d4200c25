// The steps a night is told in, one event each. Amounts are given in ml, pieces or g.
import type { Item } from '../../src/domain/catalogue/item.ts';
import type { Spec } from '../../src/domain/catalogue/spec.ts';
import type { Event, LossReason, PourPurpose } from '../../src/domain/ledger/event.ts';
import type { EventId } from '../../src/domain/value/ids.ts';

/** What happened, before it has an id and a moment. */
export type Step = {
  readonly kind: Event['kind'];
  readonly at?: string;
  readonly [field: string]: unknown;
};

const thousandths = (amount: number): number => Math.round(amount * 1000);
type Drawn = readonly [item: string, amount: number, costMillis?: number | null];
const drawsOf = (draws: readonly Drawn[], place: string) =>
  draws.map(([item, amount, costMillis = null]) => ({
    item,
    place,
    amount: thousandths(amount),
    costMillis,
  }));

type PourMore = {
  readonly as?: PourPurpose;
  readonly by?: string | null;
  readonly place?: string;
  readonly price?: number | null;
  readonly changes?: readonly string[];
  readonly shift?: EventId | null;
};

export const stocks = (...items: readonly Item[]): Step[] =>
  items.map((item) => ({ kind: 'item-written', item }));
export const writes = (...specs: readonly Spec[]): Step[] =>
  specs.map((spec) => ({ kind: 'spec-written', spec }));
export const sets = (key: string, value: string): Step => ({ kind: 'house-set', key, value });
export const joins = (name: string): Step => ({ kind: 'person-added', person: name.toLowerCase(), name });
export const opens = (date = '2026-11-20', by: string | null = null): Step => ({
  kind: 'shift-opened',
  date,
  by,
});
/** Seals the shift that is open. */
export const seals = (by: string | null = null): Step => ({ kind: 'shift-sealed', by });
export const pours = (
  spec: string,
  count: number,
  draws: readonly Drawn[],
  { as = 'sale', place = 'bar', price = null, changes = [], ...rest }: PourMore = {},
): Step => ({
  kind: 'drink-poured',
  spec,
  name: spec,
  count,
  as,
  priceMinor: price,
  changes,
  draws: drawsOf(draws, place),
  ...rest,
});
export const straight = (
  count: number,
  draw: Drawn,
  { as = 'sale', place = 'bar', ...rest }: Omit<PourMore, 'price' | 'changes'> = {},
): Step => ({ kind: 'measure-poured', count, as, draws: drawsOf([draw], place), ...rest });
export const loses = (item: string, amount: number, why: LossReason = 'spill', place = 'bar'): Step => ({
  kind: 'stock-lost',
  item,
  place,
  amount: thousandths(amount),
  why,
});
export const receives = (
  item: string,
  containers: number,
  amount: number,
  costMinor: number | null = null,
  place = 'bar',
): Step => ({
  kind: 'delivery-received',
  item,
  place,
  containers,
  amount: thousandths(amount),
  costMinor,
});
export const counts = (item: string, amount: number, over: Record<string, unknown> = {}): Step => ({
  kind: 'stock-counted',
  item,
  place: 'bar',
  reading: `${amount}`,
  method: 'ml',
  amount: thousandths(amount),
  sealed: 0,
  open: [thousandths(amount)],
  deviation: 0,
  densityDeviation: 0,
  again: false,
  ...over,
});
/** The same at an instant of its own; the next steps go on from there. */
export const at = (instant: string, step: Step): Step => ({ ...step, at: instant });
