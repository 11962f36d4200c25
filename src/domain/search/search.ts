// Finding a spec or an item by a few letters: exact and prefix of names first, then fuse's token search, then letters
// in order ("dqri"). Never a regular expression made from what was typed.
import Fuse from 'fuse.js';
import { foldText } from '../value/text.ts';
import { type Indexed, type Only, type Scored, Shelves } from './shelves.ts';

export type Entry<T> = {
  readonly value: T;
  /** Names it answers to, the main one first. */
  readonly names: readonly string[];
  /** What else may be typed for it: family, glass, items, tags. */
  readonly words: readonly string[];
};

export type Index<T> = {
  readonly entries: readonly Indexed<T>[];
  readonly fuse: Fuse<Indexed<T>>;
  /** Places of the entries that have a word beginning so (one letter, or two). */
  readonly begins: () => Postings;
  /** Places of the entries that have a name beginning with this letter. */
  readonly firsts: () => Postings;
  /** Places of the entries that hold this pair of letters anywhere. */
  readonly pairs: () => Postings;
};
type Postings = ReadonlyMap<string, readonly number[]>;
/** Above this many entries the pairs of letters pick the candidates, and fuse ranks only the best of those. */
const FUSE_LIMIT = 400;
const MOST_RANKED = 60;
export const LONGEST_QUERY = 64;
const fuseOptions = {
  keys: [
    { name: 'names', weight: 3 },
    { name: 'all', weight: 1 },
  ],
  threshold: 0.34,
  ignoreLocation: true,
  includeScore: true,
  minMatchCharLength: 2,
};

export function indexOf<T>(entries: readonly Entry<T>[]): Index<T> {
  const indexed = entries.map((entry, place): Indexed<T> => {
    const names = entry.names.map(foldText);
    const main = (names[0] ?? '').split(' ');
    const starts = [...names.flatMap((name) => name.split(' ')), main.map((word) => word[0] ?? '').join('')];
    const all = [...names, ...entry.words.map(foldText)].join(' ');
    return {
      value: entry.value,
      place,
      names,
      starts,
      all,
      spaced: ` ${all}`,
      nameLines: `\n${names.join('\n')}\n`,
      startLines: `\n${starts.join('\n')}\n`,
    };
  });
  return {
    entries: indexed,
    fuse: new Fuse(indexed.length <= FUSE_LIMIT ? indexed : [], fuseOptions),
    begins: once(() => postingsOf(indexed, beginnings)),
    firsts: once(() =>
      postingsOf(indexed, ({ names }, add) => {
        for (const name of names) add(name.slice(0, 1));
      }),
    ),
    pairs: once(() => postingsOf(indexed, eachPair)),
  };
}

/** Made when it is first asked for: the first frame needs no index, only the first letter does. */
function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

/** One walk over all entries; within an entry the same key comes in a row of pushes, so the last place tells a repeat. */
function postingsOf<T>(
  entries: readonly Indexed<T>[],
  each: (entry: Indexed<T>, add: (key: string) => void) => void,
): Postings {
  const lists = new Map<string, number[]>();
  for (const entry of entries) {
    each(entry, (key) => {
      const list = lists.get(key);
      if (list === undefined) lists.set(key, [entry.place]);
      else if (list[list.length - 1] !== entry.place) list.push(entry.place);
    });
  }
  return lists;
}

function beginnings<T>({ starts, all }: Indexed<T>, add: (key: string) => void): void {
  for (const start of starts) {
    add(start.slice(0, 1));
    add(start.slice(0, 2));
  }
  for (let at = 0; at >= 0 && at < all.length; at = all.indexOf(' ', at) + 1 || -1) {
    add(all.slice(at, at + 1));
    add(all.slice(at, at + 2).trimEnd());
  }
}

function eachPair<T>({ all }: Indexed<T>, add: (key: string) => void): void {
  for (let at = 0; at < all.length - 1; at += 1) add(all.slice(at, at + 2));
}

