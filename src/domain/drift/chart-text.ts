// One item's history as a chart of characters: nights with their ±, the running mean with the limits it keeps by chance, the zero
// line, dates under it and a legend. Readable without colour: every sign is a different character.
import { ewmaHalfWidth } from '../standard/charts.ts';
import { dateText } from '../value/clock-date.ts';
import type { DriftChart } from './claim/season.ts';
import type { Stretch } from './drift.ts';

/** EWMA as the line people read: λ 0.2, L 2.962, average run length 500 (Lucas & Saccucci 1990). */
const LAMBDA = 0.2;
const LIMIT = 2.962;

export type ChartSize = { readonly columns: number; readonly rows: number };

/** What the figures on the axis are: so many thousandths in one, and what it is called. */
export type ChartUnit = { readonly size: number; readonly name: string };

export type ChartWish = {
  readonly stretches: readonly Stretch[];
  readonly chart: DriftChart;
  readonly unit: ChartUnit;
  /** Lines drawn in dots of a fourth of a row, where the terminal has them. */
  readonly isFine: boolean;
};

const AXIS = 7;
const fine = { night: '●', spread: '│', zero: '─', mean: '⠒', limit: '╌' } as const;
const plain = { night: '*', spread: '|', zero: '-', mean: '~', limit: '.' } as const;

type Point = {
  readonly value: number;
  readonly half: number;
  readonly mean: number;
  readonly limit: number;
};

/** The chart with its axis, its dates and its legend: at most `rows` rows of at most `columns` characters. */
export function chartRows({ stretches, chart, unit, isFine }: ChartWish, size: ChartSize): string[] {
  const width = Math.max(4, size.columns - AXIS);
  const step = Math.max(1, Math.min(6, Math.floor(width / Math.max(1, stretches.length))));
  const shown = Math.min(stretches.length, Math.floor(width / step));
  const from = stretches.length - shown;
  const points = stretches.slice(from).map((stretch, index): Point => {
    const u = (chart.deviations[from + index] ?? 0) / unit.size;
    return {
      value: stretch.missing / unit.size,
      half: 2 * u,
      mean: (chart.line[from + index] ?? 0) * u,
      limit: ewmaHalfWidth(LIMIT, u, LAMBDA, from + index + 1),
    };
  });
  const legend = legendRows(unit, isFine, size.columns);
  const dates = dateRow(stretches.slice(from), step, width, chart.onset === null ? null : chart.onset - from);
  const room = size.rows - legend.length - dates.length;
  const rows = Math.max(5, room % 2 === 1 ? room : room - 1);
  return [...plot(points, { step, width, rows, isFine }), ...dates, ...legend];
}

type Frame = {
  readonly step: number;
  readonly width: number;
  readonly rows: number;
  readonly isFine: boolean;
};

function plot(points: readonly Point[], { step, width, rows, isFine }: Frame): string[] {
  const signs = isFine ? fine : plain;
  // A single ± that is wider than all else does not flatten the chart.
  const most = Math.max(
    1e-9,
    ...points.map(({ value, half, mean, limit }) =>
      Math.max(Math.abs(value), Math.min(Math.abs(value) + half, 3 * half), Math.abs(mean), limit),
    ),
  );
  const middle = (rows - 1) / 2;
  const heightOf = (value: number): number =>
    Math.max(0, Math.min(rows - 1, middle - (value / most) * middle));
  const cells = Array.from({ length: rows }, (_, row) =>
    new Array<string>(width).fill(row === middle ? signs.zero : ' '),
  );
  const put = (row: number, column: number, sign: string): void => {
    const line = cells[row];
    if (line !== undefined && column >= 0 && column < width) line[column] = sign;
  };
  const line = (pick: (point: Point) => number, sign: string): void =>
    points.forEach((point, index) => {
      for (let between = 0; between < step; between += 1)
        put(Math.round(heightOf(pick(point))), index * step + between, sign);
    });
  line(({ limit }) => limit, signs.limit);
  line(({ limit }) => -limit, signs.limit);
  if (isFine)
    drawFine(
      points.map(({ mean }) => heightOf(mean)),
      step,
      put,
    );
  else line(({ mean }) => mean, signs.mean);
  points.forEach(({ value, half }, index) => {
    const [top, bottom] = [heightOf(value + half), heightOf(value - half)].map(Math.round) as [
      number,
      number,
    ];
    for (let row = top; row <= bottom; row += 1) put(row, index * step, signs.spread);
    put(Math.round(heightOf(value)), index * step, signs.night);
  });
  const label = (row: number): string =>
    row === 0 ? axisText(most) : row === middle ? '0' : row === rows - 1 ? axisText(-most) : '';
  return cells.map((cell, row) => `${label(row).padStart(AXIS - 1)} ${cell.join('')}`.trimEnd());
}

