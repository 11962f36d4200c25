// Which column of a spreadsheet is which of ours: by its heading and by what stands below it. What is not certain is asked.
import { packOf } from '../card/item-card.ts';
import type { Catalogue } from '../catalogue/catalogue.ts';
import { amountOf, splitQuantity } from '../catalogue/units.ts';
import { parseMoney } from '../value/money.ts';
import { parseDecimal } from '../value/number.ts';
import { foldText } from '../value/text.ts';
import { costOfOne, doubtful, words } from './heading-words.ts';
import type { Columns, Layout, Sheet, SheetRow } from './sheet.ts';

export const sheetColumns: readonly string[] = Object.keys(words);

/** Without a unit or a currency in brackets, and without signs at the ends. */
const plainHeading = (heading: string): string =>
  foldText(heading.replace(/\([^)]*\)/g, ' ').replace(/[.:*#_]/g, ' '))
    .replace(/\s+/g, ' ')
    .trim();

const byWord: ReadonlyMap<string, string> = new Map(
  Object.entries(words).flatMap(([ours, list]) => list.map((word) => [plainHeading(word), ours] as const)),
);

const oursOf = (heading: string): string | undefined =>
  byWord.get(plainHeading(heading)) ?? byWord.get(foldText(heading).trim());

const MOST_ABOVE = 30;

/** Titles and dates may stand above the headings: the row that says the most of ours is theirs. */
export function layoutOf({ rows }: Sheet): Layout | null {
  const filled = rows.filter(({ cells }) => cells.some((cell) => cell !== ''));
  const scores = filled.slice(0, MOST_ABOVE).map(({ cells }) => {
    const known = new Set(cells.flatMap((cell) => oursOf(cell) ?? doubtful.get(plainHeading(cell)) ?? []));
    return known.size + (known.has('name') ? 1 : 0);
  });
  const best = Math.max(...scores, 0);
  const at =
    best >= 2
      ? scores.indexOf(best)
      : filled.findIndex(({ cells }) => cells.filter((cell) => cell !== '').length >= 2);
  const head = filled[at];
  if (head === undefined) return null;
  return { headings: head.cells, line: head.line, body: filled.slice(at + 1) };
}

/** Whether a cell can be read as what a column of ours holds; words say nothing either way. */
const fits: Readonly<Record<string, (cell: string, catalogue: Catalogue) => boolean>> = {
  size: (cell, { house }) => {
    const split = splitQuantity(cell.replace(/^\s*\d+\s*[x×*]\s*/i, ''), house);
    return split !== null && split.rest === '' && amountOf(split.quantity, split.unit, house) !== null;
  },
  cost: (cell, { house }) => parseMoney(cell, house.currency) !== null,
  case_cost: (cell, { house }) => parseMoney(cell, house.currency) !== null,
  abv: (cell) => parseDecimal(cell.replace(/\s*%.*$/, ''), 100) !== null,
  id: (cell) => /^[a-z0-9][a-z0-9-]{0,59}$/.test(cell),
  case: (cell) => /^\d{1,4}$/.test(cell),
  par: (cell) => parseDecimal(cell) !== null,
  tare_g: (cell) => parseDecimal(cell.replace(/\s*g$/i, '')) !== null,
  sugar_g_per_l: (cell) => parseDecimal(cell) !== null,
};

const MOST_LOOKED = 200;
const shareFitting = (ours: string, at: number, body: readonly SheetRow[], catalogue: Catalogue): number => {
  const test = fits[ours];
  const cells = body.slice(0, MOST_LOOKED).flatMap(({ cells: all }) => (all[at] ?? '') || []);
  if (test === undefined || cells.length === 0) return 1;
  return cells.filter((cell) => test(cell, catalogue)).length / cells.length;
};

/** Of a hundred cells some are notes, and some wrong: so many must be what a heading says, and what is told by the cells alone. */
const ENOUGH = { said: 0.5, guessed: 0.8 };

export type Matched = {
  readonly columns: Columns;
  /** What is guessed and not certain: column of ours, and their heading. */
  readonly asked: readonly { readonly ours: string; readonly theirs: string; readonly at: number }[];
  /** What of ours is needed and was not found. */
  readonly missing: readonly string[];
};

/** `given` wins over what was kept for these headings, and that over any guess; an index below zero leaves a column out. */
export function matchColumns(
  layout: Layout,
  catalogue: Catalogue,
  kept: Columns | null,
  given: Columns | null = null,
): Matched {
  const found = kept === null ? guessed(layout, catalogue) : { columns: kept, asked: [] };
  const own = given ?? new Map<string, number>();
  const taken = new Set(own.values());
  const columns = new Map(
    [...found.columns].filter(([ours, at]) => at >= 0 && !own.has(ours) && !taken.has(at)),
  );
  for (const [ours, at] of own) if (at >= 0) columns.set(ours, at);
  const asked = found.asked.filter(({ ours, at }) => !own.has(ours) && !taken.has(at));
  const all = new Set([...columns.keys(), ...asked.map(({ ours }) => ours)]);
  return { columns, asked, missing: all.has('name') ? [] : ['name'] };
}

function guessed(layout: Layout, catalogue: Catalogue): Pick<Matched, 'columns' | 'asked'> {
  const { headings, body } = layout;
  const columns = new Map<string, number>();
  const asked: { ours: string; theirs: string; at: number }[] = [];
  headings.forEach((theirs, at) => {
    const certain = oursOf(theirs);
    const ours = certain ?? doubtful.get(plainHeading(theirs));
    if (ours === undefined) return;
    const isFit = shareFitting(ours, at, body, catalogue) >= ENOUGH.said || hasUnit(theirs);
    if (certain !== undefined && isFit && !columns.has(ours)) columns.set(ours, at);
    else if (!columns.has(ours) && !asked.some((one) => one.ours === ours)) asked.push({ ours, theirs, at });
  });
  // Where some come by the case, what a cost is the cost of is its owner's to say.
  const costAt = columns.get('cost');
  const theirs = costAt === undefined ? '' : (headings[costAt] ?? '');
  // In a list that has ids of ours a cost is of one, and so it is beside the price of a case.
  if (
    costAt !== undefined &&
    !columns.has('id') &&
    !columns.has('case_cost') &&
    hasPacks(layout, columns) &&
    !costOfOne.has(plainHeading(theirs))
  ) {
    columns.delete('cost');
    asked.push({ ours: 'cost', theirs, at: costAt });
  }
  const open = asked.filter(({ ours }) => !columns.has(ours));
  // Sizes look like nothing else, so they are found below any heading; and asked about.
  if (!columns.has('size') && !open.some(({ ours }) => ours === 'size')) {
    const at = headings.findIndex(
      (_, index) =>
        ![...columns.values()].includes(index) &&
        body.some(({ cells }) => /\d\s*(ml|cl|l|oz)\b/i.test(cells[index] ?? '')) &&
        shareFitting('size', index, body, catalogue) >= ENOUGH.guessed,
    );
    if (at !== -1) open.push({ ours: 'size', theirs: headings[at] ?? '', at });
  }
  return { columns, asked: open };
}

/** The first line that is of a case: "6x70cl", or with a number of its own. Null where everything is of one. */
export function packLine({ body }: Layout, columns: Columns): number | null {
  const [size, many] = [columns.get('size') ?? -1, columns.get('case') ?? -1];
  const found = body.find(
    ({ cells }) => packOf(cells[size] ?? '').many !== null || /^0*([2-9]|[1-9]\d+)$/.test(cells[many] ?? ''),
  );
  return found?.line ?? null;
}
const hasPacks = (layout: Layout, columns: Columns): boolean => packLine(layout, columns) !== null;

/** Headings that are nothing of ours, and what stands below them stays where it is. */
export const leftOut = ({ headings }: Layout, columns: Columns): string[] => {
  const taken = new Set(columns.values());
  return headings.filter((heading, at) => heading !== '' && !taken.has(at));
};

/** How many of its headings are known; of several sheets of a file the one that has the most is meant. */
export const knownHeadings = (sheet: Sheet): number =>
  layoutOf(sheet)?.headings.filter(
    (heading) => (oursOf(heading) ?? doubtful.get(plainHeading(heading))) !== undefined,
  ).length ?? 0;

/** "Size (cl)": the unit of the numbers below stands in the heading. */
export const unitOfHeading = (heading: string): string | null =>
  /\b(ml|cl|l|litres?|oz)\b/i.exec(heading.toLowerCase().replace(/[()]/g, ' '))?.[1] ?? null;
const hasUnit = (heading: string): boolean => unitOfHeading(heading) !== null;

/** "name=Product,size=Pack" for these headings; an empty name leaves a column out. A sentence where it can't be read. */
export function givenColumns(text: string, layout: Layout): Columns | string {
  const columns = new Map<string, number>();
  // A comma parts two pairs only where another "ours=" follows.
  for (const pair of text.split(/,(?=\s*[a-z_]+\s*=)/i)) {
    const [, ours = '', theirs = ''] = /^\s*([a-z_]+)\s*=\s*(.*)$/i.exec(pair) ?? [];
    if (!sheetColumns.includes(ours.toLowerCase()))
      return `"${(ours || pair).slice(0, 30)}" is no column of ours. They are ${sheetColumns.join(', ')}.`;
    const at = layout.headings.findIndex((heading) => foldText(heading.trim()) === foldText(theirs.trim()));
    if (theirs.trim() !== '' && at === -1)
      return `No column is headed "${theirs.trim().slice(0, 40)}". They are ${layout.headings
        .filter((one) => one !== '')
        .join(', ')
        .slice(0, 300)}.`;
    columns.set(ours.toLowerCase(), theirs.trim() === '' ? -1 : at);
  }
  return columns;
}
