// What a line of the till, and a name of it that is matched, would record.
import type { Books, TillMeaning } from '../ledger/books.ts';
import type { EventDraft, Sale } from '../ledger/event.ts';
import { namesOf } from '../report/till.ts';
import type { EventId, PersonId } from '../value/ids.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { clean, foldText } from '../value/text.ts';

/** What a line of the till says, before it has an id. */
export type SaleLine = Pick<Sale, 'drink' | 'count' | 'soldAt' | 'priceMinor' | 'seller'>;

/** `id` is made of the line itself, so that a second import of it is harmless. */
export const intendSale = (id: EventId, line: SaleLine): EventDraft => ({
  kind: 'drink-sold',
  shift: null,
  by: null,
  id,
  ...line,
});

const isSame = (a: TillMeaning, b: TillMeaning): boolean =>
  a === null || b === null || typeof a === 'string' || typeof b === 'string'
    ? a === b
    : a.item === b.item && a.amount === b.amount;

/** Says what a name of the till means, for all lines there are and will be. */
export function intendTillName(
  books: Books,
  drink: string,
  meaning: TillMeaning,
  by: PersonId | null,
): Result<EventDraft[]> {
  const name = drink.trim();
  if (name === '' || name.length > 120)
    return refuse('bad-name', 'A name of the till is 1 to 120 characters. Give it as the till writes it.');
  if (namesOf(books).has(foldText(name)) && !books.tillNames.has(foldText(name)))
    return refuse(
      'own-name',
      `"${clean(name).slice(0, 60)}" is a name of one of our specs already, and means that.`,
    );
  const known = books.tillNames.get(foldText(name));
  if (known !== undefined && isSame(known, meaning)) return done([]);
  const means =
    meaning === null || typeof meaning === 'string' ? { spec: meaning } : { spec: null, straight: meaning };
  return done([{ kind: 'till-name-matched', shift: null, by, drink: name, ...means }]);
}
