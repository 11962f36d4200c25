// The items file, in and out. One line an item; a problem names its line, its cell and what would be right.

import { HOME_PLACE, type Item, itemNames, itemSchema } from '../../domain/catalogue/item.ts';
import { amountOf, splitQuantity, unitName } from '../../domain/catalogue/units.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { exactText, LARGEST_AMOUNT } from '../../domain/value/amount.ts';
import { slugOf } from '../../domain/value/ids.ts';
import { issueText } from '../../domain/value/issue.ts';
import { formatMoney, parseMoney } from '../../domain/value/money.ts';
import { numberDoubt, parseDecimal } from '../../domain/value/number.ts';
import { done, type Problem, type Result, refuseAll } from '../../domain/value/problem.ts';
import { ratioToNumber } from '../../domain/value/ratio.ts';
import { firstUnsafe, foldText, harmless } from '../../domain/value/text.ts';
import { type CsvRow, readCsv, writeCsv } from './csv.ts';

export const itemColumns =
  'id,name,also,kind,size,tare_g,abv,sugar_g_per_l,cost,case,place,shelf,par,count,allergens,caution,density_kg_m3,acid_g_per_l,yields,prices'.split(
    ',',
  );
const required = ['id', 'name', 'kind', 'size'];

class BadCell extends Error {}

/** Reads items; all problems of the file come at once. */
export function readItems(text: string, books: Books): Result<Item[]> {
  const table = readCsv(text, itemColumns, required);
  if (!table.ok) return table;
  const problems: Problem[] = [];
  const items: { item: Item; line: number }[] = [];
  for (const row of table.value.rows) {
    try {
      items.push({ item: itemOfRow(row, books), line: row.line });
    } catch (error) {
      if (!(error instanceof BadCell)) throw error;
      problems.push({ code: 'bad-item', exit: 65, line: row.line, message: error.message });
    }
  }
  problems.push(...nameClashes(items, books));
  return problems.length > 0 ? refuseAll(problems) : done(items.map(({ item }) => item));
}

function itemOfRow(row: CsvRow, books: Books): Item {
  for (const [column, cell] of row.cells) {
    const unsafe = firstUnsafe(cell);
    if (unsafe !== null) throw new BadCell(`${column} holds the character ${unsafe}. Take it out.`);
  }
  const cell = (name: string): string => row.cells.get(name) ?? '';
  const list = (name: string): string[] =>
    cell(name)
      .split('|')
      .map((word) => word.trim())
      .filter((word) => word !== '');
  const size = sizeOf(cell('size'), books);
  const tare = optional(cell('tare_g'), 'tare_g', 100_000);
  const item = {
    id: idOf(cell('id')),
    name: cell('name'),
    also: list('also'),
    kind: cell('kind').toLowerCase(),
    ...size,
    tareMilligrams: tare === null ? null : Math.round(tare * 1000),
    abvPercent: optional(cell('abv'), 'abv', 100),
    sugarGramsPerLitre: optional(cell('sugar_g_per_l'), 'sugar_g_per_l', 1500),
    costMinor: costOf(cell('cost'), books),
    caseOf: wholeOf(cell('case'), 'case'),
    place: (cell('place') || HOME_PLACE).toLowerCase(),
    shelf: cell('shelf'),
    par: optional(cell('par'), 'par', 100_000),
    count: methodOf(cell('count'), size.unit),
    allergens: list('allergens').map((word) => word.toLowerCase()),
    caution: cell('caution'),
    ...extras(row, books),
  };
  const parsed = itemSchema.safeParse(item);
  if (parsed.success) return parsed.data;
  throw new BadCell(`${issueText(parsed.error.issues, 'item')}. Mend it and import again.`);
}

