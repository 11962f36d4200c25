// What is typed to pour, as the Pour room and `ullage pour` both read it: a round of parts, each so many of a name or of a
// measure, with its changes and its moment. Names come first: what begins a name of this house is that name, whatever numbers,
// commas or little words stand in it.

import type { Catalogue } from '../catalogue/catalogue.ts';
import { splitContainers } from '../catalogue/container-words.ts';
import { specNames } from '../catalogue/spec.ts';
import { splitQuantity } from '../catalogue/units.ts';
import { memoBy } from '../value/memo.ts';
import { foldText } from '../value/text.ts';
import { itemIndex, specIndex } from './house-search.ts';
import { beginsName, bestScore, hasWord, NEAR, NOT_A_NAME } from './search.ts';

/** When it was poured, as said: so many minutes ago, or by the clock on the wall. */
export type When = { readonly ago: number } | { readonly clock: string };

export type PourPart = {
  readonly count: number;
  /** The name, as it was typed; for a measure what it is of. */
  readonly text: string;
  /** A straight measure: "22.5" "ml". */
  readonly measure: { readonly quantity: string; readonly unit: string } | null;
  /** Typed after a colon or with a sign: `-egg white`, `+10ml lemon juice`, `gin->rye`, `double`. */
  readonly changes: readonly string[];
  readonly when: When | null;
};

const bare = (text: string): PourPart => ({ count: 1, text, measure: null, changes: [], when: null });

/**
 * "2 lan, 1 neg 10 ago" -> two parts. A part that is empty is nothing. The moment said last holds for all that say none of their
 * own: a round is one ticket. Always at least one part, so that a list can be shown while nothing is typed.
 */
export function readRound(text: string, catalogue: Catalogue): PourPart[] {
  const pieces = splitRound(text, catalogue).filter((piece) => piece.trim() !== '');
  if (pieces.length === 0) return [bare('')];
  const parts = pieces.map((piece) => readPart(piece.trim(), catalogue));
  const when = parts.at(-1)?.when ?? null;
  return parts.map((part) => ({ ...part, when: part.when ?? when }));
}

/** Commas part a round, but not the digits of a number, nor a name of this house that has one in it. */
function splitRound(text: string, catalogue: Catalogue): string[] {
  const pieces = text.split(/,(?!\d)|(?<!\d),/);
  const joined: string[] = [];
  for (let at = 0; at < pieces.length; at += 1) {
    let end = pieces.length;
    while (end > at + 1 && !isCommaName(withoutCount(pieces.slice(at, end).join(',')).rest, catalogue))
      end -= 1;
    joined.push(pieces.slice(at, end).join(','));
    at = end - 1;
  }
  return joined;
}

/** Names of this house that have a comma in them, as they are compared. */
const commaNames = memoBy(
  ({ specs }: Catalogue) => [specs],
  ({ specs }): readonly string[] =>
    [...specs.values()]
      .flatMap(specNames)
      .filter((name) => name.includes(','))
      .map(foldPieces),
);
const foldPieces = (text: string): string => text.split(',').map(foldText).join(',');
const isCommaName = (text: string, catalogue: Catalogue): boolean =>
  commaNames(catalogue).some((name) => name.startsWith(foldPieces(text)));

/** A number alone is how many, unless a drink is known by it: "75". */
const isName = (text: string, catalogue: Catalogue): boolean =>
  /^\d*$/.test(text)
    ? text.length > 1 && hasWord(specIndex(catalogue), text)
    : beginsName(specIndex(catalogue), text);

function readPart(text: string, catalogue: Catalogue): PourPart {
  if (isName(text, catalogue)) return bare(text);
  const { when, rest: timeless } = takeWhen(text);
  if (when !== null) return { ...readPart(timeless, catalogue), when };
  const { changes, rest: plain } = takeChanges(text, catalogue);
  if (changes.length > 0) return { ...readPart(plain, catalogue), changes };
  const { count, rest } = withoutCount(text);
  if (isName(rest, catalogue)) return { ...bare(rest), count };
  const held = readContainers(text, catalogue);
  if (held !== null) return held;
  const straight = readMeasure(text, catalogue) ?? (rest === text ? null : readMeasure(rest, catalogue));
  if (straight === null) return { ...bare(rest), count };
  return readMeasure(text, catalogue) === null ? { ...straight, count } : straight;
}