const axisText = (value: number): string => (Math.abs(value) < 10 ? value.toFixed(1) : value.toFixed(0));

/** Dots of a braille cell, by column and row (ISO 11548-1, as Unicode has them from U+2800 on). */
const dots = [
  [0x01, 0x02, 0x04, 0x40],
  [0x08, 0x10, 0x20, 0x80],
] as const;

/** A line through the heights, in dots of half a column and a fourth of a row. */
function drawFine(
  heights: readonly number[],
  step: number,
  put: (row: number, column: number, sign: string) => void,
): void {
  const drawn = new Map<string, { row: number; column: number; bits: number }>();
  heights.forEach((height, index) => {
    const next = heights[index + 1] ?? height;
    for (let half = 0; half < step * 2; half += 1) {
      const at = Math.round((height + ((next - height) * half) / (step * 2)) * 4 + 1.5);
      const [row, column] = [Math.floor(at / 4), index * step + Math.floor(half / 2)];
      const key = `${row} ${column}`;
      const cell = drawn.get(key) ?? { row, column, bits: 0 };
      cell.bits |= dots[half % 2 === 0 ? 0 : 1][(at % 4) as 0 | 1 | 2 | 3];
      drawn.set(key, cell);
    }
  });
  for (const { row, column, bits } of drawn.values()) put(row, column, String.fromCharCode(0x2800 + bits));
}

/** Dates where there is room for them, the last one always; and where it began. */
function dateRow(stretches: readonly Stretch[], step: number, width: number, onset: number | null): string[] {
  const row = new Array<string>(width).fill(' ');
  const write = (text: string, at: number): void => {
    [...text].forEach((char, index) => {
      if (at + index < width) row[at + index] = char;
    });
  };
  const texts = stretches.map(({ date }) => dateText(date).replace(/^\S+ /, ''));
  const wide = Math.max(0, ...texts.map((text) => text.length)) + 2;
  const lastAt = Math.max(0, Math.min((texts.length - 1) * step, width - (texts.at(-1)?.length ?? 0)));
  for (let index = 0, free = 0; index < texts.length; index += 1) {
    const at = index * step;
    if (at < free || at + wide > lastAt) continue;
    write(`${texts[index]}`, at);
    free = at + wide;
  }
  if (texts.length > 0) write(texts.at(-1) ?? '', lastAt);
  const began = onset === null || onset < 0 ? [] : [`${' '.repeat(AXIS + onset * step)}↑ began`];
  return [`${' '.repeat(AXIS)}${row.join('')}`.trimEnd(), ...began];
}

/** What each sign is, in as many rows as that takes. */
function legendRows({ name }: ChartUnit, isFine: boolean, columns: number): string[] {
  const signs = isFine ? fine : plain;
  const parts = [
    `missing in ${name}, extra below 0`,
    `${signs.night} a night`,
    `${signs.spread} its ±`,
    `${signs.mean} running mean`,
    `${signs.limit} how far that goes by chance`,
  ];
  const rows: string[] = [];
  for (const part of parts) {
    const last = rows.at(-1);
    if (last !== undefined && last.length + 3 + part.length <= columns)
      rows[rows.length - 1] = `${last}   ${part}`;
    else rows.push(part);
  }
  return rows;
}