/** What most items do not have: a measured density, acid, what one piece yields. */
function extras(
  row: CsvRow,
  books: Books,
): Pick<Item, 'densityKgPerM3' | 'acidGramsPerLitre' | 'yields' | 'prices'> {
  const density = optional(row.cells.get('density_kg_m3') ?? '', 'density_kg_m3', 2000);
  const acid = optional(row.cells.get('acid_g_per_l') ?? '', 'acid_g_per_l', 200);
  const yields = (row.cells.get('yields') ?? '')
    .split('|')
    .map((part) => part.trim())
    .filter((part) => part !== '')
    .map((part) => yieldOf(part, books));
  const prices = (row.cells.get('prices') ?? '')
    .split(/[;|]/)
    .map((part) => part.trim())
    .filter((part) => part !== '')
    .map((part) => priceOf(part, books));
  return {
    ...(density === null ? {} : { densityKgPerM3: density }),
    ...(acid === null ? {} : { acidGramsPerLitre: acid }),
    ...(yields.length === 0 ? {} : { yields }),
    ...(prices.length === 0 ? {} : { prices }),
  };
}

/** "25 ml 4.50": what a straight measure is sold for. */
function priceOf(text: string, books: Books): NonNullable<Item['prices']>[number] {
  const split = splitQuantity(text, books.house);
  const amount = split === null ? null : amountOf(split.quantity, split.unit, books.house);
  const priceMinor = split === null ? null : parseMoney(split.rest, books.house.currency);
  if (amount !== null && priceMinor !== null) return { amount: amount.amount, priceMinor };
  throw new BadCell(
    numberDoubt(text) ??
      `prices "${text.slice(0, 40)}" is not a measure and its price in ${books.house.currency}. Write it as 25 ml 4.50; 50 ml 8.00.`,
  );
}

const priceText = (
  { amount, priceMinor }: NonNullable<Item['prices']>[number],
  unit: string,
  currency: string,
) => `${exactText(amount)} ${unit === 'each' ? 'each' : unit} ${formatMoney(priceMinor, currency)}`;

/** "30 ml juice" or "8 wedge": what one piece gives. */
function yieldOf(text: string, books: Books): NonNullable<Item['yields']>[number] {
  const number = /^([\d.,]+)\s+([a-z]+)$/i.exec(text);
  const parts = number === null ? null : parseDecimal(number[1] ?? '');
  if (parts !== null && parts.num > 0n && unitName(number?.[2] ?? '', books.house) !== 'ml') {
    return {
      amount: Math.round(ratioToNumber(parts) * 1000),
      unit: 'each',
      of: (unitName(number?.[2] ?? '', books.house) ?? number?.[2] ?? '').toLowerCase(),
    };
  }
  const split = splitQuantity(text, books.house);
  const amount =
    split === null || split.rest === '' ? null : amountOf(split.quantity, split.unit, books.house);
  if (amount !== null && split !== null && amount.unit === 'ml' && amount.amount > 0)
    return { amount: amount.amount, unit: 'ml', of: split.rest.toLowerCase() };
  throw new BadCell(
    numberDoubt(text) ??
      `yields "${text.slice(0, 40)}" is not what one piece gives. Write it as 30 ml juice|8 wedge.`,
  );
}

const yieldText = (entry: NonNullable<Item['yields']>[number]): string =>
  `${exactText(entry.amount)} ${entry.unit === 'ml' ? 'ml ' : ''}${entry.of}`;

function idOf(text: string): string {
  if (/^[a-z0-9][a-z0-9-]{0,59}$/.test(text)) return text;
  throw new BadCell(
    `id "${text.slice(0, 40)}" is not lower-case letters, digits and hyphens. Write it as ${slugOf(text || 'dry gin')}.`,
  );
}

function sizeOf(text: string, books: Books): Pick<Item, 'size' | 'sizeText' | 'unit'> {
  const split = splitQuantity(text, books.house);
  const size =
    split === null || split.rest !== '' || /^[\d.,\s]*$/.test(text)
      ? null
      : amountOf(split.quantity, split.unit, books.house);
  if (size === null || size.amount < 1 || size.amount > LARGEST_AMOUNT) {
    throw new BadCell(
      numberDoubt(text) ??
        `size "${text.slice(0, 40)}" is not the size of a container. Write 700 ml, 1 l, 1 each or 1 kg.`,
    );
  }
  return { size: size.amount, sizeText: text, unit: size.unit };
}

function optional(text: string, column: string, most: number): number | null {
  if (text === '') return null;
  const value = parseDecimal(text, most);
  const number = value === null ? Number.NaN : ratioToNumber(value);
  if (number >= 0 && number <= most) return number;
  throw new BadCell(
    numberDoubt(text) ??
      `${column} "${text.slice(0, 40)}" is not a number from 0 to ${most}. Write it plainly, as 40 or 0.5.`,
  );
}

