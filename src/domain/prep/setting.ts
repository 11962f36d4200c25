// What a list of what to make is worked out from, and which card is meant.
import { prepCards } from '../catalogue/catalogue.ts';
import { itemNames } from '../catalogue/item.ts';
import { isPrepCard, type PrepCard } from '../catalogue/spec.ts';
import type { Books } from '../ledger/books.ts';
import { weekdayOf } from '../order/calendar.ts';
import { expectedDays, type Past } from '../order/past.ts';
import { findSpec } from '../search/find.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { foldText } from '../value/text.ts';
import type { PrepSetting } from './need.ts';

export const prepSetting = (books: Books, past: Past, date: string, at: string): PrepSetting => ({
  date,
  at,
  uses: past.poured,
  expected: expectedDays(books),
  chance: books.house.prepChance,
  byHour: past.hours[weekdayOf(date)] ?? new Map(),
});

/** A prep card by its own name or by that of what it makes; two that make it are asked apart. */
export function findPrep(books: Books, text: string): Result<PrepCard> {
  const specs = new Map([...books.specs].filter(([, spec]) => isPrepCard(spec)));
  const found = findSpec({ ...books, specs }, text);
  if (found.ok && isPrepCard(found.value)) return done(found.value);
  const wanted = foldText(text);
  const makers = prepCards(books).filter(({ makes }) => {
    const item = books.items.get(makes.item);
    return item !== undefined && itemNames(item).some((name) => foldText(name) === wanted);
  });
  const [only, ...more] = makers;
  if (only !== undefined && more.length === 0) return done(only);
  if (only !== undefined)
    return refuse(
      'several-cards',
      `Several cards make that: ${makers.map(({ name }) => name).join(', ')}. Name one of them.`,
    );
  const drink = findSpec(books, text);
  if (drink.ok && !isPrepCard(drink.value))
    return refuse(
      'no-prep-card',
      `${drink.value.name} is a drink and makes nothing that is stocked. A card that does has a line makes: 1 l simple syrup.`,
    );
  return found as Result<never>;
}
