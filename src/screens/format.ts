// Amounts, money and verdicts as people read them on a screen.
import type { Thousandths, Unit } from '../domain/amount.ts';
import { type Books, expectedByItem, isOpen } from '../domain/books.ts';
import { dateText } from '../domain/clock-date.ts';
import { displayAmount } from '../domain/display.ts';
import { personName } from '../domain/find.ts';
import { bareName, type Item } from '../domain/item.ts';
import { formatMoney } from '../domain/money.ts';

/** An amount as the house shows it. */
export const amountText = (amount: Thousandths, unit: Unit, books: Books): string =>
  displayAmount(amount, unit, books.house);

export const moneyText = (minor: number, books: Books): string => formatMoney(minor, books.house.currency);

const sums = new WeakMap<Books['stock'], Map<Item['id'], Thousandths>>();
/** Expected amount of every item, worked out once for each state of the books. */
export function expectedNow(books: Books): ReadonlyMap<Item['id'], Thousandths> {
  const known = sums.get(books.stock) ?? expectedByItem(books);
  sums.set(books.stock, known);
  return known;
}

/** "Saltgate · Fri 20 Nov · Ines pouring". */
export function titleText(books: Books): string {
  const { shift, house } = books;
  if (!isOpen(shift)) return `${house.name} · no shift open`;
  const who = personName(books, shift.pouring);
  return `${house.name} · ${dateText(shift.date)}${who === null ? '' : ` · ${who} pouring`}`;
}

export const shortName = (item: Item): string => bareName(item.name);
