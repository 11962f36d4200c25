// costs: the book-keeping figures of a shift or a stretch of dates.

import type { House } from '../../domain/catalogue/house.ts';
import { placesOf } from '../../domain/ledger/books.ts';
import { type Bookkeeping, bookkeeping } from '../../domain/report/course/bookkeeping.ts';
import { amountIn } from '../../domain/report/words.ts';
import { formatMoney } from '../../domain/value/money.ts';
import { clean } from '../../domain/value/text.ts';
import { layTable } from '../../exchange/print/table-text.ts';
import { reportBetween } from '../../store/reports.ts';
import {
  type Command,
  datesOf,
  flagOf,
  refused,
  say,
  sayJson,
  usageProblem,
  withStore,
} from '../line/command.ts';

const STOREROOM = 'store';

export const costs: Command = {
  name: 'costs',
  usage: ['costs [--from DATE] [--to DATE] [--storeroom PLACE]'],
  says: 'book-keeping figures: cost of beverages by storeroom and bar, turnover, what the stock is worth',
  examples: ['costs --from 2026-11-01 --to 2026-11-30'],
  flags: [
    { name: 'from', takes: 'DATE', says: 'first business date' },
    { name: 'to', takes: 'DATE', says: 'last business date' },
    { name: 'storeroom', takes: 'PLACE', says: `the place that is the storeroom; default ${STOREROOM}` },
  ],
  run: (context) => {
    if (context.words.length > 0) return usageProblem('costs takes dates only: --from and --to.');
    return withStore(context, (store) => {
      const reported = reportBetween(store, datesOf(context));
      if (!reported.ok) return refused(reported.problems);
      const { report, books, before } = reported.value;
      const room = (flagOf(context, 'storeroom') ?? STOREROOM).trim().toLowerCase();
      if (flagOf(context, 'storeroom') !== undefined && !placesOf(books).includes(room))
        return refused([
          {
            code: 'unknown-place',
            exit: 65,
            message: `Nothing stands at "${clean(room).slice(0, 40)}". Name one of: ${placesOf(books).join(', ')}.`,
          },
        ]);
      const figures = bookkeeping(before, books, report, room);
      return context.json ? sayJson(figures) : say(costsText(figures, books.house));
    });
  },
};

function costsText(figures: Bookkeeping, house: House): string {
  const { currency } = house;
  const money = (minor: number): string => formatMoney(minor, currency);
  const percent = (value: number | null): string =>
    value === null ? 'nothing sold' : `${value.toFixed(2)} %`;
  const { cost } = figures;
  const head = layTable(
    ['', `>${currency}`],
    [
      [`storeroom (${figures.storeroom}), opening`, money(figures.storeroomOpeningMinor)],
      ['+ purchases', money(figures.purchasesMinor)],
      ['− storeroom, closing', money(figures.storeroomClosingMinor)],
      ['= issued to the bar', money(cost.issued)],
      ['bar, opening', money(figures.barOpeningMinor)],
      ['− bar, closing', money(figures.barClosingMinor)],
      ['= bar differential', money(cost.differential)],
      ['cost of beverages', money(cost.cost)],
      ['− staff drinks', money(figures.staffMinor)],
      ['− comps', money(figures.compMinor)],
      ['adjusted cost', money(cost.adjustedCost)],
      ['sales', money(figures.salesMinor)],
    ],
  );
  const stock = layTable(
    ['closing stock', '>amount', '>latest price', '>moving average'],
    [
      ...figures.stock.map((row) => [
        row.name,
        amountIn(row, row.amount, house),
        money(row.latestMinor),
        money(row.averageMinor),
      ]),
      ['all of it', '', money(figures.closingLatestMinor), money(figures.closingAverageMinor)],
    ],
  );
  return [
    `from ${figures.from} to ${figures.to}; stock as the books expect it, at its moving average; purchases as delivered`,
    '',
    head,
    '',
    `cost of beverages ${percent(cost.costPercent)} of sales, adjusted ${percent(cost.adjustedPercent)}`,
    `turnover ${figures.turnover === null ? 'unknown: nothing was in stock' : figures.turnover.toFixed(2)} in this time`,
    '',
    stock,
    ...(figures.unpriced.length === 0
      ? []
      : ['', `without a cost, worth nothing here: ${figures.unpriced.join(', ')}`]),
    ...(figures.belowZero.length === 0
      ? []
      : [
          '',
          `below zero in the books, so these figures are weak until counted: ${figures.belowZero.join(', ')}`,
        ]),
  ].join('\n');
}