function wholeOf(text: string, column: string): number | null {
  const value = optional(text, column, 10_000);
  if (value === null || (Number.isInteger(value) && value > 0)) return value;
  throw new BadCell(
    `${column} "${text.slice(0, 40)}" is not a whole number. Write how many come in one case.`,
  );
}

function costOf(text: string, books: Books): number | null {
  if (text === '') return null;
  const minor = parseMoney(text, books.house.currency);
  if (minor !== null) return minor;
  throw new BadCell(
    numberDoubt(text) ??
      `cost "${text.slice(0, 40)}" is not an amount of ${books.house.currency}. Write it as 18.90.`,
  );
}

function methodOf(text: string, unit: Item['unit']): Item['count'] {
  const word = text.toLowerCase();
  if (word === '') return unit === 'each' ? 'pieces' : unit === 'g' ? 'grams' : 'tenths';
  if (word === 'tenths' || word === 'ml' || word === 'grams' || word === 'pieces') return word;
  throw new BadCell(`count "${text.slice(0, 40)}" is not a way to count. Write tenths, ml, grams or pieces.`);
}

/** One name, one item: in the file, and against what is stocked under other ids. */
function nameClashes(items: readonly { item: Item; line: number }[], books: Books): Problem[] {
  const problems: Problem[] = [];
  const ids = new Set(items.map(({ item }) => item.id));
  const owner = new Map<string, string>();
  for (const item of books.items.values()) {
    if (!ids.has(item.id)) for (const name of itemNames(item)) owner.set(foldText(name), item.id);
  }
  const seen = new Set<string>();
  for (const { item, line } of items) {
    const twice = seen.has(item.id);
    seen.add(item.id);
    const clash = itemNames(item).find((name) => (owner.get(foldText(name)) ?? item.id) !== item.id);
    if (twice)
      problems.push({
        code: 'double-item',
        exit: 65,
        line,
        message: `The id ${item.id} stands twice in the file. Take one out.`,
      });
    if (clash !== undefined) {
      problems.push({
        code: 'double-name',
        exit: 65,
        line,
        message: `The name "${clash}" belongs to ${owner.get(foldText(clash))} too. Give one of them another.`,
      });
    }
    for (const name of itemNames(item)) owner.set(foldText(name), item.id);
  }
  return problems;
}

/** All items in the file's own format; reading it back gives equal items. */
export function writeItems(books: Books): string {
  const number = (value: number | null): string => (value === null ? '' : String(value));
  const rows = [...books.items.values()]
    .map(harmless)
    .map((item) => [
      item.id,
      item.name,
      item.also.join('|'),
      item.kind,
      item.sizeText,
      item.tareMilligrams === null ? '' : exactText(item.tareMilligrams),
      number(item.abvPercent),
      number(item.sugarGramsPerLitre),
      item.costMinor === null ? '' : formatMoney(item.costMinor, books.house.currency),
      number(item.caseOf),
      item.place,
      item.shelf,
      number(item.par),
      item.count,
      item.allergens.join('|'),
      item.caution,
      number(item.densityKgPerM3 ?? null),
      number(item.acidGramsPerLitre ?? null),
      (item.yields ?? []).map(yieldText).join('|'),
      (item.prices ?? []).map((price) => priceText(price, item.unit, books.house.currency)).join('; '),
    ]);
  return writeCsv(itemColumns, rows);
}

export const starterItems = `${itemColumns.join(',')}
dry-gin,Dry gin,gin,spirit,700 ml,480,40,,18.00,6,bar,1,2,tenths,,,,,,25 ml 4.50; 50 ml 8.00
lemon-juice,Lemon juice,lemon,juice,500 ml,,,,4.00,,fridge,1,2,ml,,,,60,,
simple-syrup,Simple syrup,syrup,syrup,500 ml,,,615,1.50,,fridge,2,1,ml,,,,,,
egg-white,Egg white,,egg,1 each,,,,0.30,30,fridge,3,24,pieces,eggs,,,,,
`;
