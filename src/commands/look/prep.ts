// prep, lots: what to make for a night, and what stands of what was made, each with its date.
import { displayAmount, shownIn } from '../../domain/catalogue/display.ts';
import { dayOrHour } from '../../domain/catalogue/keeping.ts';
import { type Books, personName } from '../../domain/ledger/books.ts';
import { lateOpen, lotsOf } from '../../domain/ledger/stock/in-date.ts';
import { isLate, type Lot } from '../../domain/ledger/stock/lot.ts';
import { pastOf } from '../../domain/order/past.ts';
import { type PrepLine, prepFor, shoppingOf } from '../../domain/prep/need.ts';
import { prepSetting } from '../../domain/prep/setting.ts';
import { benchLines } from '../../domain/prep/words.ts';
import { findItem } from '../../domain/search/find.ts';
import { exactText, toUnits } from '../../domain/value/amount.ts';
import { businessDate, dateText, isDate } from '../../domain/value/clock-date.ts';
import type { ItemId } from '../../domain/value/ids.ts';
import { millisToMinor } from '../../domain/value/money.ts';
import { layTable } from '../../exchange/print/table-text.ts';
import { SEASON } from '../../store/reports.ts';
import {
  booksNow,
  type Command,
  flagOf,
  momentOf,
  refused,
  say,
  sayJson,
  usageProblem,
  withStore,
} from '../line/command.ts';

const prepJson = ({ item, need, inDate, make, times, discardAt, inputs, why }: PrepLine) => ({
  item: item.id,
  name: item.name,
  need: toUnits(need),
  inDate: toUnits(inDate),
  make: toUnits(make),
  times,
  discardAt,
  inputs: inputs.map(({ item: input, amount, have }) => ({
    item: input.id,
    amount: toUnits(amount),
    unit: input.unit,
    have: toUnits(have),
  })),
  why,
});

export const prep: Command = {
  name: 'prep',
  usage: ['prep [--date DATE]'],
  says: 'what to make for a night, in the order of work, with what it needs; every line says its arithmetic',
  flags: [{ name: 'date', takes: 'DATE', says: 'another night than this one' }],
  run: (context) =>
    withStore(context, (store) => {
      const books = booksNow(context, store);
      const now = momentOf(context);
      const date = flagOf(context, 'date') ?? businessDate(now, books.house.zone, books.house.cutOffHour);
      if (!isDate(date)) return usageProblem('--date takes a date. Write it as 2026-12-31.');
      if (date < businessDate(now, books.house.zone, books.house.cutOffHour))
        return usageProblem(`${dateText(date)} ${date.slice(0, 4)} is over. Give a night that is to come.`);
      const past = pastOf(books, store.shiftBooks(SEASON));
      const lines = prepFor(books, prepSetting(books, past, date, now));
      if (context.json) return sayJson(lines.map(prepJson));
      if (lines.length === 0)
        return say('No card makes anything yet. A prep card has a line makes: 1 l simple syrup.');
      return say(prepText(books, lines, date));
    }),
};

function prepText(books: Books, lines: readonly PrepLine[], date: string): string {
  const amount = (value: number, of: Parameters<typeof shownIn>[0]): string =>
    displayAmount(value, shownIn(of), books.house);
  const short = shoppingOf(lines).map(({ item, short: lacking }) => `${amount(lacking, item)} ${item.name}`);
  return [
    `For ${dateText(date)} ${date.slice(0, 4)}`,
    ...lines.flatMap(({ item, card, times, why }) => [
      times === 0 ? `${item.name}: enough` : `${item.name}: make ${times} × ${card.makes.text}`,
      `  ${why}`,
      ...(times === 0 ? [] : benchLines(books, card, times).slice(1)),
    ]),
    ...(short.length === 0 ? [] : [`To bring: ${short.join(', ')}`]),
  ].join('\n');
}

export const lots: Command = {
  name: 'lots',
  usage: ['lots [ITEM]'],
  says: 'what stands of what was made or does not keep, each with its date, oldest first',
  run: (context) =>
    withStore(context, (store) => {
      const books = booksNow(context, store);
      const now = momentOf(context);
      const found = context.words.length === 0 ? null : findItem(books, context.words.join(' '));
      if (found !== null && !found.ok) return refused(found.problems);
      const items = found === null ? [...books.items.keys()] : [found.value.id];
      const all = items.flatMap((item) => lotsOf(books, item));
      const sorted = [...all].sort((a, b) => (a.madeAt < b.madeAt ? -1 : a.madeAt > b.madeAt ? 1 : 0));
      if (context.json) return sayJson(sorted.map((lot) => lotJson(books, lot, now)));
      const open = openLate(books, items, now);
      if (sorted.length + open.length === 0)
        return say('Nothing stands of a lot. ullage make records what is made here.');
      return say([...(sorted.length === 0 ? [] : [lotsText(books, sorted, now)]), ...open].join('\n'));
    }),
};

/** The day, with its year where that is another. */
const dayText = (date: string, now: string): string =>
  date.slice(0, 4) === now.slice(0, 4) ? dateText(date) : `${dateText(date)} ${date.slice(0, 4)}`;

/** What has stood open too long is of no lot; it is thrown away by its amount. */
const openLate = (books: Books, items: readonly ItemId[], now: string): string[] =>
  lateOpen(books, now)
    .filter(({ item }) => items.includes(item.id))
    .map(
      ({ item, place, amount, until }) =>
        `${displayAmount(amount, shownIn(item), books.house)} ${item.name} at ${place} stands open past ${dayOrHour(until, books.house)}: ullage lose "${exactText(amount)} ${item.unit}" ${item.id} --place "${place}" --why expired.`,
    );

const lotJson = ({ items }: Books, lot: Lot, now: string) => ({
  lot: lot.id,
  item: lot.item,
  madeAt: lot.madeAt,
  by: lot.by,
  discardAt: lot.discardAt,
  amount: toUnits(lot.amount),
  unit: items.get(lot.item)?.unit ?? 'ml',
  left: toUnits(lot.left),
  costMinor: lot.costMillis === null ? null : millisToMinor(lot.costMillis),
  late: isLate(lot, now),
});

const lotsText = (books: Books, all: readonly Lot[], now: string): string =>
  layTable(
    ['lot', 'item', '>left', 'made or came', 'by', 'use by', ''],
    all.flatMap((lot) => {
      const item = books.items.get(lot.item);
      if (item === undefined) return [];
      return [
        [
          lot.id,
          item.name,
          displayAmount(lot.left, shownIn(item), books.house),
          dayText(businessDate(lot.madeAt, books.house.zone, books.house.cutOffHour), now),
          personName(books, lot.by) ?? '',
          lot.discardAt === null ? 'no date' : dayOrHour(lot.discardAt, books.house),
          isLate(lot, now) ? 'past its date' : '',
        ],
      ];
    }),
  );
