// Cells as people write them, in the words of the items file: sizes, strengths, the cost of a case.
import { BadCell } from '../card/item-card.ts';
import type { Catalogue } from '../catalogue/catalogue.ts';
import { formatMoney, parseMoney } from '../value/money.ts';
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

/** A bare number is what such a number is of nearly always: litres, centilitres or millilitres; and it is said. */
export function sizeOfNumber(text: string): string {
  const value = Number(text.replace(',', '.'));
  return `${text} ${value <= 5 ? 'l' : value < 150 ? 'cl' : 'ml'}`;
}

/** What one costs where a case is paid: the case over how many are in it, to the nearest minor unit. */
export function withCaseCost(cells: Map<string, string>, { house }: Catalogue): string | null {
  const paid = cells.get('case_cost');
  if (paid === undefined) return null;
  cells.delete('case_cost');
  const minor = parseMoney(paid, house.currency);
  const many = Number(
    /^\s*(\d+)\s*[x×*]\s*\d/i.exec(cells.get('size') ?? '')?.[1] ?? cells.get('case') ?? '1',
  );
  if (minor === null)
    throw new BadCell(
      `case_cost "${clean(paid).slice(0, 30)}" is not an amount of ${house.currency}. Write it as 96.00.`,
    );
  const one = Math.round(minor / Math.max(1, many));
  cells.set('cost', formatMoney(one, house.currency));
  return one * many === minor
    ? null
    : `a case of ${many} at ${paid} is ${formatMoney(one, house.currency)} each, rounded`;
}

/** A column of percentages may be written as 0.4 by the program that kept it. */
export function sharesOfOne({ body }: Layout, columns: Columns): boolean {
  const at = columns.get('abv');
  if (at === undefined) return false;
  const values = body.flatMap(({ cells }) => {
    const text = (cells[at] ?? '').replace(',', '.');
    return /^\d*\.?\d+$/.test(text) && Number(text) > 0 ? [Number(text)] : [];
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
  if (strength !== undefined)
    cells.set(
      'abv',
      isShare && /^\d*[.,]?\d+$/.test(strength)
        ? String(Number((Number(strength.replace(',', '.')) * 100).toFixed(4)))
        : strength,
    );
  const tare = cells.get('tare_g');
  if (tare !== undefined) cells.set('tare_g', tare.replace(/\s*g$/i, ''));
  return cells;
}
