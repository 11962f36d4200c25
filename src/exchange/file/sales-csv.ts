// Till sales in: `time,drink,quantity` and optionally `price,by`. Every line that cannot be read is listed; a name no spec
// answers to is no problem of the file: it is kept, and listed to be matched.

import { createHash } from 'node:crypto';
import { intendSale, type SaleLine } from '../../domain/intent/intend-till.ts';
import type { Books } from '../../domain/ledger/books.ts';
import type { EventDraft } from '../../domain/ledger/event.ts';
import { isUnknown } from '../../domain/report/till.ts';
import { epochOf, instantOfWall, isSkipped, parseInstant } from '../../domain/value/clock-date.ts';
import type { EventId } from '../../domain/value/ids.ts';
import { parseMoney } from '../../domain/value/money.ts';
import { numberDoubt } from '../../domain/value/number.ts';
import { done, type Problem, type Result, refuseAll } from '../../domain/value/problem.ts';
import { clean, firstUnsafe, foldText } from '../../domain/value/text.ts';
import { type CsvRow, readCsv } from './csv.ts';

const required = ['time', 'drink', 'quantity'];
const known = [...required, 'price', 'by'];
const MOST_LISTED = 50;
const MOST_SOLD = 10_000;
const EARLIEST = '2000-01-01T00:00:00.000Z';

export type Sales = {
  readonly drafts: readonly EventDraft[];
  /** Names without a spec, each with its first line and how many were sold. */
  readonly unknown: readonly { readonly drink: string; readonly line: number; readonly sold: number }[];
  /** Lines whose time the clock on the wall never showed: read as if it had not been put forward. */
  readonly skipped: readonly number[];
};

export const isSalesHeader = (columns: readonly string[]): boolean =>
  required.every((name) => columns.includes(name)) && !columns.includes('id');

/** Reads the whole file against the books as they are; `now` bounds the times. */
export function readSales(text: string, books: Books, now: string): Result<Sales> {
  const table = readCsv(text, known, required);
  if (!table.ok) return table;
  const problems: Problem[] = [];
  const drafts: EventDraft[] = [];
  const unknown = new Map<string, { drink: string; line: number; sold: number }>();
  const seen = new Map<string, number>();
  const skipped: number[] = [];
  for (const row of table.value.rows) {
    const read = readLine(row, books, now);
    if (typeof read === 'string') {
      if (problems.length < MOST_LISTED)
        problems.push({ code: 'bad-sale', exit: 65, line: row.line, message: read });
      continue;
    }
    if (isSkippedTime(row, books)) skipped.push(row.line);
    drafts.push(intendSale(idOf(read, seen), read));
    if (!isUnknown(read.drink, books)) continue;
    const before = unknown.get(foldText(read.drink)) ?? { drink: read.drink, line: row.line, sold: 0 };
    unknown.set(foldText(read.drink), { ...before, sold: before.sold + read.count });
  }
  return problems.length > 0
    ? refuseAll(problems)
    : done({ drafts, unknown: [...unknown.values()], skipped });
}

function isSkippedTime({ cells }: CsvRow, { house }: Books): boolean {
  const [, date, clock] =
    /^(\d{4}-\d\d-\d\d)[ T](\d\d:\d\d)(:\d\d)?$/.exec((cells.get('time') ?? '').trim()) ?? [];
  return date !== undefined && clock !== undefined && isSkipped(date, clock, house.zone);
}

/** One line, or what is wrong with it and how to mend it. */
function readLine({ cells }: CsvRow, books: Books, now: string): SaleLine | string {
  const cell = (name: string): string => (cells.get(name) ?? '').trim();
  const said = (name: string): string => `"${clean(cell(name)).slice(0, 40)}"`;
  const drink = cell('drink');
  if (drink === '') return 'There is no drink in this line. Name it, or take the line out.';
  if (drink.length > 120 || firstUnsafe(drink) !== null)
    return `${said('drink')} is not a plain name of at most 120 characters. Write it plainly.`;
  if (/^[=+\-@]/.test(drink))
    return `${said('drink')} looks like a formula, not like a drink. Write the name alone.`;
  const soldAt = parseInstant(cell('time')) ?? instantOfWall(cell('time'), books.house.zone);
  if (soldAt === null)
    return `${said('time')} is not a time. Write it as 2026-11-20 22:41, or with its offset.`;
  if (soldAt < EARLIEST)
    return `${said('time')} lies before the year 2000. Write the year with four digits, as 2026-11-20 22:41.`;
  if (soldAt > now)
    return `${said('time')} lies in the future. Check the till's clock, or take the line out.`;
  const count = cell('quantity');
  if (/^-\d+$/.test(count))
    return `${said('quantity')} is below zero. A sale taken back is left out: take this line and the one it cancels out of the file.`;
  if (!/^\d{1,5}$/.test(count) || Number(count) < 1 || Number(count) > MOST_SOLD)
    return `${said('quantity')} is not a number of drinks. Write a whole number from 1 to ${MOST_SOLD}.`;
  const price = cell('price') === '' ? null : parseMoney(cell('price'), books.house.currency);
  if (cell('price') !== '' && price === null)
    return (
      numberDoubt(cell('price')) ??
      `${said('price')} is not the price of one drink in ${books.house.currency}. Write it as 14.00.`
    );
  const seller = cell('by');
  if (seller.length > 60 || firstUnsafe(seller) !== null)
    return `${said('by')} is not a plain name of at most 60 characters. Write it plainly.`;
  return { drink, count: Number(count), soldAt, priceMinor: price, seller: seller === '' ? null : seller };
}

/**
 * The id of a line, made of what it says and of how many equal lines stand before it: a file imported twice, or two that
 * overlap, give the same ids. A UUID of version 7 by its form (RFC 9562, 5.7): the time of the sale, then a digest.
 */
/** The id of a line as one of several stations records it: each has its own, and the line that both were read from is the same. */
export const saleIdAt = (line: EventId, station: string): EventId => {
  const digest = createHash('sha256').update(`${line} ${station}`).digest('hex');
  return `${line.slice(0, 15)}${digest.slice(0, 3)}-${line.slice(19, 20)}${digest.slice(3, 6)}-${digest.slice(6, 18)}` as EventId;
};

function idOf(line: SaleLine, seen: Map<string, number>): EventId {
  const text = JSON.stringify([line.soldAt, foldText(line.drink), line.count, line.priceMinor, line.seller]);
  const nth = seen.get(text) ?? 0;
  seen.set(text, nth + 1);
  const digest = createHash('sha256').update(`${text} ${nth}`).digest('hex');
  const time = epochOf(line.soldAt).toString(16).padStart(12, '0');
  const variant = ((Number.parseInt(digest[3] ?? '0', 16) & 3) | 8).toString(16);
  return `${time.slice(0, 8)}-${time.slice(8)}-7${digest.slice(0, 3)}-${variant}${digest.slice(4, 7)}-${digest.slice(7, 19)}` as EventId;
}
