// Amounts, money and verdicts as people read them on a screen.

import { displayAmount, shownIn } from '../domain/catalogue/display.ts';
import { bareName, type Item } from '../domain/catalogue/item.ts';
import { type Books, isOpen, personName, usableByItem } from '../domain/ledger/books.ts';
import type { Thousandths, Unit } from '../domain/value/amount.ts';
import { dateText } from '../domain/value/clock-date.ts';
import { memoBy } from '../domain/value/memo.ts';
import { formatMoney } from '../domain/value/money.ts';
import { cut, widthOf } from './parts/line.ts';

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

/** "Oddtide · Fri 20 Nov · Ines pouring": where that is too long the name of the house makes way, not the night and who is pouring. */
export function titleText(books: Books, width: number): string {
  const { shift, house } = books;
  const who = isOpen(shift) ? personName(books, shift.pouring) : null;
  const rest = isOpen(shift)
    ? ` · ${dateText(shift.date)}${who === null ? '' : ` · ${who} pouring`}`
    : ' · no shift open';
  return `${cut(house.name, Math.max(LEAST_NAME, width - widthOf(rest)))}${rest}`;
}

/** So much of the house's name stays. */
const LEAST_NAME = 8;

export const shortName = (item: Item): string => bareName(item.name);
