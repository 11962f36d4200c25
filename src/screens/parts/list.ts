// A list in a window: the chosen row always in sight, and what is hidden said in words.
import { fitText, type Line, line, piece, widthOf } from './line.ts';

export type Window = {
  readonly first: number;
  readonly count: number;
  readonly above: number;
  readonly below: number;
};

/** Which rows of a list to show in so many lines; one line at each end goes to "↑ 3 more" when needed. */
export function windowOf(total: number, cursor: number, rows: number): Window {
  if (total <= rows) return { first: 0, count: total, above: 0, below: 0 };
  const at = Math.max(0, Math.min(cursor, total - 1));
  const room = Math.max(1, rows - 2);
  let first = Math.max(0, Math.min(at - Math.floor(room / 2), total - room));
  let count = room;
  if (first <= 1) {
    first = 0;
    count = Math.max(1, rows - 1);
  } else if (first + room >= total - 1) {
    count = Math.max(1, rows - 1);
    first = total - count;
  }
  return { first, count, above: first, below: total - first - count };
}

/** The rows of a window as lines; `draw` makes one row. */
export function listLines<T>(
  items: readonly T[],
  cursor: number,
  rows: number,
  draw: (item: T, chosen: boolean, index: number) => Line,
): Line[] {
  const window = windowOf(items.length, cursor, rows);
  const shown = items
    .slice(window.first, window.first + window.count)
    .map((item, index) => draw(item, window.first + index === cursor, window.first + index));
  return [
    ...(window.above > 0 ? [line(piece(`  ↑ ${window.above} more`, 'soft'))] : []),
    ...shown,
    ...(window.below > 0 ? [line(piece(`  ↓ ${window.below} more`, 'soft'))] : []),
  ];
}

/** The width of the longest of some names. */
export const longestOf = (names: readonly string[]): number =>
  names.reduce((most, name) => Math.max(most, widthOf(name)), 0);

/** The mark in front of a row: the choice is readable without colour. */
/** A name at the head of a row: what is marked is inverse there, so that the columns beside it keep their own colours. */
export const named = (chosen: boolean, name: string, width: number): Line =>
  line(piece(fitText(`${mark(chosen)}${name}`, width), chosen ? 'chosen' : 'plain'));

export const mark = (chosen: boolean): string => (chosen ? '› ' : '  ');

/** Where the cursor goes for a key; the list does not wrap around. */
export function moveCursor(
  key: 'up' | 'down' | 'pgup' | 'pgdn' | 'home' | 'end',
  cursor: number,
  total: number,
  page: number,
): number {
  const moved = {
    up: cursor - 1,
    down: cursor + 1,
    pgup: cursor - page,
    pgdn: cursor + page,
    home: 0,
    end: total - 1,
  }[key];
  return Math.max(0, Math.min(total - 1, moved));
}

/** A list whose rows may take several lines: the marked one whole and in sight, as many around it as fit. */
export function blockLines(blocks: readonly (readonly Line[])[], cursor: number, rows: number): Line[] {
  const heightOf = (index: number): number => blocks[index]?.length ?? 0;
  const all = blocks.reduce((sum, block) => sum + block.length, 0);
  if (all <= rows) return blocks.flat();
  // A line at each end says how many more there are.
  const room = Math.max(1, rows - 2);
  const at = Math.max(0, Math.min(cursor, blocks.length - 1));
  let [first, last, used] = [at, at, heightOf(at)];
  for (let grows = true; grows; ) {
    grows = false;
    if (last + 1 < blocks.length && used + heightOf(last + 1) <= room) {
      last += 1;
      used += heightOf(last);
      grows = true;
    }
    if (first > 0 && used + heightOf(first - 1) <= room) {
      first -= 1;
      used += heightOf(first);
      grows = true;
    }
  }
  const below = blocks.length - 1 - last;
  return [
    ...(first > 0 ? [line(piece(`  ↑ ${first} more`, 'soft'))] : []),
    ...blocks
      .slice(first, last + 1)
      .flat()
      .slice(0, room),
    ...(below > 0 ? [line(piece(`  ↓ ${below} more`, 'soft'))] : []),
  ];
}
