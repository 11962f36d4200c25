// The card of an item: each of its cells by the name of its column, read and written. A file has them in rows, the Book in lines.

import type { Catalogue } from '../catalogue/catalogue.ts';
import { HOME_PLACE, type Item, itemSchema } from '../catalogue/item.ts';
import { type Keeps, keepsText, parseKeeps } from '../catalogue/keeping.ts';
import { amountOf, splitQuantity, unitName } from '../catalogue/units.ts';
import { nearestNames } from '../search/nearest.ts';
import { exactText, LARGEST_AMOUNT } from '../value/amount.ts';
import { slugOf } from '../value/ids.ts';
import { issueText } from '../value/issue.ts';
import { formatMoney, parseMoney } from '../value/money.ts';
import { numberDoubt, parseDecimal } from '../value/number.ts';
import { ratioToNumber } from '../value/ratio.ts';
import { firstUnsafe, foldText } from '../value/text.ts';

export const itemColumns =
  'id,name,also,kind,size,tare_g,abv,sugar_g_per_l,cost,case,place,shelf,par,count,allergens,caution,density_kg_m3,acid_g_per_l,yields,keeps,opened,supplier,code,prices,retired'.split(
    ',',
  );
export type Cells = ReadonlyMap<string, string>;

/** What is wrong with a cell, and what would be right. */
export class BadCell extends Error {}

/** An item of its cells, by the names of the columns; refused by the first cell that can't be read. */
export function itemOfCells(cells: Cells, books: Catalogue): Item {
  for (const [column, cell] of cells) {
    const unsafe = firstUnsafe(cell);
    if (unsafe !== null) throw new BadCell(`${column} holds the character ${unsafe}. Take it out.`);
  }
  const cell = (name: string): string => cells.get(name) ?? '';
  const list = (name: string): string[] =>
    cell(name)
      .split('|')
      .map((word) => word.trim())
      .filter((word) => word !== '');
  const pack = packOf(cell('size'));
  const size = sizeOf(pack.one, books);
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
    caseOf: caseOf(pack.many, wholeOf(cell('case'), 'case')),
    place: (cell('place') || HOME_PLACE).toLowerCase(),
    shelf: cell('shelf'),
    ...parOf(cell('par')),
    count: methodOf(cell('count'), size.unit),
    allergens: list('allergens').map((word) => word.toLowerCase()),
    caution: cell('caution'),
    ...extras(cells, books),
  };
  const parsed = itemSchema.safeParse(item);
  if (parsed.success) return parsed.data;
  throw new BadCell(`${issueText(parsed.error.issues, 'item')}. Mend it and import again.`);
}

/** What most items do not have: a measured density, acid, what one piece yields. */
function extras(
  cells: Cells,
  books: Catalogue,
): Pick<
  Item,
  | 'densityKgPerM3'
  | 'acidGramsPerLitre'
  | 'yields'
  | 'keeps'
  | 'opened'
  | 'supplier'
  | 'code'
  | 'prices'
  | 'retired'
> {
  const density = optional(cells.get('density_kg_m3') ?? '', 'density_kg_m3', 2000);
  const acid = optional(cells.get('acid_g_per_l') ?? '', 'acid_g_per_l', 1000);
  const yields = (cells.get('yields') ?? '')
    .split('|')
    .map((part) => part.trim())
    .filter((part) => part !== '')
    .map((part) => yieldOf(part, books));
  const prices = (cells.get('prices') ?? '')
    .split(/[;|]/)
    .map((part) => part.trim())
    .filter((part) => part !== '')
    .map((part) => priceOf(part, books));
  return {
    ...(density === null ? {} : { densityKgPerM3: density }),
    ...(acid === null ? {} : { acidGramsPerLitre: acid }),
    ...(yields.length === 0 ? {} : { yields }),
    ...keptOf('keeps', cells),
    ...keptOf('opened', cells),
    ...supplierOf(cells.get('supplier') ?? '', books),
    ...((cells.get('code') ?? '') === '' ? {} : { code: cells.get('code') }),
    ...(prices.length === 0 ? {} : { prices }),
    ...(/^(yes|true)$/i.test(cells.get('retired') ?? '') ? { retired: true as const } : {}),
  };
}

