// Amounts, money and verdicts as people read them on a screen.
import type { Thousandths, Unit } from '../domain/amount.ts';
import { type Books, expectedByItem, isOpen } from '../domain/books.ts';
import { dateText } from '../domain/clock-date.ts';
import { personName } from '../domain/find.ts';
import type { Item } from '../domain/item.ts';
import { formatMoney } from '../domain/money.ts';

const grouped = (value: number, decimals: number): string =>
  value.toLocaleString('en', { minimumFractionDigits: decimals, maximumFractionDigits: decimals });

/** "1,960 ml", "22.5 ml", "14": whole from 100 on, one decimal below when there is one. */
export function amountText(amount: Thousandths, unit: Unit): string {
  const value = amount / 1000;
  const decimals = Number.isInteger(value) || Math.abs(value) >= 100 ? 0 : 1;
  return `${grouped(value, decimals)}${unit === 'each' ? '' : ` ${unit}`}`;
}

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

/** A name without the strength at its end, for narrow lists. */
export const bareName = (name: string): string => name.replace(/\s+\d+([.,]\d+)?\s*%$/, '');
export const shortName = (item: Item): string => bareName(item.name);
