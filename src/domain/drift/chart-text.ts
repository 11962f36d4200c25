// One item's history as a chart of characters: points with their ± bars, the zero line, the drawn EWMA with its limits, and
// where it began.
// Readable at 80 columns without colour: every sign is a different character.
import { ewmaHalfWidth } from '../standard/charts.ts';
import type { DriftChart } from './claim/season.ts';
import type { Stretch } from './drift.ts';

/** EWMA as the line people read: λ 0.2, L 2.962, average run length 500 (Lucas & Saccucci 1990). */
const LAMBDA = 0.2;
const LIMIT = 2.962;

export type ChartSize = { readonly columns: number; readonly rows: number };

/** Rows of the plot, top first; the axis takes 7 columns on the left. Signs: ● a night, │ its ±, ─ nothing missing, ~ the line, · its limits. */
export function chartRows(stretches: readonly Stretch[], chart: DriftChart, size: ChartSize): string[] {
  const width = Math.max(4, size.columns - 8);
  const step = Math.max(1, Math.min(3, Math.floor(width / Math.max(1, stretches.length))));
  const shown = Math.min(stretches.length, Math.floor(width / step));
  const from = stretches.length - shown;
  const points = stretches.slice(from).map((stretch, index) => {
    const u = (chart.deviations[from + index] ?? 0) / 1000;
    return { value: stretch.missing / 1000, half: 2 * u, u };
  });
  const most = Math.max(
    1,
    ...points.map(({ value, half }) => Math.max(Math.abs(value), Math.min(Math.abs(value) + half, 3 * half))),
  );
  const rows = Math.max(5, size.rows | 1);
  const middle = (rows - 1) / 2;
  const rowOf = (value: number): number =>
    Math.max(0, Math.min(rows - 1, Math.round(middle - (value / most) * middle)));
  const cells = Array.from({ length: rows }, (_, row) =>
    new Array<string>(width).fill(row === middle ? '─' : ' '),
  );
  const put = (row: number, column: number, sign: string): void => {
    const line = cells[row];
    if (line !== undefined && column < width) line[column] = sign;
  };
  points.forEach(({ value, half, u }, index) => {
    const column = index * step;
    for (let row = rowOf(value + half); row <= rowOf(value - half); row += 1) put(row, column, '│');
    const limit = ewmaHalfWidth(LIMIT, u, LAMBDA, from + index + 1);
    if (step > 1) for (const edge of [limit, -limit]) put(rowOf(edge), column + 1, '·');
    const line = (chart.line[from + index] ?? 0) * u;
    if (step > 1) put(rowOf(line), column + 1, '~');
    put(rowOf(value), column, '●');
  });
  const onset = chart.onset === null ? -1 : (chart.onset - from) * step;
  const labels = cells.map((_, row) =>
    row === 0 ? most : row === middle ? 0 : row === rows - 1 ? -most : null,
  );
  const body = cells.map(
    (line, row) =>
      `${(labels[row] === null ? '' : (labels[row] as number).toFixed(0)).padStart(6)} ${line.join('').trimEnd()}`,
  );
  const foot = onset >= 0 ? [`${' '.repeat(7 + onset)}↑ began`] : [];
  return [...body, ...foot];
}
