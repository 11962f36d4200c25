// The list a new house ticks from, read: each kind of thing as the item it would be.
import { itemOfCells } from '../card/item-card.ts';
import type { Catalogue } from '../catalogue/catalogue.ts';
import type { Item } from '../catalogue/item.ts';
import type { ItemId } from '../value/ids.ts';
import { foldText } from '../value/text.ts';
import type { Region } from './country.ts';
import { stockKinds } from './stock-kinds.ts';

export type StockKind = {
  readonly id: ItemId;
  readonly name: string;
  readonly kind: string;
  readonly size: Readonly<Record<Region, string>>;
  /** Cells of the items file but for the size. */
  readonly cells: ReadonlyMap<string, string>;
  /** What it is found by, folded. */
  readonly words: readonly string[];
};

const head = ['id', 'name', 'also', 'kind', 'size', 'abv', 'sugar_g_per_l', 'allergens', 'place'] as const;
/** Short names of rarer columns in the list. */
const columns: Readonly<Record<string, string>> = { acid: 'acid_g_per_l' };

function kindOfRow(row: string): StockKind {
  const [first, ...rest] = row.split(';').map((cell) => cell.trim());
  const values = [first ?? '', ...rest];
  const cells = new Map<string, string>(head.map((name, at) => [name, values[at] ?? '']));
  for (const more of values.slice(head.length)) {
    const [name = '', value = ''] = more.split('=');
    cells.set(columns[name] ?? name, value);
  }
  const [metric = '', us = metric] = (cells.get('size') ?? '').split('|');
  const name = cells.get('name') ?? '';
  const words = [name, ...(cells.get('also') ?? '').split('|'), cells.get('kind') ?? ''].map(foldText);
  return {
    id: (cells.get('id') ?? '') as ItemId,
    name,
    kind: cells.get('kind') ?? '',
    size: { metric, us },
    cells,
    words,
  };
}

export const stockList: readonly StockKind[] = stockKinds
  .split('\n')
  .filter((row) => row.trim() !== '')
  .map(kindOfRow);

const byId: ReadonlyMap<string, StockKind> = new Map(stockList.map((kind) => [kind.id, kind]));
export const stockKind = (id: string): StockKind | undefined => byId.get(id);

/** The item a kind would be, in a region's size. `own`: a name of the house's own, beside which the plain one is kept, and its cost. */
export function itemOfKind(
  kind: StockKind,
  region: Region,
  catalogue: Catalogue,
  own: { readonly name?: string; readonly cost?: string } = {},
): Item {
  const cells = new Map(kind.cells).set('size', kind.size[region]);
  if (own.cost !== undefined) cells.set('cost', own.cost);
  const item = itemOfCells(cells, catalogue);
  if (own.name === undefined || foldText(own.name) === foldText(item.name)) return item;
  return { ...item, name: own.name, also: [...new Set([...item.also, item.name])] };
}

/** Kinds whose sizes are fixed by the standards of fill; of all others the size is from memory. */
const filledByLaw: ReadonlySet<string> = new Set(['spirit', 'liqueur', 'wine', 'fortified']);

/** How sure the list is of what it says of a kind, in one sentence. */
export const kindSource = ({ kind, cells }: StockKind): string => {
  const size = filledByLaw.has(kind) ? 'Size by the standards of fill' : 'Size from memory';
  const strength = (cells.get('abv') ?? '') === '' ? '' : ', strength from memory';
  return `${size}${strength}: read the label.`;
};

/** Those a few letters mean: what begins so first, then what has a word that does, then what holds it; all for none. */
export function findKinds(text: string): readonly StockKind[] {
  const wanted = foldText(text).trim();
  if (wanted === '') return stockList;
  const rank = ({ words }: StockKind): number => {
    const scores = words.map((word, at) => {
      // Its own name goes before other names, and those before its kind.
      const late = at === 0 ? 0 : at === words.length - 1 ? 2 : 1;
      if (word === wanted) return late - 3;
      if (word.startsWith(wanted)) return late;
      if (word.split(/[^\p{L}\p{N}]+/u).some((part) => part.startsWith(wanted))) return 3 + late;
      return word.includes(wanted) ? 6 + late : 9;
    });
    return Math.min(...scores);
  };
  return stockList
    .map((kind) => ({ kind, score: rank(kind) }))
    .filter(({ score }) => score < 9)
    .sort((a, b) => a.score - b.score)
    .map(({ kind }) => kind);
}
