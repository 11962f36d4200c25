// order, expect: what to order of whom, with its arithmetic; days ahead that will not be as usual.
import { intendExpected } from '../../domain/intent/intend-house.ts';
import { intendEach } from '../../domain/intent/intent.ts';
import { intendOrder } from '../../domain/intent/order/intend-order.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { describeEvent } from '../../domain/ledger/describe.ts';
import { dayNamed } from '../../domain/order/calendar.ts';
import { ENOUGH_NIGHTS, nightUses } from '../../domain/order/demand.ts';
import { type OrderLine, ordersFor, type SupplierOrder } from '../../domain/order/order.ts';
import { knowsTooLittle, orderSetting, pastOf } from '../../domain/order/past.ts';
import { headText, sentLines } from '../../domain/order/words.ts';
import { businessDate } from '../../domain/value/clock-date.ts';
import { done } from '../../domain/value/problem.ts';
import { clean, foldText } from '../../domain/value/text.ts';
import { writeCsv } from '../../exchange/file/csv.ts';
import { SEASON } from '../../store/reports.ts';
import type { Store } from '../../store/store.ts';
import {
  booksNow,
  type Command,
  type Context,
  flagOf,
  hasFlag,
  momentOf,
  type Outcome,
  refused,
  say,
  sayJson,
  usageProblem,
  withStore,
} from '../line/command.ts';
import { recordWith } from '../line/record.ts';

/** Amounts of the JSON to the thousandth of a container. */
const rounded = (value: number): number => Number(value.toFixed(3));

const lineJson = ({ item, why, costMinor, cases, containers, forMinimum, days, z, ...line }: OrderLine) => ({
  item: item.id,
  name: item.name,
  ...(item.code === undefined ? {} : { code: item.code }),
  onHand: rounded(line.onHand),
  onOrder: rounded(line.onOrder),
  meanPerDay: rounded(line.meanPerDay),
  deviationPerDay: rounded(line.deviationPerDay),
  days,
  z,
  target: rounded(line.target),
  need: rounded(line.need),
  cases,
  containers,
  forMinimum,
  costMinor,
  why,
});

const orderJson = ({ supplier, lines, ...order }: SupplierOrder) => ({
  supplier: supplier?.id ?? null,
  ...order,
  lines: lines.map(lineJson),
});

const ordersOf = (context: Context, store: Store): SupplierOrder[] => {
  const books = booksNow(context, store);
  const past = pastOf(books, store.shiftBooks(SEASON));
  return ordersFor(books, orderSetting(books, past, momentOf(context)));
};

/** What is read of a list: the money and the days first, then each line with its arithmetic. */
const listText = (order: SupplierOrder, books: Books): string =>
  [
    headText(order, books),
    ...order.lines.map(
      ({ item, containers, why }) =>
        `  ${String(containers).padStart(3)}  ${item.name}, ${item.sizeText}\n       ${why}`,
    ),
  ].join('\n');

const sentText = (order: SupplierOrder, books: Books): string => sentLines(order, books).join('\n');

const csvOf = (orders: readonly SupplierOrder[]): string =>
  writeCsv(
    ['supplier', 'code', 'item', 'name', 'size', 'cases', 'containers'],
    orders.flatMap((order) =>
      order.lines.map(({ item, cases, containers }) => [
        order.supplier?.id ?? '',
        item.code ?? '',
        item.id,
        item.name,
        item.sizeText,
        String(cases),
        String(containers),
      ]),
    ),
  );

/** Why there is nothing to order. */
function nothingShort(store: Store): string {
  const nights = nightUses(store.shiftBooks(SEASON)).length;
  if (!knowsTooLittle(store.books(), nights))
    return 'Nothing is short of what it should be. Nothing to order.';
  return `Nothing can be said yet: ${nights} ${nights === 1 ? 'night is' : 'nights are'} sealed, ${ENOUGH_NIGHTS} are needed, and no item has a par. Set one with ullage item NAME --write "par: 3".`;
}

