// items, item, specs, spec, levels: what there is; --write changes a line of it from a script.

import { displayAmount, shownIn } from '../../domain/catalogue/display.ts';
import type { Item } from '../../domain/catalogue/item.ts';
import { keepsText } from '../../domain/catalogue/keeping.ts';
import { type DrinkFigures, drinkFigures } from '../../domain/drink/drink.ts';
import { drinksLeft, specLines } from '../../domain/drink/measures.ts';
import { type Batch, scaleDrink } from '../../domain/drink/scale.ts';
import { filterDoubt, passes, splitFilters } from '../../domain/drink/spec-filter.ts';
import { type Books, expectedByItem, usableByItem } from '../../domain/ledger/books.ts';
import { findItem, findSpec } from '../../domain/search/find.ts';
import { itemIndex, specIndex } from '../../domain/search/house-search.ts';
import { searchIndex } from '../../domain/search/search.ts';
import { levelJson, levelsOf } from '../../domain/service/levels.ts';
import { potentialSales } from '../../domain/standard/cost.ts';
import { exactText } from '../../domain/value/amount.ts';
import { formatMoney } from '../../domain/value/money.ts';
import { parseDecimal } from '../../domain/value/number.ts';
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import { ratioToNumber } from '../../domain/value/ratio.ts';
import { clean, foldText } from '../../domain/value/text.ts';
import { batchJson, batchText } from '../../exchange/print/batch-text.ts';
import { cardText, specJson } from '../../exchange/print/card-text.ts';
import { layTable } from '../../exchange/print/table-text.ts';
import {
  booksNow,
  type Command,
  type Context,
  flagOf,
  hasFlag,
  refused,
  say,
  sayJson,
  usageProblem,
  withStore,
} from '../line/command.ts';
import { writeFlag, writeItem, writeSpec } from '../line/write.ts';

const itemJson = (item: Item) => ({
  item: item.id,
  name: item.name,
  kind: item.kind,
  unit: item.unit,
  size: item.sizeText,
  place: item.place,
  ...(item.retired === true ? { retired: true } : {}),
});

const all = { name: 'all', says: 'what is retired, too' };

/** What is no longer in use and is called so. */
function retiredOf<T extends { readonly name: string; readonly retired?: true | undefined }>(
  things: Iterable<T>,
  words: string,
): T[] {
  const wanted = foldText(words);
  return [...things].filter(({ name, retired }) => retired === true && foldText(name).includes(wanted));
}

export const items: Command = {
  name: 'items',
  usage: ['items [WORDS…] [--all]'],
  says: 'what is stocked',
  flags: [all],
  run: (context) =>
    withStore(context, (store) => {
      const books = booksNow(context, store);
      const words = context.words.join(' ');
      const found = [
        ...searchIndex(itemIndex(books), words, () => 0),
        ...(hasFlag(context, 'all') ? retiredOf(books.items.values(), words) : []),
      ];
      if (context.json) return sayJson(found.map(itemJson));
      if (found.length === 0) return say('No item matches. Run ullage items to see them all.');
      const expected = expectedByItem(books);
      return say(
        layTable(
          ['item', 'name', 'kind', 'size', 'place', '>expected'],
          found.map((item) => [
            item.id,
            item.retired === true ? `${item.name}, retired` : item.name,
            item.kind,
            item.sizeText,
            item.place,
            displayAmount(expected.get(item.id) ?? 0, shownIn(item), books.house),
          ]),
        ),
      );
    }),
};

export const item: Command = {
  name: 'item',
  usage: ['item NAME [--write LINE]…'],
  says: 'one item with all that is known of it; --write changes a line of it, or writes a new one',
  examples: ['item "dry gin"', 'item "dry gin" --write "cost: 19.50"'],
  flags: [writeFlag('a line as the items file has it: "cost: 19.50"')],
  run: (context) => {
    if (context.words.length === 0) return usageProblem('Name an item, as ullage item "dry gin".');
    const written = writeItem(context);
    if (written !== null) return written;
    return withStore(context, (store) => {
      const books = booksNow(context, store);
      const found = findItem(books, context.words.join(' '));
      if (!found.ok) return refused(found.problems);
      const levels = levelsOf(books).filter((level) => level.item.id === found.value.id);
      if (context.json)
        return sayJson({ ...itemJson(found.value), ...found.value, levels: levels.map(levelJson) });
      return say(describeItem(found.value, books));
    });
  },
};

