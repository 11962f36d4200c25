// The rows of a spreadsheet as items: what is said in each, what had to be guessed, and what can't be read.
import { BadCell, cellsOf, itemColumns, itemOfCells, packOf } from '../card/item-card.ts';
import { itemClashes } from '../card/item-clashes.ts';
import { newSupplier } from '../card/supplier-card.ts';
import type { Catalogue } from '../catalogue/catalogue.ts';
import { type Item, itemNames } from '../catalogue/item.ts';
import type { Supplier } from '../catalogue/supplier.ts';
import { stockList } from '../starter/stock-list.ts';
import { type ItemId, slugOf } from '../value/ids.ts';
import type { Problem } from '../value/problem.ts';
import { clean, firstUnsafe, foldText } from '../value/text.ts';
import { cellsOfRow, sharesOfOne, sizeInName, sizeOfNumber, sizeText, withCaseCost } from './cells.ts';
import { leftOut } from './match.ts';
import type { Columns, Layout, SheetRow } from './sheet.ts';

export type Doubt = { readonly line: number; readonly text: string };
export type SheetItems = {
  readonly items: readonly { readonly item: Item; readonly line: number }[];
  /** Who brings them and was nobody known. */
  readonly suppliers: readonly Supplier[];
  readonly doubts: readonly Doubt[];
  readonly problems: readonly Problem[];
};

/** Words for kinds, as people write them, and the kind they are. */
const kindWords: ReadonlyMap<string, string> = new Map(
  Object.entries({
    spirit:
      'spirits spirituosen gin vodka rum whisky whiskey tequila mezcal brandy cognac bourbon rye scotch',
    liqueur: 'liqueurs likor likore',
    fortified: 'vermouth sherry port madeira aperitif-wine',
    wine: 'wines wein weine red white rose sparkling champagne',
    beer: 'beers bier biere lager ale stout',
    cider: 'ciders',
    bitters: 'bitter',
    juice: 'juices saft safte puree purees',
    syrup: 'syrups sirup cordial cordials',
    mixer: 'mixers filler soft softs soda sodas water waters minerals tonic',
    fruit: 'fruits citrus',
    herb: 'herbs',
    egg: 'eggs',
    dairy: 'milk cream',
    garnish: 'garnishes',
  }).flatMap(([kind, words]) => [
    [kind, kind] as const,
    ...words.split(' ').map((word) => [word, kind] as const),
  ]),
);

const wordsOf = (text: string): string[] =>
  foldText(text)
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== '');

/** The kind that a word of a column means; what is no word of ours stays as it is written. */
export function kindOfWords(text: string): string {
  const words = wordsOf(text);
  const known = words.flatMap((word) => kindWords.get(word) ?? []);
  return known[0] ?? foldText(text).slice(0, 40);
}

/** The kind that a name tells: by the list of what bars stock, the longest of its names that stands in it; else by a word. */
function kindByName(name: string): string | null {
  const text = ` ${wordsOf(name).join(' ')} `;
  let best: { kind: string; length: number } | null = null;
  for (const { kind, words } of stockList)
    for (const word of words.slice(0, -1)) {
      const part = ` ${wordsOf(word).join(' ')} `;
      if (part.length > 3 && text.includes(part) && part.length > (best?.length ?? 0))
        best = { kind, length: part.length };
    }
  return (
    best?.kind ??
    wordsOf(name)
      .map((word) => kindWords.get(word))
      .find((kind) => kind !== undefined) ??
    null
  );
}

/** What is stocked already, by every name it has. */
function knownItems({ items }: Catalogue): ReadonlyMap<string, Item> {
  const known = new Map<string, Item>();
  for (const item of items.values()) for (const name of itemNames(item)) known.set(foldText(name), item);
  return known;
}

export function itemsOfSheet(layout: Layout, columns: Columns, catalogue: Catalogue): SheetItems {
  const known = knownItems(catalogue);
  const items: { item: Item; line: number }[] = [];
  const doubts: Doubt[] = [];
  const problems: Problem[] = [];
  const suppliers = newSuppliers(layout, columns, catalogue);
  const withNew = {
    ...catalogue,
    suppliers: new Map([...catalogue.suppliers, ...suppliers.map((one) => [one.id, one] as const)]),
  };
  const left = leftOut(layout, columns);
  if (left.length > 0)
    doubts.push({
      line: layout.line,
      text: `left out: ${left
        .map((one) => clean(one))
        .join(', ')
        .slice(0, 200)}`,
    });
  const isShare = sharesOfOne(layout, columns);
  if (isShare)
    doubts.push({
      line: layout.line,
      text: 'all strengths are 1 or less: read as parts of one, 0.4 as 40 %',
    });
  const sizeAt = columns.get('size') ?? -1;
  const hasPackSizes = layout.body.some(({ cells }) => packOf(cells[sizeAt] ?? '').many !== null);
  let section: string | null = null;
  for (const row of layout.body) {
    const cells = cellsOfRow(row, columns, layout, isShare);
    const name = cells.get('name') ?? '';
    if (isHeading(row, cells)) {
      section = kindWords.get(wordsOf(name)[0] ?? '') ?? null;
      doubts.push({
        line: row.line,
        text: `only "${clean(row.cells.find((cell) => cell !== '') ?? '').slice(0, 40)}" stands here: passed over`,
      });
      continue;
    }
    if (isTotal(name, cells)) {
      doubts.push({ line: row.line, text: `"${clean(name).slice(0, 40)}" looks like a sum: passed over` });
      continue;
    }
    try {
      const { item, doubt } = itemOfRow(cells, known, withNew, { section, hasPackSizes });
      items.push({ item, line: row.line });
      doubts.push(...doubt.map((text) => ({ line: row.line, text })));
    } catch (error) {
      if (!(error instanceof BadCell)) throw error;
      problems.push({ code: 'bad-item', exit: 65, line: row.line, message: error.message });
    }
  }
  const parted = partedBySize(items, catalogue);
  for (const { item, line } of parted.filter(({ item }, at) => item !== items[at]?.item))
    doubts.push({ line, text: `it stands in two sizes; this one is ${item.name}` });
  problems.push(...itemClashes(parted, catalogue));
  return {
    items: parted,
    suppliers,
    doubts,
    problems: problems.sort((a, b) => (a.line ?? 0) - (b.line ?? 0)),
  };
}

