// What came of an order otherwise than it was ordered, as it is typed.
import { movedPast, pastTargetText } from '../../drink/target.ts';
import type { Books } from '../../ledger/books.ts';
import { findItem } from '../../search/find.ts';
import { parseMoney } from '../../value/money.ts';
import { done, type Result, refuse } from '../../value/problem.ts';
import { clean } from '../../value/text.ts';
import type { Came } from './intend-order.ts';

/** "dry gin=6@19.50": what came of one thing, at which cost of one. */
function cameOf(books: Books, word: string): Result<Came> {
  const [, name = '', containers = '', cost] = /^(.+?)=([^@]*)(?:@(.*))?$/.exec(word) ?? [];
  if (!/^\d{1,4}([.,]\d{1,3})?$/.test(containers))
    return refuse(
      'bad-line',
      `"${clean(word).slice(0, 40)}" is not what came. Write it as "dry gin=6" or "dry gin=6@19.50".`,
      64,
    );
  const item = findItem(books, name);
  if (!item.ok) return item;
  const costMinor = cost === undefined ? null : parseMoney(cost, books.house.currency);
  if (cost !== undefined && costMinor === null)
    return refuse(
      'bad-cost',
      `"${clean(cost).slice(0, 20)}" is not an amount of ${books.house.currency}. Write it as 18.90.`,
    );
  return done({ item: item.value, containers, costMinor });
}

/** Several of them. */
export function readCame(books: Books, words: readonly string[]): Result<Came[]> {
  const came: Came[] = [];
  for (const word of words) {
    const one = cameOf(books, word);
    if (!one.ok) return one;
    came.push(one.value);
  }
  return done(came);
}

/** One field of them: "dry gin=4@19.50, rye=0". A comma between two digits is one of a number. */
export const cameWords = (text: string): string[] =>
  text
    .split(/\s*(?:;|,(?!\d))\s*/)
    .map((word) => word.trim())
    .filter((word) => word !== '');

/** The cards that new prices would move past the house's target; empty for none. */
export function movedByCame(books: Books, came: readonly Came[]): string {
  const priced = came.flatMap(({ item, costMinor }) => (costMinor === null ? [] : [{ ...item, costMinor }]));
  return pastTargetText(movedPast(priced, books), books.house.targetPercent);
}