/** What one container brings when it goes out straight, by every spec that is nothing but this item. */
function straightSales(item: Item, books: Books): string {
  return [...books.specs.values()]
    .flatMap((spec) => {
      const lines = specLines(spec, books);
      const [only, ...more] = lines.ok ? lines.value : [];
      if (only?.item.id !== item.id || more.length > 0 || spec.priceMinor === null) return [];
      const { drinks, salesMinor } = potentialSales(item.size, only.amount, spec.priceMinor);
      return [`${formatMoney(salesMinor, books.house.currency)} as ${drinks.toFixed(1)} ${spec.name}`];
    })
    .join(', ');
}

const perUnit = ({ unit }: Item): string => (unit === 'g' ? 'kg' : 'l');

function describeItem(item: Item, books: Books): string {
  const rows: [string, string][] = [
    ['id', item.id],
    ['other names', item.also.join(', ')],
    ['kind', item.kind],
    ['container', item.sizeText],
    ['tare', item.tareMilligrams === null ? '' : `${exactText(item.tareMilligrams)} g`],
    ['strength', item.abvPercent === null ? '' : `${item.abvPercent} %`],
    ['sugar', item.sugarGramsPerLitre === null ? '' : `${item.sugarGramsPerLitre} g/${perUnit(item)}`],
    ['acid', item.acidGramsPerLitre === undefined ? '' : `${item.acidGramsPerLitre} g/${perUnit(item)}`],
    ['keeps', item.keeps === undefined ? '' : keepsText(item.keeps)],
    ['once open', item.opened === undefined ? '' : keepsText(item.opened)],
    [
      'cost',
      item.costMinor === null
        ? ''
        : `${formatMoney(item.costMinor, books.house.currency)} ${books.house.currency}`,
    ],
    ['case', item.caseOf === null ? '' : String(item.caseOf)],
    ['place, shelf', [item.place, item.shelf].filter((word) => word !== '').join(', ')],
    [
      'supplier',
      item.supplier === undefined ? '' : (books.suppliers.get(item.supplier)?.name ?? item.supplier),
    ],
    ['their code', item.code ?? ''],
    ['par', item.par === null ? '' : String(item.par)],
    ['counted in', item.count],
    ['one sells for', straightSales(item, books)],
    ['allergens', item.allergens.join(', ')],
    ['caution', item.caution],
  ];
  const levels = levelsOf(books)
    .filter((level) => level.item.id === item.id)
    .map(
      (level) =>
        `  ${level.place}: ${displayAmount(level.expected, shownIn(item), books.house)}, ${level.sealed} sealed`,
    );
  const lines = rows.filter(([, value]) => value !== '').map(([name, value]) => `${name.padEnd(14)}${value}`);
  return clean2([item.name, ...lines, 'expected now', ...levels]);
}

const clean2 = (lines: readonly string[]): string => lines.map((line) => clean(line)).join('\n');

