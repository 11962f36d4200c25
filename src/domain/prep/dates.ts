// Until when what is made may be used: by the house's rule, and never longer than the earliest of its parts.

import type { Item } from '../catalogue/item.ts';
import { discardAfter, earliest } from '../catalogue/keeping.ts';
import type { PrepCard } from '../catalogue/spec.ts';
import { type Books, stockOf } from '../ledger/books.ts';
import { lotsFor, openUntil } from '../ledger/stock/in-date.ts';
import type { Thousandths } from '../value/amount.ts';
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
    inputs,
    at,
  }: {
    readonly card: PrepCard;
    readonly item: Item;
    readonly inputs: readonly { readonly item: Item; readonly amount: Thousandths }[];
    readonly at: string;
  },
): Result<string | null> {
  const keeps = card.keeps ?? item.keeps;
  const dates: (string | null)[] = [keeps === undefined ? null : discardAfter(keeps, at, books.house)];
  for (const { item: part, amount } of inputs) {
    const lots = lotsFor(books, part.id, amount, at);
    if (lots === null)
      return refuse(
        'past-date',
        `Too little of ${part.name} is in date for that. Throw the old away with ullage discard (ullage lots lists it), or count what is there.`,
        65,
        `Too little of ${part.name} is in date for that. Throw the old away in the Prep room, or count what is there.`,
      );
    dates.push(...lots.map(({ discardAt }) => discardAt));
    const [open] = stockOf(books, part.id);
    // What stands open is used first; one that is past its time is none that anybody uses.
    const until = open === undefined ? null : openUntil(books, open);
    dates.push(until !== null && until > at ? until : null);
  }
  return done(earliest(dates));
}