const pairsOf = (text: string): string[] =>
  Array.from({ length: Math.max(0, text.length - 1) }, (_, at) => text.slice(at, at + 2));

/**
 * Entries that match, best first. `weight` (how often poured tonight and lately) orders what matches equally well;
 * an empty query gives everything by weight.
 */
export function searchIndex<T>(index: Index<T>, query: string, weight: (value: T) => number): T[] {
  return searchScored(index, query, weight).map(({ value }) => value);
}

/** From this score on a match is only near: letters are missing or wrong, and nothing is really called so. */
export const NEAR = 5;

/** From this score on it is only a word of it that was typed, an item or a glass: nobody calls it so. */
export const NOT_A_NAME = 3;

const everything = { most: Number.POSITIVE_INFINITY, isWanted: null };

/** The same with how well each matches; `NEAR` and above is a guess. */
export function searchScored<T>(
  index: Index<T>,
  query: string,
  weight: (value: T) => number,
  only: Only<T> = everything,
): Scored<T>[] {
  const text = foldText(query.slice(0, LONGEST_QUERY));
  const shelves = new Shelves(weight);
  if (text === '') for (const entry of index.entries) shelves.put(entry, 0);
  else {
    const typed = typedOf(text);
    for (const entry of possible(index, text)) {
      const score = scoreEntry(entry, typed);
      if (score !== null) shelves.put(entry, score);
    }
  }
  if (shelves.isEmpty && text !== '')
    for (const { entry, score } of fuzzy(index, text)) shelves.put(entry, score);
  return shelves.all(only);
}

/** How well the best entry matches; a guess when nothing does. */
export function bestScore<T>(index: Index<T>, query: string): number {
  const text = foldText(query.slice(0, LONGEST_QUERY));
  const typed = typedOf(text);
  return possible(index, text).reduce(
    (best, entry) => Math.min(best, scoreEntry(entry, typed) ?? NEAR),
    NEAR,
  );
}

/** Whether a word of some name is this very one. */
export const hasWord = <T>(index: Index<T>, word: string): boolean =>
  (index.begins().get(word.slice(0, 2)) ?? []).some((place) => index.entries[place]?.starts.includes(word));

/** Whether a name of some entry begins so. */
export function beginsName<T>(index: Index<T>, query: string): boolean {
  const text = foldText(query.slice(0, LONGEST_QUERY));
  if (text === '') return false;
  return (index.begins().get(text.slice(0, 2).trimEnd()) ?? []).some((place) =>
    index.entries[place]?.names.some((name) => name.startsWith(text)),
  );
}

/**
 * Entries that can match at all: words of theirs begin as the typed words do, or the whole text stands inside. Everything else scores null, so leaving it out changes nothing but the time.
 */
function possible<T>(index: Index<T>, text: string): Indexed<T>[] {
  // Every typed word begins one of theirs, so the word that fewest have is enough to look at.
  const begins = text
    .split(' ')
    .filter((word) => word !== '')
    .map((word) => index.begins().get(word.slice(0, 2)) ?? [])
    .reduce((best, list) => (list.length < best.length ? list : best));
  const entryAt = (place: number): Indexed<T> => index.entries[place] as Indexed<T>;
  if (text.length < SHORTEST_INSIDE) return begins.map(entryAt);
  const places = new Set(begins);
  for (const place of rarest(index, text)) if (index.entries[place]?.all.includes(text)) places.add(place);
  const all = places.size === begins.length ? begins : [...places].sort((a, b) => a - b);
  return all.map(entryAt);
}

/** The shortest list among the text's pairs of letters: what holds the text is in it. */
const rarest = <T>(index: Index<T>, text: string): readonly number[] =>
  pairsOf(text)
    .map((pair) => index.pairs().get(pair) ?? [])
    .reduce((best, list) => (list.length < best.length ? list : best));

const SHORTEST_INSIDE = 4;