export const specs: Command = {
  name: 'specs',
  usage: ['specs [WORDS…] [--all]'],
  flags: [all],
  says: 'what is poured; a few letters are enough, and: with rye, no egg, under 15%, in stock',
  examples: ['specs gin lem', 'specs sour no egg in stock'],
  run: (context) =>
    withStore(context, (store) => {
      const books = booksNow(context, store);
      const expected = usableByItem(books);
      const { rest, filters } = splitFilters(context.words.join(' '));
      const found = searchIndex(specIndex(books), rest, (spec) => books.habit.get(spec.id) ?? 0).filter(
        (spec) => passes(spec, filters, books, expected),
      );
      const retired = hasFlag(context, 'all') ? retiredOf(books.specs.values(), rest) : [];
      const rows = [...found, ...retired].map((spec) => ({
        spec,
        left: drinksLeft(spec, books, expected) ?? 0,
      }));
      const doubt = filterDoubt(filters, books);
      const err = doubt === null ? '' : `${clean(doubt)}\n`;
      if (context.json)
        return {
          ...sayJson(
            rows.map(({ spec, left }) => ({
              spec: spec.id,
              name: spec.name,
              family: spec.family,
              left,
              ...(spec.retired === true ? { retired: true } : {}),
            })),
          ),
          err,
        };
      if (rows.length === 0) return { ...say('No spec matches. Run ullage specs to see them all.'), err };
      const { currency } = books.house;
      const table = say(
        layTable(
          ['spec', 'family', 'glass', '>price', '>left'],
          rows.map(({ spec, left }) => [
            spec.retired === true ? `${spec.name}, retired` : spec.name,
            spec.family,
            spec.glass,
            spec.priceMinor === null ? '' : formatMoney(spec.priceMinor, currency),
            String(left),
          ]),
        ),
      );
      return { ...table, err };
    }),
};

export const spec: Command = {
  name: 'spec',
  usage: ['spec NAME [--times N | --fill ML] [--water] [--in ml|oz|cl] [--write LINE]…'],
  says: 'one card with its figures; --write changes a line of it, or writes a new one',
  examples: [
    'spec "lantern sour" --times 6 --in oz',
    'spec "lantern sour" --write "price: 14.50" --write "22 ml lemon juice"',
  ],
  flags: [
    writeFlag('a line as the card has it: "price: 14.50", "22 ml lemon juice", "-egg white"'),
    { name: 'times', takes: 'N', says: 'measures for N drinks' },
    { name: 'fill', takes: 'ML', says: 'measures for a batch of so many ml' },
    { name: 'water', says: 'adds the water the ice would bring, for a batch served without ice work' },
    { name: 'in', takes: 'UNIT', says: 'ml, oz or cl' },
  ],
  run: (context) => {
    if (context.words.length === 0) return usageProblem('Name a spec, as ullage spec "lantern sour".');
    const written = writeSpec(context);
    if (written !== null) return written;
    const times = flagOf(context, 'times') ?? '1';
    if (!/^\d{1,4}$/.test(times) || Number(times) < 1)
      return usageProblem('--times takes a whole number from 1 to 9999. Give one.');
    const unit = flagOf(context, 'in');
    if (unit !== undefined && unit !== 'ml' && unit !== 'oz' && unit !== 'cl')
      return usageProblem('--in takes ml, oz or cl. Give one of these.');
    return withStore(context, (store) => {
      const books = booksNow(context, store);
      const found = findSpec(books, context.words.join(' '));
      if (!found.ok) return refused(found.problems);
      const figures = drinkFigures(found.value, books);
      if (!figures.ok) return refused(figures.problems);
      const left = drinksLeft(found.value, books, usableByItem(books)) ?? 0;
      const batch = batchOf(context, figures.value, Number(times));
      if (!batch.ok) return refused(batch.problems);
      if (context.json) {
        const card = specJson(found.value, figures.value, left, Number(times));
        return sayJson(batch.value === null ? card : { ...card, batch: batchJson(batch.value) });
      }
      if (batch.value !== null) return say(batchText(found.value, batch.value, books));
      return say(
        cardText(found.value, figures.value, books, {
          times: Number(times),
          unit: unit ?? books.house.units,
          left,
        }),
      );
    });
  },
};

/** A batch when one is asked for: more than one drink, a volume, or water. */
function batchOf(context: Context, figures: DrinkFigures, times: number): Result<Batch | null> {
  const fill = flagOf(context, 'fill');
  const water = hasFlag(context, 'water');
  if (fill === undefined && !water && times === 1) return done(null);
  const target = fill === undefined ? null : parseDecimal(fill.replace(/\s*ml$/i, ''));
  if (fill !== undefined && target === null)
    return refuse(
      'bad-batch',
      `--fill "${clean(fill).slice(0, 20)}" is not a volume in ml. Write it as 700.`,
    );
  return scaleDrink(
    figures,
    target === null ? { kind: 'times', times } : { kind: 'volume', targetMl: ratioToNumber(target) },
    water,
  );
}
