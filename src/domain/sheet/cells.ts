// Cells as people write them, in the words of the items file: sizes, strengths, the cost of a case.
import { BadCell, packOf } from '../card/item-card.ts';
import type { Catalogue } from '../catalogue/catalogue.ts';
import { formatMoney, parseMoney, roundHalfUp } from '../value/money.ts';
import { decimalText, parseDecimal } from '../value/number.ts';
import { multiplyRatio, ratio, ratioToNumber } from '../value/ratio.ts';
import { clean } from '../value/text.ts';
import { unitOfHeading } from './match.ts';
import type { Columns, Layout, SheetRow } from './sheet.ts';

export const sizeInName =
  /(?:^|\s)((?:\d{1,3}\s*[x×]\s*)?\d+(?:[.,]\d+)?\s*(?:ml|cl|litres?|ltr|lt|l|oz))(?=$|[\s,;)])/i;

/** Sizes as people write them: "70 CL", "1 ltr", "0,7", "ea". The unit of the heading is that of bare numbers. */
export function sizeText(cell: string, heading: string): string {
  const text = cell
    .trim()
    .replace(/\bltrs?\b|\blt\b/i, 'l')
    .replace(/\.$/, '');
  if (/^(ea|each|unit|pc|pcs|piece|bunch|no)$/i.test(text)) return '1 each';
  const unit = unitOfHeading(heading);
  return /^\d+([.,]\d+)?$/.test(text) && unit !== null ? `${text} ${unit}` : text;
}

/** A bare number is what such a number is of nearly always: litres, centilitres or millilitres; and it is said. Null: it is none. */
export function sizeOfNumber(text: string): string | null {
  const value = parseDecimal(text, LARGEST_SIZE);
  if (value === null) return null;
  const number = ratioToNumber(value);
  return `${text} ${number <= 5 ? 'l' : number < 150 ? 'cl' : 'ml'}`;
}
/** Millilitres: a bottle that is larger than this says its unit. */
const LARGEST_SIZE = 5000;

/** How many are in a case, by the size ("6x70cl") or by a column of its own; null where nothing says so. */
function manyOf(cells: ReadonlyMap<string, string>): number | null {
  const text = cells.get('case') ?? '';
  return packOf(cells.get('size') ?? '').many ?? (/^[1-9]\d{0,3}$/.test(text) ? Number(text) : null);
}

/**
 * What one costs where a case is paid: the case over how many are in it, to the nearest minor unit. A cost of one that is said beside it
 * stands. What there is to doubt in it comes back as a sentence.
 */
export function withCaseCost(
  cells: Map<string, string>,
  { house }: Catalogue,
  /** Others of the list are packs by their size, so one that is none is one. */
  hasPackSizes: boolean,
): string | null {
  const paid = cells.get('case_cost');
  if (paid === undefined) return null;
  cells.delete('case_cost');
  const minor = parseMoney(paid, house.currency);
  if (minor === null)
    throw new BadCell(
      `case_cost "${clean(paid).slice(0, 30)}" is not an amount of ${house.currency}. Write it as 96.00.`,
    );
  const cost = parseMoney(cells.get('cost') ?? '', house.currency);
  const many = manyOf(cells) ?? (hasPackSizes && !cells.has('case') ? 1 : null);
  const money = (amount: number): string => formatMoney(amount, house.currency);
  if (cost !== null) {
    // A cent either way for each is the rounding of whoever wrote it.
    const isFar = many !== null && Math.abs(cost * many - minor) > many;
    return isFar
      ? `${many} at ${money(cost)} are ${money(cost * many)}, and the case says ${money(minor)}: the cost of one is taken`
      : null;
  }
  if (many === null)
    return `nothing says how many are in the case at ${money(minor)}: it is left without a cost`;
  const one = roundHalfUp(ratio(BigInt(minor), BigInt(many)));
  cells.set('cost', money(one));
  return one * many === minor ? null : `a case of ${many} at ${money(minor)} is ${money(one)} each, rounded`;
}

/** A column of percentages may be written as 0.4 by the program that kept it. */
export function sharesOfOne({ body }: Layout, columns: Columns): boolean {
  const at = columns.get('abv');
  if (at === undefined) return false;
  const values = body.flatMap(({ cells }) => {
    const value = parseDecimal(cells[at] ?? '', 100);
    return value !== null && value.num > 0n ? [ratioToNumber(value)] : [];
  });
  return values.length > 0 && values.every((value) => value <= 1);
}

export function cellsOfRow(
  row: SheetRow,
  columns: Columns,
  { headings }: Layout,
  isShare: boolean,
): Map<string, string> {
  const cells = new Map<string, string>();
  for (const [ours, at] of columns) {
    const text = (row.cells[at] ?? '').trim();
    if (text !== '') cells.set(ours, ours === 'size' ? sizeText(text, headings[at] ?? '') : text);
  }
  const strength = cells
    .get('abv')
    ?.replace(/\s*%.*$/, '')
    .trim();
  const part = parseDecimal(strength ?? '', 1);
  if (strength !== undefined)
    cells.set(
      'abv',
      isShare && part !== null ? decimalText(ratioToNumber(multiplyRatio(part, ratio(100)))) : strength,
    );
  const tare = cells.get('tare_g');
  if (tare !== undefined) cells.set('tare_g', tare.replace(/\s*g$/i, ''));
  return cells;
}
