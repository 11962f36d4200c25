// Single lines of a card or an item written anew from a script: "price: 14.00", "22 ml lemon juice", "-egg white". All else stays.
import type { Catalogue } from '../catalogue/catalogue.ts';
import { type Item, itemNames } from '../catalogue/item.ts';
import { type Spec, specNames } from '../catalogue/spec.ts';
import { findItem, findSpec } from '../search/find.ts';
import type { SpecId } from '../value/ids.ts';
import { done, type Result, refuse, refuseAll } from '../value/problem.ts';
import { clean, foldText } from '../value/text.ts';
import { readItemLines, writeItemLines } from './item-lines.ts';
import { readSpecs, writeCard } from './spec-card.ts';

const label = /^\s*([a-z_0-9]+)\s*:\s*(.*)$/i;
const nameOf = (row: string): string => label.exec(row)?.[1]?.toLowerCase() ?? '';

/** A script means the very name. What other commands would take it for is named, rather than something new written beside it. */
function exactly<T extends { readonly name: string }>(
  things: Iterable<T>,
  namesOf: (thing: T) => readonly string[],
  text: string,
  found: Result<T>,
): Result<T | undefined> {
  const exact = [...things].find((thing) => namesOf(thing).some((name) => foldText(name) === foldText(text)));
  if (exact !== undefined || !found.ok) return done(exact);
  return refuse(
    'near-name',
    `Nothing is called just "${clean(text).slice(0, 40)}". Did you mean ${found.value.name}? Write its whole name; a new one of that name is written in the Book.`,
  );
}

/** Lines with one put in the place of that of the same name, or added. */
const withLine = (rows: readonly string[], row: string): string[] =>
  rows.some((one) => nameOf(one) === nameOf(row))
    ? rows.map((one) => (nameOf(one) === nameOf(row) ? row : one))
    : [...rows, row];

/** The item of that name with some of its lines anew; a new one where nothing is called so. */
export function itemWithLines(catalogue: Catalogue, name: string, lines: readonly string[]): Result<Item> {
  const known = exactly(catalogue.items.values(), itemNames, name, findItem(catalogue, name));
  if (!known.ok) return known;
  const before = known.value;
  const start = before === undefined ? [`name: ${name}`] : writeItemLines(before, catalogue).split('\n');
  const rows = lines.reduce(withLine, start);
  return withoutLines(readItemLines(rows.join('\n'), catalogue, before?.id ?? null));
}

/** The card of that name with some of its lines anew; a new one where nothing is called so. */
export function specWithLines(catalogue: Catalogue, name: string, lines: readonly string[]): Result<Spec> {
  const known = exactly(catalogue.specs.values(), specNames, name, findSpec(catalogue, name));
  if (!known.ok) return known;
  const before = known.value;
  const start = before === undefined ? [`# ${name}`] : writeCard(before, catalogue).trimEnd().split('\n');
  let rows: readonly string[] = start;
  for (const line of lines) {
    const next = withCardLine(rows, line, catalogue);
    if (!next.ok) return next;
    rows = next.value;
  }
  const others =
    before === undefined
      ? catalogue
      : { ...catalogue, specs: new Map([...catalogue.specs].filter(([id]) => id !== before.id)) };
  const read = withoutLines(readSpecs(rows.join('\n'), others));
  if (!read.ok) return read;
  const [spec] = read.value;
  return spec === undefined || before === undefined
    ? done(spec as Spec)
    : done({ ...spec, id: before.id as SpecId });
}

/** What a measure line is of; null for a field and for what can't be read. */
function itemOfRow(row: string, catalogue: Catalogue): string | null {
  if (label.test(row) || row.startsWith('#')) return null;
  const read = readSpecs(`# x\n${row}\n`, { ...catalogue, specs: new Map() });
  return read.ok ? (read.value[0]?.measures[0]?.item ?? null) : null;
}

function withCardLine(
  rows: readonly string[],
  line: string,
  catalogue: Catalogue,
): Result<readonly string[]> {
  const text = line.trim();
  if (/^#/.test(text)) return done(rows.map((row) => (row.startsWith('#') ? text : row)));
  if (label.test(text)) return done(withLine(rows, text));
  const isGone = text.startsWith('-');
  const item =
    itemOfRow(isGone ? `1 ml ${text.slice(1).trim()}` : text, catalogue) ??
    (isGone ? itemOfRow(`1 ${text.slice(1).trim()}`, catalogue) : null);
  const at = item === null ? -1 : rows.findIndex((row) => itemOfRow(row, catalogue) === item);
  if (isGone && at === -1)
    return refuseAll([
      {
        code: 'no-measure',
        exit: 65,
        message: `The card has no measure of "${text.slice(1).trim().slice(0, 40)}". Its measures are in ullage spec.`,
      },
    ]);
  if (isGone) return done(rows.filter((_, index) => index !== at));
  if (at !== -1) return done(rows.map((row, index) => (index === at ? text : row)));
  const last = rows.findLastIndex((row) => itemOfRow(row, catalogue) !== null);
  const end = last === -1 ? rows.length : last + 1;
  return done([...rows.slice(0, end), text, ...rows.slice(end)]);
}

/** There is no file whose line could be looked at: the sentence alone says it. */
const withoutLines = <T>(result: Result<T>): Result<T> =>
  result.ok ? result : refuseAll(result.problems.map(({ line: _, ...problem }) => problem));
