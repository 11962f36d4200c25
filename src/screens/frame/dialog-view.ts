// Pictures of the questions that stand in front of a room.

import { blank, fitText, type Line, line, piece, widthOf, wrap } from '../parts/line.ts';
import { blockLines, listLines, mark, named } from '../parts/list.ts';
import type { Size } from '../room.ts';
import { keyName } from './footer.ts';

export type AskedAll = {
  readonly title: string;
  readonly field?: { readonly text: string; readonly hint: string };
  readonly options: readonly string[];
  readonly cursor: number;
  readonly foot: string;
};

/** The end of a text that is longer than its field: what was typed last stays in sight. */
function tail(text: string, width: number): string {
  const chars = [...text];
  if (widthOf(text) <= width) return text;
  let kept = chars.slice(-width + 1);
  while (widthOf(kept.join('')) > width - 1) kept = kept.slice(1);
  return `…${kept.join('')}`;
}

/** One question: what is asked, the field if any, the options, and which keys answer. */
export function askedLines(asked: AskedAll, { columns, rows }: Size): Line[] {
  const head = wrap(asked.title, columns).map((text) => line(piece(text, 'strong')));
  const field =
    asked.field === undefined
      ? []
      : [
          line(
            piece('▸ ', 'strong'),
            tail(asked.field.text, columns - 6),
            piece(' ', 'chosen'),
            '  ',
            asked.field.hint,
          ),
        ];
  const room = rows - head.length - field.length - 3;
  const options = listLines(asked.options, asked.cursor, Math.max(1, room), (option, on) =>
    line(piece(fitText(`${mark(on)}${option}`, Math.min(columns, 76)), on ? 'chosen' : 'plain')),
  );
  return [...head, ...field, blank, ...options, blank, line(asked.foot)];
}

const noteBody = (lines: readonly string[], columns: number): Line[] =>
  lines.flatMap((text) => {
    if (text.trim() === '') return [blank];
    const indent = /^ */.exec(text)?.[0] ?? '';
    return wrap(text.trim(), columns - indent.length).map((row) => line(`${indent}${row}`));
  });

/** How many rows of a note a window shows under its title, with the foot. */
const noteRoom = (title: string, { columns, rows }: Size): number =>
  Math.max(1, rows - wrap(title, columns).length - 3);

/** The row a note can be read down to, so that its last one is in sight. */
export const lastTop = (title: string, lines: readonly string[], size: Size): number =>
  Math.max(0, noteBody(lines, size.columns).length - noteRoom(title, size));

/** Something to read, whole: a line that is too long goes on, and what does not fit is reached with the arrows. */
export function noteLines(title: string, lines: readonly string[], top: number, size: Size): Line[] {
  const body = noteBody(lines, size.columns);
  const room = noteRoom(title, size);
  const from = Math.min(top, Math.max(0, body.length - room));
  const below = body.length - from - room;
  const more = below > 0 ? `↓ ${below} more. ` : from > 0 ? '↑ goes back. ' : '';
  return [
    ...wrap(title, size.columns).map((text) => line(piece(text, 'strong'))),
    blank,
    ...body.slice(from, from + room),
    blank,
    line(`${more}Enter or Esc goes on, or just type.`),
  ];
}

export function helpLines(
  rows: readonly { readonly keys: readonly string[]; readonly label: string }[],
  cursor: number,
  filter: string,
  columns: number,
  height: number,
): Line[] {
  const head = line(
    piece('Keys', 'strong'),
    filter === '' ? '  type to filter, Enter runs the marked one, ? or Esc closes' : `  ▸ ${filter}`,
  );
  const body = blockLines(
    rows.map(({ keys, label }, index) => helpRow(keys, label, index === cursor, columns)),
    cursor,
    height - 2,
  );
  return [head, blank, ...(rows.length === 0 ? [line('No key does that. Erase a letter or two.')] : body)];
}

const KEYS = 11;

/** A key and all that is said of it, on as many lines as that takes. */
function helpRow(keys: readonly string[], label: string, on: boolean, columns: number): Line[] {
  const text = wrap(label, columns - KEYS - 3);
  return text.map((row, index) =>
    index === 0
      ? line(...named(on, keys.map(keyName).join(' '), KEYS + 2), ` ${row}`)
      : line(`${' '.repeat(KEYS + 3)}${row}`),
  );
}
