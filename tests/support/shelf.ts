// Small books for unit tests: invented items and cards, and nights told step by step. Every step is checked by the schema
// of events, so a test can't rest on an event that could never be recorded. Amounts are given in ml, pieces or g.
import type { Item } from '../../src/domain/catalogue/item.ts';
import type { Measure, Spec } from '../../src/domain/catalogue/spec.ts';
import { type Books, emptyBooks } from '../../src/domain/ledger/books.ts';
import { type Event, type LossReason, type PourPurpose, parseEvent } from '../../src/domain/ledger/event.ts';
import type { EventId, ItemId, PersonId, SpecId } from '../../src/domain/value/ids.ts';
import { foldEvents } from './fold.ts';

export const itemIdOf = (id: string): ItemId => id as ItemId;
export const specIdOf = (id: string): SpecId => id as SpecId;
export const personIdOf = (id: string): PersonId => id as PersonId;
/** The id of the event that was told as the so-many-eth, counted from 1. */
export const eventIdOf = (nth: number): EventId =>
  `${nth.toString(16).padStart(8, '0')}-0000-7000-8000-000000000000` as EventId;

/** A spirit of 40 % in bottles of 700 ml at 21.00, so that a millilitre costs 3 minor units. */
export const anItem = (id: string, over: Partial<Omit<Item, 'id'>> = {}): Item => ({
  id: itemIdOf(id),
  name: id,
  also: [],
  kind: 'spirit',
  unit: 'ml',
  size: 700_000,
  sizeText: '700 ml',
  tareMilligrams: null,
  abvPercent: 40,
  sugarGramsPerLitre: null,
  costMinor: 2100,
  caseOf: null,
  place: 'bar',
  shelf: '1',
  par: null,
  count: 'tenths',
  allergens: [],
  caution: '',
  ...over,
});

/** Pieces at 30 minor units each. */
export const aPiece = (id: string, over: Partial<Omit<Item, 'id'>> = {}): Item =>
  anItem(id, {
    kind: 'egg',
    unit: 'each',
    size: 1000,
    sizeText: '1 each',
    abvPercent: null,
    costMinor: 30,
    count: 'pieces',
    ...over,
  });

/** "50 ml gin" as a measure: quantity, unit and the id of the item. */
export function measure(text: string): Measure {
  const words = text.split(' ');
  const [unit = '', item = ''] = words.slice(-2);
  return { quantity: words.slice(0, -2).join(' '), unit, item: itemIdOf(item) };
}

export const aSpec = (
  id: string,
  measures: readonly string[],
  over: Partial<Omit<Spec, 'id' | 'measures'>> = {},
): Spec => ({
  id: specIdOf(id),
  name: id,
  also: [],
  family: '',
  glass: '',
  ice: '',
  garnish: '',
  method: '',
  tags: [],
  priceMinor: null,
  measures: measures.map(measure),
  ...over,
});

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

/** Steps a minute apart from 18:00 UTC on 20 Nov 2026, each noted under the shift that is open then. */
export function told(...steps: readonly (Step | readonly Step[])[]): Event[] {
  let epoch = Date.parse('2026-11-20T18:00:00.000Z');
  let shift: EventId | null = null;
  return steps.flat().map((step, index) => {
    const id = eventIdOf(index + 1);
    epoch = step.at === undefined ? epoch + 60_000 : Date.parse(step.at);
    const isOpening = step.kind === 'shift-opened';
    const data = {
      id,
      at: new Date(epoch).toISOString(),
      station: 'a',
      seq: index + 1,
      shift: isOpening ? null : shift,
      by: null,
      ...(step.kind === 'shift-sealed' ? { of: shift } : {}),
      ...step,
    };
    if (isOpening) shift = id;
    if (step.kind === 'shift-sealed') shift = null;
    const read = parseEvent({ ...data, at: new Date(epoch).toISOString() });
    if (!read.ok) throw new Error(`step ${index + 1}, ${step.kind}: ${read.reason}`);
    return read.event;
  });
}

export const booksAfter = (...steps: readonly (Step | readonly Step[])[]): Books =>
  foldEvents(emptyBooks, told(...steps));

/** The value of what must not have been refused. */
export function must<T>(
  result: { ok: true; value: T } | { ok: false; problems: readonly { message: string }[] },
): T {
  if (!result.ok) throw new Error(result.problems.map(({ message }) => message).join(' '));
  return result.value;
}

/** The codes of what must have been refused. */
export function codesOf(
  result: { ok: true } | { ok: false; problems: readonly { code: string }[] },
): string[] {
  return result.ok ? [] : result.problems.map(({ code }) => code);
}

export const messagesOf = (
  result: { ok: true } | { ok: false; problems: readonly { message: string }[] },
): string[] => (result.ok ? [] : result.problems.map(({ message }) => message));
