// Small things for unit tests: ids, invented items and cards, and what a result holds. Amounts are given in ml, pieces or g.
import type { Item } from '../../src/domain/catalogue/item.ts';
import type { Measure, Spec } from '../../src/domain/catalogue/spec.ts';
import type { EventId, ItemId, PersonId, SpecId } from '../../src/domain/value/ids.ts';

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