/** Names of suppliers that nobody wrote yet: they are only names, to be filled in. */
function newSuppliers({ body }: Layout, columns: Columns, catalogue: Catalogue): Supplier[] {
  const at = columns.get('supplier');
  if (at === undefined) return [];
  const known = new Set(
    [...catalogue.suppliers.values()].flatMap(({ id, name }) => [foldText(id), foldText(name)]),
  );
  const found = new Map<string, Supplier>();
  for (const { cells } of body) {
    const name = (cells[at] ?? '').trim();
    if (name === '' || name.length > 80 || known.has(foldText(name))) continue;
    found.set(foldText(name), newSupplier(name));
  }
  return [...found.values()];
}

const isTotal = (name: string, cells: ReadonlyMap<string, string>): boolean =>
  /^(sub|grand )?(total|totals|sum|summe|gesamt|totale|suma)\b/i.test(name.trim()) && !cells.has('size');

type ItemRow = SheetItems['items'][number];

/** The same thing in two sizes is two things: the one that is stocked already keeps its name, else the first of them. */
function partedBySize(rows: readonly ItemRow[], { items }: Catalogue): ItemRow[] {
  const keepers = new Map<ItemId, ItemRow>();
  for (const row of rows) {
    const kept = keepers.get(row.item.id);
    const stocked = items.get(row.item.id)?.size;
    if (kept === undefined || (kept.item.size !== stocked && row.item.size === stocked))
      keepers.set(row.item.id, row);
  }
  return rows.map((row) =>
    keepers.get(row.item.id)?.item.size === row.item.size ? row : { ...row, item: bySize(row.item) },
  );
}

/** Its other names stay with the one that keeps its name. */
const bySize = (item: Item): Item => {
  const name = `${item.name} ${item.sizeText}`;
  return { ...item, name, also: [], id: slugOf(name) as ItemId };
};

/** A row with one thing in it parts the list; it is none of its things. */
const isHeading = (row: SheetRow, cells: ReadonlyMap<string, string>): boolean =>
  row.cells.filter((cell) => cell !== '').length === 1 && !sizeInName.test(cells.get('name') ?? '');

function itemOfRow(
  said: ReadonlyMap<string, string>,
  known: ReadonlyMap<string, Item>,
  catalogue: Catalogue,
  { section, hasPackSizes }: { readonly section: string | null; readonly hasPackSizes: boolean },
): { item: Item; doubt: string[] } {
  const doubt: string[] = [];
  const cells = new Map(said);
  const paid = withCaseCost(cells, catalogue, hasPackSizes);
  if (paid !== null) doubt.push(paid);
  const bareSize = cells.get('size') ?? '';
  const size = sizeOfNumber(bareSize);
  if (size !== null) {
    cells.set('size', size);
    doubt.push(`size ${bareSize} is read as ${size}`);
  }
  const name = cells.get('name') ?? '';
  if (name === '') throw new BadCell('name is missing. Write one, or take the row out.');
  const unsafe = firstUnsafe(name);
  if (unsafe !== null) throw new BadCell(`name holds the character ${unsafe}. Take it out.`);
  const inName = sizeInName.exec(name)?.[1];
  const bare =
    inName === undefined
      ? name
      : name
          .replace(inName, ' ')
          .replace(/\s+/g, ' ')
          .replace(/[\s,;(–-]+$/, '')
          .trim();
  const before =
    known.get(foldText(cells.get('id') ?? '')) ?? known.get(foldText(name)) ?? known.get(foldText(bare));
  if (before !== undefined) return { item: changed(before, cells, catalogue), doubt };
  if (!cells.has('size') && inName !== undefined) {
    cells.set('size', sizeText(inName, '')).set('name', bare);
    doubt.push(`size ${inName.trim()} is taken from its name`);
  }
  if (!cells.has('size'))
    throw new BadCell(`size of ${clean(name).slice(0, 40)} is missing. Write it as 700 ml.`);
  const kind = cells.get('kind');
  const guessed = section ?? kindByName(name) ?? 'other';
  if (kind === undefined) doubt.push(`no kind is said; taken as ${guessed}`);
  cells.set('kind', kind === undefined ? guessed : kindOfWords(kind));
  if (!cells.has('id')) cells.set('id', slugOf(cells.get('name') ?? name));
  return { item: itemOfCells(cells, catalogue), doubt };
}

/** Of what is stocked already only what the row says is written anew. */
function changed(before: Item, cells: ReadonlyMap<string, string>, catalogue: Catalogue): Item {
  const values = cellsOf(before, catalogue);
  const all = new Map(itemColumns.map((column, at) => [column, values[at] ?? '']));
  for (const [column, value] of cells) {
    // Found by its id it may have another name; found by a name it keeps its own.
    if (column === 'id' || (column === 'name' && !cells.has('id'))) continue;
    all.set(column, column === 'kind' ? kindOfWords(value) : value);
  }
  const item = itemOfCells(all, catalogue);
  // The same size in other words is no change.
  return item.size === before.size && item.unit === before.unit
    ? { ...item, sizeText: before.sizeText }
    : item;
}
