// The two lists a new house ticks: what stands behind the bar, and what it pours. A tick is on disk at once.

import type { Item } from '../../domain/catalogue/item.ts';
import type { Spec } from '../../domain/catalogue/spec.ts';
import { measureText } from '../../domain/drink/measure-text.ts';
import { specLines } from '../../domain/drink/measures.ts';
import { intendRename, intendRetire } from '../../domain/intent/intend-change.ts';
import { intendItem, intendSpec } from '../../domain/intent/intend-house.ts';
import type { Intent } from '../../domain/intent/intent.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { countryOf, regionOf } from '../../domain/starter/country.ts';
import { publishedNames, publishedSpecs } from '../../domain/starter/published.ts';
import { findKinds, itemOfKind, kindSource, type StockKind } from '../../domain/starter/stock-list.ts';
import type { ItemId, SpecId } from '../../domain/value/ids.ts';
import { memoBy } from '../../domain/value/memo.ts';
import { formatMoney, parseMoney } from '../../domain/value/money.ts';
import { done, refuse } from '../../domain/value/problem.ts';
import { foldText } from '../../domain/value/text.ts';
import { shortName } from '../format.ts';

/** A row of a list: what it is called, what stands beside it, and what it would write. */
export type Tick = {
  readonly id: string;
  readonly name: string;
  readonly ticked: boolean;
  /** What it is found by, folded. */
  readonly words: readonly string[];
  readonly facts: string;
  /** What is read of it when it is marked. */
  readonly says: readonly string[];
};

const stocked = ({ items }: Books, id: string): Item | null => {
  const item = items.get(id as ItemId);
  return item === undefined || item.retired === true ? null : item;
};
const poured = ({ specs }: Books, id: string): Spec | null => {
  const spec = specs.get(id as SpecId);
  return spec === undefined || spec.retired === true ? null : spec;
};

const factsOf = (item: Item, books: Books): string =>
  [
    item.sizeText.replace('us-oz', 'fl oz').replace('us-gallon', 'US gallons'),
    item.abvPercent === null ? '' : `${item.abvPercent} %`,
    item.costMinor === null ? '' : formatMoney(item.costMinor, books.house.currency),
  ]
    .filter((fact) => fact !== '')
    .join(' · ');

const regionFor = ({ house }: Books) => regionOf(countryOf(house.zone));

function stockTick(kind: StockKind, books: Books): Tick {
  const own = stocked(books, kind.id);
  const item = own ?? itemOfKind(kind, regionFor(books), books);
  const says = [
    own === null || own.name === kind.name ? '' : `your ${kind.name}`,
    `${item.kind}, stands at ${item.place}`,
    item.sugarGramsPerLitre === null ? '' : `${item.sugarGramsPerLitre} g sugar per litre`,
    item.allergens.length === 0 ? '' : `contains ${item.allergens.join(', ')}`,
    item.caution === '' ? '' : `! ${item.caution}`,
    kindSource(kind),
  ];
  return {
    id: kind.id,
    name: item.name,
    words: [foldText(item.name), ...kind.words],
    ticked: own !== null,
    facts: factsOf(item, books),
    says: says.filter((one) => one !== ''),
  };
}

/** What is stocked and not of the list: written by hand. */
function ownTick(item: Item, books: Books): Tick {
  const { id, name, kind } = item;
  return { id, name, words: [foldText(name)], ticked: true, facts: factsOf(item, books), says: [kind] };
}

function stockTicks(books: Books, text: string): readonly Tick[] {
  const found = findKinds(text).map((kind) => stockTick(kind, books));
  const listed = new Set(findKinds('').map(({ id }) => id));
  const wanted = foldText(text);
  // A name of one's own is found, too.
  const own = [...books.items.values()].filter(
    (item) => item.retired !== true && !found.some(({ id }) => id === item.id),
  );
  const named = own.filter(
    (item) => (wanted !== '' || !listed.has(item.id)) && foldText(item.name).includes(wanted),
  );
  return [...named.map((item) => ownTick(item, books)), ...found];
}