const ago = /\s(\d{1,3})\s*(h|hours?|m|mins?|minutes?)?\s+ago\s*$/i;
const clock = /\s(?:at|@)\s*([01]?\d|2[0-3])[:.]([0-5]\d)\s*$/i;

function takeWhen(text: string): { when: When | null; rest: string } {
  const past = ago.exec(text);
  if (past !== null) {
    const minutes = Number(past[1]) * (/^h/i.test(past[2] ?? '') ? 60 : 1);
    return { when: { ago: minutes }, rest: text.slice(0, past.index).trim() };
  }
  const wall = clock.exec(text);
  if (wall === null) return { when: null, rest: text };
  return {
    when: { clock: `${(wall[1] ?? '').padStart(2, '0')}:${wall[2]}` },
    rest: text.slice(0, wall.index).trim(),
  };
}

/** From a colon, a sign before a letter or a digit, or what is swapped: "lan: double", "door -egg", "door dry gin->rye". */
function takeChanges(text: string, catalogue: Catalogue): { changes: string[]; rest: string } {
  const starts = [text.indexOf(':'), text.search(/\s[-+−](?=\s?[\p{L}\d])/u), swapAt(text, catalogue)];
  const at = Math.min(...starts.filter((start) => start > 0));
  if (at === Number.POSITIVE_INFINITY) return { changes: [], rest: text };
  return { changes: text.slice(at).split(':').flatMap(changesOf), rest: text.slice(0, at).trim() };
}

/** Where the item of `gin->rye` or `gin=45ml` begins: behind the longest name of this house; -1 when there is no such name. */
function swapAt(text: string, catalogue: Catalogue): number {
  const head = text.slice(0, Math.max(0, text.search(/->|=/)));
  const gaps = [...head.trimEnd().matchAll(/\s+/g)].map(({ index }) => index).reverse();
  return gaps.find((gap) => isName(withoutCount(head.slice(0, gap)).rest, catalogue)) ?? -1;
}

/** "-egg white +10ml lemon juice double" -> its changes; each begins with a sign, or is a word of its own. */
function changesOf(text: string): string[] {
  const changes: string[] = [];
  for (const word of text.trim().split(/\s+/)) {
    const last = changes.at(-1);
    const isAlone = /^(double|half)$/i.test(word);
    const joinsOn = last !== undefined && !isAlone && !/^(double|half)$/i.test(last) && !/^[-+−]/.test(word);
    if (joinsOn) changes[changes.length - 1] = `${last} ${word}`;
    else if (word !== '') changes.push(word.replace(/^−/, '-'));
  }
  return changes;
}

/** A whole number in front: "2 lan", "2lan", "2 x 25 ml vodka". A number with a point, a comma or a stroke is an amount. */
function withoutCount(text: string): { count: number; rest: string } {
  const match = /^(\d{1,3})(?![\d.,/¼½¾⅓⅔])\s*(?:[x×](?=[\s\d]))?\s*(.*)$/su.exec(text.trim());
  return match === null ? { count: 1, rest: text.trim() } : { count: Number(match[1]), rest: match[2] ?? '' };
}

/** "2 bottles lager", "half a bottle of house white": so many of what something is sold in; whole ones are so many sales. */
function readContainers(text: string, catalogue: Catalogue): PourPart | null {
  const held = splitContainers(text) ?? splitContainers(`1 ${text}`);
  if (held === null || held.rest === '' || bestScore(itemIndex(catalogue), held.rest) >= NOT_A_NAME)
    return null;
  const { num, den } = held.quantity;
  const isWhole = den === 1n && num <= 200n;
  const unit = held.isCase ? 'case' : 'bottle';
  const quantity = isWhole ? '1' : `${num}/${den}`;
  return { ...bare(held.rest), count: isWhole ? Number(num) : 1, measure: { quantity, unit } };
}

/** "22.5 ml gin", "1 1/2 oz gin": an amount, a unit, and something in stock that is really called so. */
function readMeasure(text: string, catalogue: Catalogue): PourPart | null {
  if (!/^[\d¼½¾⅓⅔⅛⅜⅝⅞]/u.test(text)) return null;
  const split = splitQuantity(text, catalogue.house);
  if (split === null || split.unit === 'each' || foldText(split.rest) === '') return null;
  if (bestScore(itemIndex(catalogue), split.rest) >= NEAR && !/^(ml|cl|l|oz)$/.test(split.unit)) return null;
  return { ...bare(split.rest), measure: { quantity: split.text, unit: split.unit } };
}
