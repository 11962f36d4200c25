// A line of the screen as data: pieces of text with a style. Views are made of these and tested as plain text.
import stringWidth from 'string-width';
import { clean } from '../../domain/value/text.ts';

/** strong: bold · chosen: inverse · low, missing: worth a look · good · soft: of second order, never needed to understand. */
export type Style = 'plain' | 'strong' | 'chosen' | 'warn' | 'bad' | 'good' | 'soft' | 'under';
export type Piece = { readonly text: string; readonly style: Style };
export type Line = readonly Piece[];

export const piece = (text: string, style: Style = 'plain'): Piece => ({ text, style });
export const line = (...parts: readonly (string | Piece)[]): Line =>
  parts.map((part) => (typeof part === 'string' ? piece(part) : part));
export const blank: Line = [];

export const plainText = (content: Line): string => content.map((part) => part.text).join('');

/** Characters one cell wide that our own screens use all the time: Latin-1, bars, arrows, marks. */
const narrow =
  /^[\x20-\x7e\u00a1-\u00ac\u00ae-\u00ff\u2013\u2026\u203a\u203c\u2190-\u2193\u2212\u2580-\u259f\u25b8\u2713\u2717]*$/;
const widths = new Map<string, number>();
const MOST_WIDTHS = 4000;

/** Width in terminal cells. Asked for every piece of every frame, so plain text is not measured and the rest is kept. */
export function widthOf(text: string): number {
  if (narrow.test(text)) return text.length;
  const known = widths.get(text);
  if (known !== undefined) return known;
  const width = stringWidth(text);
  if (widths.size >= MOST_WIDTHS) widths.clear();
  widths.set(text, width);
  return width;
}

const graphemes = new Intl.Segmenter(undefined, { granularity: 'grapheme' });

/** Text made safe and cut to a width, with `…` where something was cut. */
export function cut(text: string, width: number): string {
  const safe = clean(text);
  if (width <= 0) return '';
  if (widthOf(safe) <= width) return safe;
  if (narrow.test(safe)) return `${safe.slice(0, width - 1)}…`;
  let [kept, used] = ['', 0];
  for (const { segment } of graphemes.segment(safe)) {
    const wide = widthOf(segment);
    if (used + wide > width - 1) break;
    kept += segment;
    used += wide;
  }
  return `${kept}…`;
}

/** Cut or padded to exactly a width. */
export function fitText(text: string, width: number, align: 'left' | 'right' = 'left'): string {
  const short = cut(text, width);
  const pad = ' '.repeat(Math.max(0, width - widthOf(short)));
  return align === 'left' ? short + pad : pad + short;
}

export const lineWidth = (content: Line): number =>
  content.reduce((sum, part) => sum + widthOf(part.text), 0);

/** A line made safe and cut or padded to exactly a width; styles kept. */
export function fitLine(content: Line, width: number): Line {
  const out: Piece[] = [];
  let used = 0;
  for (const part of content) {
    // The last door before the screen: nothing passes it uncleaned, wherever it came from.
    const text = clean(part.text);
    const wide = widthOf(text);
    if (used + wide <= width) {
      out.push(text === part.text ? part : { text, style: part.style });
      used += wide;
      continue;
    }
    const rest = cut(text, width - used);
    out.push({ text: rest, style: part.style });
    used += widthOf(rest);
    break;
  }
  if (used < width) out.push(piece(' '.repeat(width - used)));
  return out;
}

/** Two columns of lines side by side, the left one exactly `left` wide. */
export function besides(left: readonly Line[], right: readonly Line[], leftWidth: number, gap = 2): Line[] {
  const rows = Math.max(left.length, right.length);
  return Array.from({ length: rows }, (_, row) => [
    ...fitLine(left[row] ?? blank, leftWidth),
    piece(' '.repeat(gap)),
    ...(right[row] ?? blank),
  ]);
}

/** Words wrapped to a width; a word longer than the width is cut. */
export function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let current = '';
  for (const word of clean(text).split(' ')) {
    const next = current === '' ? word : `${current} ${word}`;
    if (widthOf(next) <= width) current = next;
    else {
      if (current !== '') lines.push(current);
      current = cut(word, width);
    }
  }
  return current === '' ? lines : [...lines, current];
}