/** "30 days", "12 hours". */
function keptOf<N extends 'keeps' | 'opened'>(name: N, cells: Cells): { readonly [K in N]?: Keeps } {
  const text = cells.get(name) ?? '';
  if (text === '') return {};
  const keeps = parseKeeps(text);
  if (keeps === null)
    throw new BadCell(`${name} "${text.slice(0, 40)}" is no time. Write it as 30 days or 12 hours.`);
  return { [name]: keeps } as { readonly [K in N]?: Keeps };
}

/** Who brings it, by id or name; it must be somebody known. */
function supplierOf(text: string, { suppliers }: Catalogue): Pick<Item, 'supplier'> {
  if (text === '') return {};
  const found = [...suppliers.values()].find(
    ({ id, name }) => id === text || foldText(name) === foldText(text),
  );
  if (found !== undefined) return { supplier: found.id };
  const near = nearestNames(
    text,
    [...suppliers.values()].map(({ name }) => name),
  );
  throw new BadCell(
    `supplier "${text.slice(0, 40)}" is nobody known. ${near.length > 0 ? `Near it: ${near.join(', ')}.` : 'Write the supplier first, in the Book or from a suppliers file.'}`,
  );
}

/** "25 ml 4.50": what a straight measure is sold for. */
function priceOf(text: string, books: Catalogue): NonNullable<Item['prices']>[number] {
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
function yieldOf(text: string, books: Catalogue): NonNullable<Item['yields']>[number] {
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

/** "12x330ml", "12 × 33 cl": a case of so many of that size, as price lists write it. */
export function packOf(text: string): { many: number | null; one: string } {
  const [, many, one] = /^\s*(\d{1,3})\s*[x×*]\s*(\d.*)$/i.exec(text) ?? [];
  return many === undefined || one === undefined ? { many: null, one: text } : { many: Number(many), one };
}

/** How many are in a case, by its own column or by the size; refused where the two differ. */
function caseOf(bySize: number | null, byColumn: number | null): number | null {
  if (bySize !== null && byColumn !== null && bySize !== byColumn)
    throw new BadCell(`case says ${byColumn} and size says ${bySize}. Write the size of one, as 330 ml.`);
  return byColumn ?? bySize;
}

function sizeOf(text: string, books: Catalogue): Pick<Item, 'size' | 'sizeText' | 'unit'> {
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

/** "6": brought back to six at least; "6 fixed": to six, whatever is used. */
function parOf(text: string): Pick<Item, 'par' | 'parIs'> {
  const [, value = text, fixed] = /^(.*?)\s+(fixed)$/i.exec(text) ?? [];
  const par = optional(value, 'par', 100_000);
  return { par, ...(fixed === undefined || par === null ? {} : { parIs: 'fixed' as const }) };
}

function wholeOf(text: string, column: string): number | null {
  const value = optional(text, column, 10_000);
  if (value === null || (Number.isInteger(value) && value > 0)) return value;
  throw new BadCell(
    `${column} "${text.slice(0, 40)}" is not a whole number. Write how many come in one case.`,
  );
}

function costOf(text: string, books: Catalogue): number | null {
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

const number = (value: number | null): string => (value === null ? '' : String(value));

/** An item as the cells of its columns, in their order. */
export const cellsOf = (item: Item, books: Catalogue): string[] => [
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
  item.par === null ? '' : `${number(item.par)}${item.parIs === undefined ? '' : ' fixed'}`,
  item.count,
  item.allergens.join('|'),
  item.caution,
  number(item.densityKgPerM3 ?? null),
  number(item.acidGramsPerLitre ?? null),
  (item.yields ?? []).map(yieldText).join('|'),
  item.keeps === undefined ? '' : keepsText(item.keeps),
  item.opened === undefined ? '' : keepsText(item.opened),
  item.supplier ?? '',
  item.code ?? '',
  (item.prices ?? []).map((price) => priceText(price, item.unit, books.house.currency)).join('; '),
  item.retired === true ? 'yes' : '',
];
