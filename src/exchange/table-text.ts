// Plain tables for the terminal: columns by width, numbers to the right, nothing but spaces.
import stringWidth from 'string-width';
import { clean } from '../domain/text.ts';

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