/** A query as it is held against every entry: what is the same for all of them is made once. */
type Typed = {
  readonly text: string;
  readonly words: readonly string[];
  /** Where a name or a start begins so, and where it is so. */
  readonly line: string;
  readonly whole: string;
  /** Each word as it stands at the beginning of one. */
  readonly spaced: readonly string[];
};

function typedOf(text: string): Typed {
  const words = text.split(' ');
  return { text, words, line: `\n${text}`, whole: `\n${text}\n`, spaced: words.map((word) => ` ${word}`) };
}

/** 0 exact name · 1 name starts so · 2 a word of it starts so, or initials · 3 every typed word starts a word · 4 inside. */
function scoreEntry<T>(entry: Indexed<T>, { text, words, line, whole, spaced }: Typed): number | null {
  const isStart = entry.startLines.includes(line);
  // A name that begins with one word has that word among its starts.
  if ((isStart || words.length > 1) && entry.nameLines.includes(line))
    return entry.nameLines.includes(whole) ? 0 : 1;
  if (isStart) return 2;
  if (words.length > 1 && words.every((word) => entry.starts.some((start) => start.startsWith(word))))
    return 2.5;
  return spaced.every((word) => entry.spaced.includes(word)) ? 3 : insideOf(entry, text);
}

const insideOf = <T>({ all }: Indexed<T>, text: string): number | null =>
  text.length >= SHORTEST_INSIDE && all.includes(text) ? 4 : null;

function fuzzy<T>(index: Index<T>, text: string): { entry: Indexed<T>; score: number }[] {
  const mayBe = text.length < 3 ? [] : (index.firsts().get(text.slice(0, 1)) ?? []);
  const inOrder = mayBe
    .map((place) => index.entries[place] as Indexed<T>)
    .filter((entry) => entry.names.some((name) => hasInOrder(name, text)));
  // Three letters are too few to be misspelt into something: they must stand in a name, in their order.
  if (text.length <= 3) return inOrder.map((entry) => ({ entry, score: 5.3 }));
  const small = index.entries.length <= FUSE_LIMIT;
  const fuse = small ? index.fuse : new Fuse(candidates(index, text), fuseOptions);
  const scores = new Map(fuse.search(text).map((hit) => [hit.item, 5 + (hit.score ?? 1)]));
  for (const entry of inOrder) scores.set(entry, Math.min(scores.get(entry) ?? 9, 5.3));
  return [...scores].map(([entry, score]) => ({ entry, score }));
}

/** Of big books those that share most pairs of letters with the query, at least half of them. */
function candidates<T>(index: Index<T>, text: string): Indexed<T>[] {
  const pairs = [...new Set(pairsOf(text.replaceAll(' ', '')))];
  const need = Math.max(1, Math.floor(pairs.length / 2));
  const shared = new Uint8Array(index.entries.length);
  for (const pair of pairs)
    for (const place of index.pairs().get(pair) ?? []) shared[place] = (shared[place] ?? 0) + 1;
  const found: Indexed<T>[] = [];
  for (let count = pairs.length; count >= need && found.length < MOST_RANKED; count -= 1)
    for (
      let place = shared.indexOf(count);
      place !== -1 && found.length < MOST_RANKED;
      place = shared.indexOf(count, place + 1)
    )
      found.push(index.entries[place] as Indexed<T>);
  return found;
}

/** Whether the letters of `query` stand in `text` in this order, starting with the first. Linear. */
export function hasInOrder(text: string, query: string): boolean {
  const wanted = query.replaceAll(' ', '');
  if (text[0] !== wanted[0]) return false;
  let at = 0;
  for (const char of text) if (char === wanted[at]) at += 1;
  return at === wanted.length;
}

/** Up to three names that a folded text may be, spelt wrong. */
export function misspelt(text: string, names: readonly string[]): string[] {
  const fuse = new Fuse(
    names.map((name) => ({ name, folded: foldText(name) })),
    { keys: ['folded'], threshold: 0.4, ignoreLocation: true },
  );
  return fuse.search(text, { limit: 3 }).map(({ item }) => item.name);
}
