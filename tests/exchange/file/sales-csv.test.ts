// Till sales in: what a line may say, and that a file read twice says the same things once.
import { expect, it } from 'vitest';
import { eventId } from '../../../src/domain/value/ids.ts';
import { isSalesHeader, readSales } from '../../../src/exchange/file/sales-csv.ts';
import { anItem, aSpec, messagesOf, must } from '../../support/shelf.ts';
import { sets, stocks, writes } from '../../support/steps.ts';
import { booksAfter } from '../../support/told.ts';

const card = [...stocks(anItem('gin')), ...writes(aSpec('quay', ['60 ml gin'], { name: 'Quay' }))];
const books = booksAfter(card);
const now = '2026-11-21T02:00:00.000Z';
const file = (...lines: readonly string[]): string => ['time,drink,quantity,price,by', ...lines].join('\n');
const read = (text: string, at = books) => must(readSales(text, at, now));
const sold = (text: string, at = books) =>
  read(text, at).drafts.map((draft) => (draft.kind === 'drink-sold' ? draft : null));
const refused = (...lines: readonly string[]): string[] => messagesOf(readSales(file(...lines), books, now));

it('reads a line, with and without price and seller', () => {
  const [full, bare] = sold(file('2026-11-20 22:41,Quay,2,14.00,Ines', '2026-11-20 23:00,Quay,1,,'));
  expect(full).toMatchObject({
    drink: 'Quay',
    count: 2,
    soldAt: '2026-11-20T22:41:00.000Z',
    priceMinor: 1400,
    seller: 'Ines',
  });
  expect(bare).toMatchObject({ count: 1, priceMinor: null, seller: null });
  expect(sold('time;drink;quantity\n2026-11-20 22:41;Quay;2')).toHaveLength(1);
});

it("reads the clock on the house's wall, unless the line says its offset", () => {
  const berlin = booksAfter(card, sets('zone', 'Europe/Berlin'));
  const at = (time: string) => sold(file(`${time},Quay,1,,`), berlin)[0]?.soldAt;
  // Berlin is an hour ahead in November.
  expect(at('2026-11-20 22:41')).toBe('2026-11-20T21:41:00.000Z');
  expect(at('2026-11-20T22:41:00Z')).toBe('2026-11-20T22:41:00.000Z');
  expect(at('2026-11-20T20:41:00-05:00')).toBe('2026-11-21T01:41:00.000Z');
});

it('gives the same line the same id whenever it is read, and equal lines different ones', () => {
  const [a, b] = ['2026-11-20 22:41,Quay,1,,', '2026-11-20 22:42,Quay,1,,'];
  const ids = (...lines: readonly string[]) => sold(file(...lines)).map((draft) => draft?.id ?? '');
  const night = ids(a, b, a);
  expect(new Set(night).size).toBe(3);
  expect(ids(a, b, a)).toEqual(night);
  // A file that overlaps: the line alone has the id it had among others.
  expect(ids(b)).toEqual([night[1]]);
  expect(ids(a)).toEqual([night[0]]);
  // RFC 9562 (2024), 5.7: a UUID of version 7 begins with the time.
  for (const id of night) expect(eventId.safeParse(id).success, id).toBe(true);
  expect([...night].sort()[2]).toBe(night[1]);
});

it('takes capitals and accents for the same line, another price or seller for another', () => {
  const ids = (line: string) => sold(file(line))[0]?.id;
  expect(ids('2026-11-20 22:41,QUAY,1,,')).toBe(ids('2026-11-20 22:41,quay,1,,'));
  expect(ids('2026-11-20 22:41,Quay,1,14.00,')).not.toBe(ids('2026-11-20 22:41,Quay,1,15.00,'));
  expect(ids('2026-11-20 22:41,Quay,1,,Ines')).not.toBe(ids('2026-11-20 22:41,Quay,1,,Tom'));
});

it('keeps names no card answers to, each once with its first line', () => {
  const { drafts, unknown } = read(
    file('2026-11-20 22:41,Cover,2,,', '2026-11-20 22:42,Quay,1,,', '2026-11-20 22:43,COVER,3,,'),
  );
  expect(drafts).toHaveLength(3);
  expect(unknown).toEqual([{ drink: 'Cover', line: 2, sold: 5 }]);
});

it('refuses times that are none, lie ahead or before the century', () => {
  expect(refused('yesterday,Quay,1,,')).toEqual([
    '"yesterday" is not a time. Write it as 2026-11-20 22:41, or with its offset.',
  ]);
  expect(refused('2026-02-30 22:41,Quay,1,,')[0]).toMatch(/is not a time/);
  expect(refused('2026-11-21 02:01,Quay,1,,')[0]).toMatch(/lies in the future/);
  expect(refused('1999-12-31 22:41,Quay,1,,')[0]).toMatch(/lies before the year 2000/);
  expect(sold(file('2026-11-21 02:00,Quay,1,,'))).toHaveLength(1);
});

it('refuses what is no number of drinks; one below zero with how to mend it', () => {
  for (const count of ['0', '1.5', 'two', '', '10001', '1e3'])
    expect(refused(`2026-11-20 22:41,Quay,${count},,`)[0], count).toMatch(/is not a number of drinks/);
  expect(refused('2026-11-20 22:41,Quay,-1,,')[0]).toMatch(/is below zero\. A sale taken back is left out/);
  expect(sold(file('2026-11-20 22:41,Quay,10000,,'))[0]?.count).toBe(10_000);
});

it('refuses names that are empty, endless, a formula or a trick', () => {
  expect(refused('2026-11-20 22:41,,1,,')[0]).toMatch(/^There is no drink in this line/);
  expect(refused('2026-11-20 22:41,=cmd(),1,,')[0]).toMatch(/looks like a formula/);
  expect(refused(`2026-11-20 22:41,${'x'.repeat(121)},1,,`)[0]).toMatch(/not a plain name/);
  expect(refused('2026-11-20 22:41,Qu\u200bay,1,,')[0]).toMatch(/not a plain name/);
  expect(refused('2026-11-20 22:41,Quay,1,fourteen,')[0]).toMatch(/is not the price of one drink in EUR/);
  expect(refused(`2026-11-20 22:41,Quay,1,,${'x'.repeat(61)}`)[0]).toMatch(/not a plain name of at most 60/);
});

it('lists bad lines with their numbers, fifty at most, and takes none of the file', () => {
  const result = readSales(file('2026-11-20 22:41,Quay,1,,', 'x,Quay,1,,', '', 'y,Quay,1,,'), books, now);
  expect(result.ok ? [] : result.problems.map(({ line }) => line)).toEqual([3, 5]);
  expect(refused(...Array.from({ length: 80 }, () => 'x,Quay,1,,'))).toHaveLength(50);
});

it('knows a sales file from an items file by its header', () => {
  expect(isSalesHeader(['time', 'drink', 'quantity'])).toBe(true);
  expect(isSalesHeader(['id', 'time', 'drink', 'quantity'])).toBe(false);
  expect(isSalesHeader(['time', 'drink'])).toBe(false);
});