function cardTick(spec: Spec, books: Books): Tick {
  const own = poured(books, spec.id) ?? spec;
  const lines = specLines(own, books);
  const measures = lines.ok ? lines.value : [];
  return {
    id: spec.id,
    name: own.name,
    words: [foldText(own.name)],
    ticked: poured(books, spec.id) !== null,
    facts: own.priceMinor === null ? '' : formatMoney(own.priceMinor, books.house.currency),
    says: [
      ...measures.map((line) => `${measureText(line, books, books.house.units, 1)} ${shortName(line.item)}`),
      own.method,
      own.tags.includes('published') ? 'Measures as published (IBA list).' : '',
    ].filter((one) => one !== ''),
  };
}

function cardTicks(books: Books, text: string): readonly Tick[] {
  const published = publishedSpecs(books);
  const own = [...books.specs.values()].filter(
    (spec) => spec.retired !== true && !published.some(({ id }) => id === spec.id),
  );
  return [...own, ...published]
    .map((spec) => cardTick(spec, books))
    .filter(({ name }) => foldText(name).includes(foldText(text.trim())));
}

export type ListName = 'stock' | 'cards';

export const ticksOf = memoBy(
  (books: Books, list: ListName, text: string) => [books, list, text],
  (books, list, text): readonly Tick[] => (list === 'stock' ? stockTicks : cardTicks)(books, text),
);

/** How many of the published specs can't be made of what is stocked. */
export const unmade = (books: Books): number => publishedNames.length - publishedSpecs(books).length;

/** A tick on or off. Off is retired: what was poured of it meanwhile stays what it was. */
export function tickIntent(list: ListName, id: string): Intent {
  if (list === 'cards')
    return (books) => {
      const known = books.specs.get(id as SpecId);
      if (known !== undefined) return intendRetire(books, 'spec', id, known.retired === true);
      const spec = publishedSpecs(books).find((one) => one.id === id);
      return spec === undefined ? done([]) : intendSpec(books, spec);
    };
  return (books) => {
    const known = books.items.get(id as ItemId);
    if (known !== undefined) return intendRetire(books, 'item', id, known.retired === true);
    const [kind] = findKinds('').filter((one) => one.id === id);
    return kind === undefined ? done([]) : intendItem(books, itemOfKind(kind, regionFor(books), books));
  };
}

/** "18.50", "=Harbour gin" or "=Harbour gin, 18.50": the price of the one ticked last, its name here, or both. */
export function ownIntent(list: ListName, id: string, typed: string): Intent {
  const [, named, priced] = /^=\s*(.*?)(?:\s*,\s*(\S+))?$/.exec(typed.trim()) ?? [null, '', typed.trim()];
  return (books) => {
    const minor = priced === undefined ? null : parseMoney(priced, books.house.currency);
    if (priced !== undefined && minor === null)
      return refuse(
        'bad-price',
        `"${priced.slice(0, 20)}" is not an amount of ${books.house.currency}. Write it as 18.50.`,
      );
    return list === 'stock' ? ownItem(books, id, named ?? '', minor) : ownSpec(books, id, named ?? '', minor);
  };
}

function ownItem(books: Books, id: string, name: string, minor: number | null): ReturnType<Intent> {
  const item = books.items.get(id as ItemId);
  if (item === undefined) return refuse('unknown-item', 'Tick what it is first.');
  const renamed = name === '' ? done([]) : intendRename(books, 'item', item.id, name);
  if (!renamed.ok || minor === null) return renamed;
  const [draft] = renamed.value;
  const kept = draft?.kind === 'item-written' ? draft.item : item;
  return intendItem(books, { ...kept, costMinor: minor });
}

function ownSpec(books: Books, id: string, name: string, minor: number | null): ReturnType<Intent> {
  const spec = books.specs.get(id as SpecId);
  if (spec === undefined) return refuse('unknown-spec', 'Tick what it is first.');
  const renamed = name === '' ? done([]) : intendRename(books, 'spec', spec.id, name);
  if (!renamed.ok || minor === null) return renamed;
  const [draft] = renamed.value;
  const kept = draft?.kind === 'spec-written' ? draft.spec : spec;
  return intendSpec(books, { ...kept, priceMinor: minor });
}
