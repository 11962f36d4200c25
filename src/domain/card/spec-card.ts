// The card of a spec, read and written: a drink as a bartender would write it on a card, one or many in a file.

import type { Catalogue } from '../catalogue/catalogue.ts';
import { type Item, itemNames, TAP_WATER } from '../catalogue/item.ts';
import { type Measure, type Spec, specNames, specSchema } from '../catalogue/spec.ts';
import { splitQuantity } from '../catalogue/units.ts';
import { lineOf } from '../drink/measures.ts';
import { slugOf } from '../value/ids.ts';
import { issueText } from '../value/issue.ts';
import { formatMoney, parseMoney } from '../value/money.ts';
import { numberDoubt } from '../value/number.ts';
import { done, type Problem, type Result, refuseAll } from '../value/problem.ts';
import { clean, firstUnsafe, foldText, harmless } from '../value/text.ts';
import { type ItemLookup, prepText, readKeeps, readMakes, type Say, unknownItem } from './prep-lines.ts';

const fields = [
  'makes',
  'keeps',
  'also',
  'family',
  'glass',
  'ice',
  'price',
  'do',
  'garnish',
  'tags',
  'id',
  'retired',
] as const;
type Field = (typeof fields)[number];

type Card = {
  readonly name: string;
  readonly line: number;
  readonly fields: Map<Field, string>;
  readonly at: Map<Field, number>;
  readonly measures: { text: string; line: number }[];
};

/** Reads cards; all problems of the file come at once. */
export function readSpecs(text: string, books: Catalogue): Result<Spec[]> {
  const rows = readSpecRows(text, books);
  return rows.ok ? done(rows.value.map(({ spec }) => spec)) : rows;
}

/** The same with the line each card begins on. */
export function readSpecRows(text: string, books: Catalogue): Result<{ spec: Spec; line: number }[]> {
  const problems: Problem[] = [];
  const say = (line: number, message: string): void => {
    problems.push({ code: 'bad-spec', exit: 65, line, message });
  };
  const cards = splitCards(text, say);
  const items = itemLookup(books);
  const specs = cards.map((card) => ({ spec: specOfCard(card, books, items, say), line: card.line }));
  nameClashes(specs, books, say);
  const sorted = problems.sort((a, b) => (a.line ?? 0) - (b.line ?? 0));
  return sorted.length > 0
    ? refuseAll(sorted)
    : done(specs.flatMap(({ spec, line }) => (spec === null ? [] : [{ spec, line }])));
}