/** Records the lists as sent, each an order of its own; all or none. */
function place(context: Context, store: Store, orders: readonly SupplierOrder[]): Outcome {
  const placed = store.record(
    (books) =>
      intendEach(books, orders, (so, { supplier, deliveryAt, lines }) =>
        intendOrder(
          so,
          {
            supplier: supplier?.id ?? null,
            deliveryAt,
            lines: lines.map(({ item, containers }) => ({
              item: item.id,
              containers,
              costMinor: item.costMinor,
            })),
          },
          { by: null },
        ),
      ),
    context.at,
  );
  if (!placed.ok) return refused(placed.problems);
  if (context.json) return sayJson(placed.value);
  if (placed.value.length === 0) return say(nothingShort(store));
  const books = store.books();
  return say(
    placed.value
      .map((event) => `${describeEvent(event, books)}. When it comes: ullage receive --order ${event.id}`)
      .join('\n'),
  );
}

function openOrders(context: Context, books: Books): Outcome {
  const open = [...books.orders.values()];
  if (context.json)
    return sayJson(
      open.map(({ id, at, supplier, deliveryAt, lines }) => ({ order: id, at, supplier, deliveryAt, lines })),
    );
  if (open.length === 0) return say('No order is open.');
  return say(
    open
      .map((event) =>
        [
          `${event.id}  ${describeEvent(event, books)}`,
          ...event.lines.map(
            ({ item, containers }) =>
              `  ${String(containers).padStart(4)}  ${books.items.get(item)?.name ?? item}`,
          ),
        ].join('\n'),
      )
      .join('\n'),
  );
}

export const order: Command = {
  name: 'order',
  usage: ['order [--supplier NAME] [--text] [--csv FILE] [--place] [--open]'],
  says: 'what to order of whom: demand until the delivery after the next, a spare, less what is there, in whole cases; every line says its arithmetic',
  examples: ['order', 'order --supplier "Quay Drinks" --text'],
  flags: [
    { name: 'supplier', takes: 'NAME', says: 'one supplier alone' },
    { name: 'place', says: 'records that it is sent as it stands: it is on order from now on' },
    { name: 'open', says: 'orders that are placed and did not come yet, with their ids' },
    { name: 'text', says: 'as it is sent: no figures of the house in it' },
    { name: 'csv', takes: 'FILE', says: "writes a table with the suppliers' own codes" },
  ],
  run: (context) =>
    withStore(context, (store) => {
      const books = store.books();
      if (hasFlag(context, 'open')) return openOrders(context, books);
      const wanted = flagOf(context, 'supplier');
      const known = [...books.suppliers.values()].find(
        ({ id, name }) => wanted !== undefined && (id === wanted || foldText(name) === foldText(wanted)),
      );
      if (wanted !== undefined && known === undefined)
        return refused([
          {
            code: 'unknown-supplier',
            exit: 65,
            message: `No supplier is called "${clean(wanted).slice(0, 40)}". They are ${[...books.suppliers.values()].map(({ name }) => name).join(', ') || 'none yet: write them in the Book, or import a suppliers file'}.`,
          },
        ]);
      const orders = ordersOf(context, store).filter(
        ({ supplier }) => known === undefined || supplier?.id === known.id,
      );
      const file = flagOf(context, 'csv');
      const written = file === undefined ? done(null) : context.world.writeFile(file, csvOf(orders));
      // A file that can't be written leaves nothing half done: what would have been sent is not on order.
      if (!written.ok) return refused(written.problems);
      if (hasFlag(context, 'place')) return place(context, store, orders);
      if (file !== undefined) return say(`Wrote ${clean(file)}.`);
      if (context.json) return sayJson(orders.map(orderJson));
      if (orders.length === 0) return say(nothingShort(store));
      const text = hasFlag(context, 'text') ? sentText : listText;
      return say(orders.map((one) => text(one, books)).join('\n\n'));
    }),
};

export const expect: Command = {
  name: 'expect',
  usage: ['expect DATE FACTOR [TEXT]'],
  says: 'a known day ahead: its night takes FACTOR of the usual (0 closed, 1 as usual again); orders follow',
  examples: ['expect 2026-12-31 1.8 "New Year"'],
  run: (context) => {
    const [date, factor, ...text] = context.words;
    if (date === undefined || factor === undefined)
      return usageProblem(
        'Say the date and how many times the usual, as ullage expect 2026-12-31 1.8 "New Year".',
      );
    return recordWith(context, (books, _, now) => {
      const today = businessDate(now, books.house.zone, books.house.cutOffHour);
      const wish = { date: dayNamed(date, today) ?? date, factor, text: text.join(' ') };
      return intendExpected(books, wish, now);
    });
  },
};
