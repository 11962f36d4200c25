// Amounts, money and verdicts as people read them on a screen.

import { displayAmount, shownIn } from '../domain/catalogue/display.ts';
import { bareName, type Item } from '../domain/catalogue/item.ts';
import { type Books, isOpen, personName, usableByItem } from '../domain/ledger/books.ts';
import type { Thousandths, Unit } from '../domain/value/amount.ts';
import { dateText } from '../domain/value/clock-date.ts';
import { memoBy } from '../domain/value/memo.ts';
import { formatMoney } from '../domain/value/money.ts';

/** An amount as the house shows it: of an item in what it is counted in, of a unit in that. */
export const amountText = (amount: Thousandths, of: Unit | Item, books: Books): string =>
  displayAmount(amount, typeof of === 'string' ? of : shownIn(of), books.house);

/** An amount in a column, at its longest: "128.4 bottles". */
export const AMOUNT = 13;

export const moneyText = (minor: number, books: Books): string => formatMoney(minor, books.house.currency);

/** What tonight can reckon with of every item, worked out once for each state of the books. */
export const usableNow = memoBy(
  ({ stock, late }: Books) => [stock, late],
  (books): ReadonlyMap<Item['id'], Thousandths> => usableByItem(books),
);

/** "Oddtide · Fri 20 Nov · Ines pouring". */
export function titleText(books: Books): string {
  const { shift, house } = books;
  if (!isOpen(shift)) return `${house.name} · no shift open`;
  const who = personName(books, shift.pouring);
  return `${house.name} · ${dateText(shift.date)}${who === null ? '' : ` · ${who} pouring`}`;
}

export const shortName = (item: Item): string => bareName(item.name);
