// Until when what is made may be used: by the house's rule, and never longer than the earliest of its parts.

import type { Item } from '../catalogue/item.ts';
import { discardAfter, earliest } from '../catalogue/keeping.ts';
import type { PrepCard } from '../catalogue/spec.ts';
import { type Books, stockKey } from '../ledger/books.ts';
import type { Draw } from '../ledger/event.ts';
import { lotsFor, openUntil } from '../ledger/stock/in-date.ts';
import { done, type Result, refuse } from '../value/problem.ts';

/**
 * The discard date of a making at a moment; null where neither a rule nor a part sets one. Refused where only what is past its date
 * would cover a part. A mixture takes the earliest date of its parts: FDA Food Code 2022, 3-501.17; local rules decide.
 */
export function discardOf(
  books: Books,
  {
    card,
    item,
    draws,
    at,
  }: {
    readonly card: PrepCard;
    readonly item: Item;
    readonly draws: readonly Pick<Draw, 'item' | 'place' | 'amount'>[];
    readonly at: string;
  },
): Result<string | null> {
  const keeps = card.keeps ?? item.keeps;
  const dates: (string | null)[] = [keeps === undefined ? null : discardAfter(keeps, at, books.house)];
  for (const { item: part, place, amount } of draws) {
    const lots = lotsFor(books, part, amount, at);
    const stocked = books.items.get(part);
    const name = stocked?.name ?? part;
    if (lots === null)
      return refuse(
        'past-date',
        `Too little of ${name} is in date for that. Throw the old away with ullage discard (ullage lots lists it), or count what is there.`,
        65,
        `Too little of ${name} is in date for that. Throw the old away in the Prep room, or count what is there.`,
      );
    dates.push(...lots.map(({ discardAt }) => discardAt));
    const stock = books.stock.get(stockKey(part, place));
    // What stands open there is used first; where none does, or only what is past its time, one is opened for it.
    const until = stock === undefined ? null : openUntil(books, stock);
    const fresh = stocked?.opened === undefined ? null : discardAfter(stocked.opened, at, books.house);
    dates.push(until !== null && until > at ? until : fresh);
  }
  return done(earliest(dates));
}
