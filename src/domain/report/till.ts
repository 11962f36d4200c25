// The till beside the tally: what was sold by name, what was logged, and what the difference explains of missing stock.
// Names match by a spec's name or other name, or by the house's own table; nothing is guessed.

import { displayAmount, shownIn } from '../catalogue/display.ts';
import type { House } from '../catalogue/house.ts';
import type { Item } from '../catalogue/item.ts';
import { type Spec, specNames } from '../catalogue/spec.ts';
import { specLines } from '../drink/measures.ts';
import { readStraight, type Straight } from '../drink/straight-measure.ts';
import type { Books, TillMeaning } from '../ledger/books.ts';
import type { Sale } from '../ledger/event.ts';
import { type Thousandths, toUnits } from '../value/amount.ts';
import type { ItemId, SpecId } from '../value/ids.ts';
import { memoBy } from '../value/memo.ts';
import { foldText } from '../value/text.ts';
import type { Report, TillRow } from './report.ts';

export const namesOf = memoBy(
  ({ specs }: Books) => [specs],
  ({ specs }): ReadonlyMap<string, SpecId> => {
    const names = new Map<string, SpecId>();
    for (const spec of specs.values())
      for (const name of specNames(spec)) if (!names.has(foldText(name))) names.set(foldText(name), spec.id);
    return names;
  },
);

/** What a name of the till means: a spec, nothing of ours (null), or nobody knows yet (undefined). */
export function meaningOf(drink: string, books: Books): TillMeaning | undefined {
  const name = foldText(drink);
  return books.tillNames.has(name) ? books.tillNames.get(name) : namesOf(books).get(name);
}

/** The measure a name of the till stands for, as it was matched or as it says itself; null for any other. */
const straightOf = (drink: string, meaning: TillMeaning | undefined, books: Books): Straight | null => {
  if (meaning === undefined) return readStraight(drink, books);
  const item = meaning === null || typeof meaning === 'string' ? undefined : books.items.get(meaning.item);
  return item === undefined || meaning === null || typeof meaning === 'string'
    ? null
    : { item, amount: meaning.amount };
};

/** Whether somebody has to say what it is. */
export const isUnknown = (drink: string, books: Books): boolean =>
  meaningOf(drink, books) === undefined && readStraight(drink, books) === null;

/** Every spec that was sold or logged as a sale, and every name that no spec answers to; largest difference first. */
export function tillRows(
  sales: readonly Sale[],
  { drinks, straights }: Pick<Report, 'drinks' | 'straights'>,
  books: Books,
): TillRow[] {
  const bySpec = new Map<SpecId, number>();
  const others = new Map<string, { drink: string; match: 'unknown' | 'not-ours'; sold: number }>();
  const measures = new Map<ItemId, SoldMeasure>();
  for (const { drink, count } of sales) {
    const meaning = meaningOf(drink, books);
    if (typeof meaning === 'string') {
      bySpec.set(meaning, (bySpec.get(meaning) ?? 0) + count);
      continue;
    }
    const measure = straightOf(drink, meaning, books);
    if (measure !== null) {
      addMeasure(measures, measure, count);
      continue;
    }
    const known = others.get(foldText(drink)) ?? {
      drink,
      match: meaning === null ? 'not-ours' : 'unknown',
      sold: 0,
    };
    others.set(foldText(drink), { ...known, sold: known.sold + count });
  }
  for (const { spec, as } of drinks)
    if ((as.sale ?? 0) > 0 && !bySpec.has(spec as SpecId)) bySpec.set(spec as SpecId, 0);
  const rows = [...bySpec].map(([spec, sold]): TillRow => {
    const logged = drinks.find((drink) => drink.spec === spec)?.as.sale ?? 0;
    const drink = books.specs.get(spec)?.name ?? spec;
    return { drink, spec, match: 'spec', measure: null, sold, logged, difference: sold - logged };
  });
  const unmatched = [...others.values()].map(
    (one): TillRow => ({ ...one, spec: null, measure: null, logged: null, difference: null }),
  );
  const straight = [...measures.values()].map((one) => straightRow(one, straights, books.house));
  return [...unmatched, ...rows, ...straight].sort(byRank);
}

/** What the till sold of an item straight: the measure that is named, the smallest of several, and how many of it that is. */
type SoldMeasure = { readonly item: Item; readonly amount: Thousandths; readonly total: Thousandths };

function addMeasure(
  measures: Map<ItemId, SoldMeasure>,
  { item, amount }: { item: Item; amount: Thousandths },
  count: number,
): void {
  const before = measures.get(item.id);
  measures.set(item.id, {
    item,
    amount: Math.min(amount, before?.amount ?? amount),
    total: (before?.total ?? 0) + amount * count,
  });
}

const tenth = (value: number): number => Math.round(value * 10) / 10;

function straightRow(
  { item, amount, total }: SoldMeasure,
  straights: Report['straights'],
  house: House,
): TillRow {
  const sold = tenth(total / amount);
  const poured = straights.find((one) => one.item === item.id)?.amount ?? 0;
  const logged = tenth((poured * 1000) / amount);
  return {
    drink: `${displayAmount(amount, shownIn(item), house)} ${item.name}`,
    spec: null,
    match: 'straight',
    measure: { item: item.id, amount: toUnits(amount), off: toUnits(total - Math.round(poured * 1000)) },
    sold,
    logged,
    difference: tenth(sold - logged),
  };
}

/** Names to match first, then the largest differences, then what agrees, then what is not ours. */
function byRank(a: TillRow, b: TillRow): number {
  const rank = (row: TillRow): number => (row.match === 'unknown' ? 0 : row.match === 'not-ours' ? 2 : 1);
  return (
    rank(a) - rank(b) ||
    Math.abs(b.difference ?? 0) - Math.abs(a.difference ?? 0) ||
    (a.drink < b.drink ? -1 : 1)
  );
}

/**
 * Per item, what the differences would have taken: above zero for drinks sold and not logged, below for drinks logged and
 * not sold. A drink tapped under a wrong name shows as both and cancels where the two share an item. Thousandths.
 */
export function unloggedAmounts(
  rows: readonly TillRow[],
  books: Books,
  names: Books,
): Map<string, Thousandths> {
  const amounts = new Map<string, Thousandths>();
  for (const { spec, difference, measure } of rows) {
    if (measure !== null)
      amounts.set(measure.item, (amounts.get(measure.item) ?? 0) + Math.round(measure.off * 1000));
    // By the card of that night; a drink that was written only later by the card of now.
    const card: Spec | undefined =
      spec === null ? undefined : (books.specs.get(spec) ?? names.specs.get(spec));
    if (card === undefined || difference === null || difference === 0) continue;
    const lines = specLines(card, books.specs.has(card.id) ? books : names);
    if (!lines.ok) continue;
    for (const { item, amount } of lines.value)
      amounts.set(item.id, (amounts.get(item.id) ?? 0) + amount * difference);
  }
  return amounts;
}

/** The same in the items' units, for a report. */
export const unloggedUnits = (amounts: ReadonlyMap<string, Thousandths>, item: string): number =>
  toUnits(amounts.get(item) ?? 0);