function splitCards(text: string, say: Say): Card[] {
  const cards: Card[] = [];
  text.split(/\r\n|\r|\n/).forEach((raw, index) => {
    const line = index + 1;
    const content = raw.trim();
    if (content === '' || content.startsWith('//')) return;
    const unsafe = firstUnsafe(content.replaceAll('\t', ' '));
    if (unsafe !== null) {
      say(line, `This line holds the character ${unsafe}. Take it out.`);
      return;
    }
    if (content.startsWith('#')) {
      const name = content.replace(/^#+\s*/, '');
      if (name === '') say(line, 'A card needs a name after the #. Write # Name.');
      cards.push({ name, line, fields: new Map(), at: new Map(), measures: [] });
      return;
    }
    const card = cards.at(-1);
    if (card === undefined) say(line, 'A card begins with # and its name. Put that line first.');
    else addLine(card, content.replaceAll('\t', ' '), line, say);
  });
  if (cards.length === 0) say(1, 'There is no card in this file. A card begins with # and its name.');
  return cards;
}

function addLine(card: Card, content: string, line: number, say: Say): void {
  const label = /^([a-z]+)\s*:\s*(.*)$/i.exec(content);
  if (label === null) {
    card.measures.push({ text: content, line });
    return;
  }
  const name = (label[1] ?? '').toLowerCase() as Field;
  if (!fields.includes(name)) say(line, `"${name}" is not a line of a card. Known are ${fields.join(', ')}.`);
  else if (card.fields.has(name)) say(line, `"${name}" stands twice on this card. Take one out.`);
  else {
    card.fields.set(name, label[2] ?? '');
    card.at.set(name, line);
  }
}

function itemLookup(books: Catalogue): ItemLookup {
  const byName = new Map<string, Item>([[foldText(TAP_WATER.name), TAP_WATER]]);
  // "lime juice" means limes when no juice is stocked under that name.
  for (const item of books.items.values()) {
    for (const { of } of item.yields ?? [])
      for (const name of itemNames(item)) byName.set(foldText(`${name} ${of}`), item);
  }
  for (const item of books.items.values())
    for (const name of itemNames(item)) byName.set(foldText(name), item);
  return { byName, names: [...books.items.values()].flatMap((item) => [item.name, ...item.also]) };
}

function specOfCard(card: Card, books: Catalogue, items: ItemLookup, say: Say): Spec | null {
  const field = (name: Field): string => card.fields.get(name) ?? '';
  const list = (name: Field): string[] =>
    field(name)
      .split(/[|,]/)
      .map((word) => word.trim())
      .filter((word) => word !== '');
  const price = field('price') === '' ? null : parseMoney(field('price'), books.house.currency);
  if (price === null && field('price') !== '')
    say(
      card.at.get('price') ?? card.line,
      numberDoubt(field('price')) ??
        `price "${field('price').slice(0, 20)}" is not an amount of ${books.house.currency}. Write it as 14.00.`,
    );
  const measures = card.measures.flatMap(
    ({ text, line }) => readMeasure(text, line, books, items, say) ?? [],
  );
  if (card.measures.length === 0 && card.name !== '')
    say(card.line, `${card.name} has no measure. Write one a line, as 60 ml dry gin.`);
  const parsed = specSchema.safeParse({
    id: field('id') === '' ? slugOf(card.name) : field('id'),
    name: card.name,
    also: list('also'),
    family: field('family').toLowerCase(),
    glass: field('glass'),
    ice: field('ice'),
    garnish: field('garnish'),
    method: field('do'),
    tags: list('tags').map((tag) => tag.toLowerCase()),
    priceMinor: price,
    ...(/^(yes|true)$/i.test(field('retired')) ? { retired: true } : {}),
    ...readMakes(card, books, items, say),
    ...readKeeps(card, say),
    measures,
  });
  if (parsed.success) return parsed.data;
  if (measures.length > 0)
    say(card.line, `${card.name}: ${issueText(parsed.error.issues, 'card')}. Mend it and import again.`);
  return null;
}

/** "22.5 ml lemon juice, fresh": amount, unit, item; what stands after a comma is a note for people. */
function readMeasure(
  text: string,
  line: number,
  books: Catalogue,
  items: ItemLookup,
  say: Say,
): Measure[] | null {
  const split = splitQuantity(text, books.house);
  if (split === null || split.rest === '') {
    say(
      line,
      `"${clean(text).slice(0, 60)}" is not a measure. Write amount, unit and item, as 60 ml dry gin.`,
    );
    return null;
  }
  const [name, ...note] = split.rest.split(',');
  const item = items.byName.get(foldText(name ?? ''));
  if (item === undefined) {
    say(line, unknownItem(name ?? '', items));
    return null;
  }
  const measure: Measure = {
    quantity: split.text,
    unit: split.unit,
    item: item.id,
    ...(note.length > 0 ? { note: note.join(',').trim() } : {}),
  };
  const checked = lineOf(measure, books);
  if (!checked.ok) for (const problem of checked.problems) say(line, problem.message);
  return checked.ok ? [measure] : null;
}

function nameClashes(
  specs: readonly { spec: Spec | null; line: number }[],
  books: Catalogue,
  say: Say,
): void {
  const ids = new Set(specs.map(({ spec }) => spec?.id));
  const owner = new Map<string, string>();
  for (const spec of books.specs.values())
    if (!ids.has(spec.id)) for (const name of specNames(spec)) owner.set(foldText(name), spec.id);
  const seen = new Set<string>();
  for (const { spec, line } of specs) {
    if (spec === null) continue;
    if (seen.has(spec.id)) say(line, `${spec.name} stands twice in the file. Take one out.`);
    seen.add(spec.id);
    const clash = specNames(spec).find((name) => (owner.get(foldText(name)) ?? spec.id) !== spec.id);
    if (clash !== undefined)
      say(
        line,
        `The name "${clash}" belongs to ${owner.get(foldText(clash))} too. Give one of them another.`,
      );
    for (const name of specNames(spec)) owner.set(foldText(name), spec.id);
  }
}

/** All specs as cards; reading them back gives equal specs. */
export function writeSpecs(books: Catalogue): string {
  const items = new Map([...books.items].map(([id, item]) => [id, harmless(item)]));
  return [...books.specs.values()].map((spec) => writeCard(harmless(spec), { ...books, items })).join('\n');
}

/** A unit that is a part of a piece, not an amount of its juice. */
const isPart = (unit: string): boolean =>
  ['wedge', 'wheel', 'slice', 'twist', 'leaf', 'sprig', 'cube', 'piece'].includes(unit);

/** Pieces have no unit, unless the name begins with the word of one: "2 each leaf gelatin", "1 each cube sugar". */
function amountText({ quantity, unit }: Measure, name: string, { house }: Catalogue): string {
  if (unit !== 'each') return `${quantity} ${unit}`;
  const read = splitQuantity(`${quantity} ${name.toLowerCase()}`, house);
  return read?.unit === 'each' ? quantity : `${quantity} each`;
}

export function writeCard(spec: Spec, books: Catalogue): string {
  const lines = [`# ${spec.name}`];
  const add = (name: Field, value: string): void => {
    if (value !== '') lines.push(`${name}: ${value}`);
  };
  // A renamed card keeps its past under the id it had.
  add('id', spec.id === slugOf(spec.name) ? '' : spec.id);
  add('retired', spec.retired === true ? 'yes' : '');
  const prep = prepText(spec, books);
  add('makes', prep.makes);
  add('keeps', prep.keeps);
  add('also', spec.also.join(' | '));
  add('family', spec.family);
  add('glass', spec.glass);
  add('ice', spec.ice);
  add('price', spec.priceMinor === null ? '' : formatMoney(spec.priceMinor, books.house.currency));
  add('tags', spec.tags.join(' | '));
  for (const measure of spec.measures) {
    const known = books.items.get(measure.item)?.name ?? measure.item;
    // A comma begins a note, so an item with one in its name goes by its id.
    const liquid = books.items
      .get(measure.item)
      ?.yields?.find((entry) => entry.unit === 'ml' && measure.unit !== 'each' && !isPart(measure.unit));
    const name = known.includes(',') ? measure.item : liquid === undefined ? known : `${known} ${liquid.of}`;
    const amount = amountText(measure, name, books);
    lines.push(
      `${amount.padEnd(10)} ${name.toLowerCase()}${measure.note === undefined ? '' : `, ${measure.note}`}`,
    );
  }
  add('do', spec.method);
  add('garnish', spec.garnish);
  return `${lines.join('\n')}\n`;
}

export const starterSpecs = `# House Sour
also: sour
family: sour
glass: coupe
ice: none
price: 12.00
45 ml      dry gin
25 ml      lemon juice
20 ml      simple syrup
1          egg white
do: dry shake; shake hard with ice; double strain
garnish: lemon twist
`;
