// Plain tables for the terminal: columns by width, numbers to the right, nothing but spaces.
import stringWidth from 'string-width';
import { clean } from '../../domain/value/text.ts';

/** A column name with `>` in front is aligned to the right. */
export function layTable(columns: readonly string[], rows: readonly (readonly string[])[]): string {
  const right = columns.map((name) => name.startsWith('>'));
  const body = rows.map((row) => row.map((cell) => clean(cell) as string));
  const all = [columns.map((name) => name.replace(/^>/, '')), ...body];
  const widths = columns.map((_, index) => Math.max(...all.map((row) => stringWidth(row[index] ?? ''))));
  return all
    .map((row) =>
      columns
        .map((_, index) => {
          const cell = row[index] ?? '';
          const pad = ' '.repeat((widths[index] ?? 0) - stringWidth(cell));
          return right[index] ? pad + cell : cell + pad;
        })
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}

export const widthOfText = (text: string): number => stringWidth(text);

/** Cut (with `…`) or padded to exactly so many cells. */
export function fitCells(text: string, width: number): string {
  let [kept, used] = ['', 0];
  const all = stringWidth(text);
  for (const char of text) {
    const wide = stringWidth(char);
    if (used + wide > (all > width ? width - 1 : width)) break;
    kept += char;
    used += wide;
  }
  if (all > width) [kept, used] = [`${kept}…`, used + 1];
  return kept + ' '.repeat(Math.max(0, width - used));
}
