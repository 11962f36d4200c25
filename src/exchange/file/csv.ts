// CSV after RFC 4180 (2005) by a kept library, with our rules: header required, `,` or `;`, line numbers kept, cells
// that a spreadsheet would run are quoted away.
import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import { done, type Problem, type Result, refuse, refuseAll } from '../../domain/value/problem.ts';

export type CsvRow = { readonly line: number; readonly cells: ReadonlyMap<string, string> };
export type CsvTable = { readonly columns: readonly string[]; readonly rows: readonly CsvRow[] };

const LONGEST_CELL = 10_000;
const MOST_ROWS = 500_000;

/** Which of `,` and `;` separates, by the header. */
const delimiterOf = (text: string): string => {
  const header = text.slice(0, text.search(/[\r\n]|$/));
  return header.split(';').length > header.split(',').length ? ';' : ',';
};

export const csvHeader = (text: string): string[] => {
  const header = text.slice(0, text.search(/[\r\n]|$/));
  return header.split(delimiterOf(text)).map((name) => name.trim().replace(/^"|"$/g, '').toLowerCase());
};

/** Reads a table; every ragged row, over-long cell and broken quote is a problem with its line. */
export function readCsv(
  text: string,
  known: readonly string[],
  required: readonly string[],
): Result<CsvTable> {
  const columns = csvHeader(text);
  const header = checkHeader(columns, known, required);
  if (!header.ok) return header;
  const records: { record: string[]; lines: number }[] = [];
  try {
    parse(text, {
      delimiter: delimiterOf(text),
      relax_column_count: true,
      skip_empty_lines: true,
      from: 2,
      max_record_size: 1_000_000,
      on_record: (record: string[], { lines }) => {
        records.push({ record, lines });
        return null;
      },
    });
  } catch (error) {
    const { lines, code } = error as { lines?: number; code?: string };
    const isOpen = code === 'CSV_QUOTE_NOT_CLOSED';
    const why = isOpen ? 'a quote is opened and never closed' : 'the line cannot be read as CSV';
    // It runs to the end of the file; it began on the line after the last that could be read.
    const line = isOpen ? (records.at(-1)?.lines ?? 1) + 1 : lines;
    return refuseAll([
      {
        code: 'bad-csv',
        exit: 65,
        message: `Here ${why}. Close or double the quotes.`,
        ...(line === undefined ? {} : { line }),
      },
    ]);
  }
  if (records.length > MOST_ROWS)
    return refuse('too-many-rows', `More than ${MOST_ROWS} lines. Import the file in parts.`);
  return rowsOf(columns, records);
}

function checkHeader(
  columns: readonly string[],
  known: readonly string[],
  required: readonly string[],
): Result<null> {
  const missing = required.filter((name) => !columns.includes(name));
  if (missing.length > 0) {
    return refuseAll([
      {
        code: 'bad-header',
        exit: 65,
        line: 1,
        message: `The header has no column ${missing.join(', ')}. It needs ${required.join(',')}.`,
      },
    ]);
  }
  const unknown = columns.filter((name) => !known.includes(name));
  const twice = columns.filter((name, index) => columns.indexOf(name) !== index);
  const odd = unknown[0] ?? twice[0];
  if (odd === undefined) return done(null);
  const why = unknown.length > 0 ? 'is not known' : 'stands twice';
  return refuseAll([
    {
      code: 'bad-header',
      exit: 65,
      line: 1,
      message: `The column "${odd.slice(0, 40)}" ${why}. Known are ${known.join(',')}.`,
    },
  ]);
}

function rowsOf(
  columns: readonly string[],
  records: readonly { record: string[]; lines: number }[],
): Result<CsvTable> {
  const problems: Problem[] = [];
  const rows: CsvRow[] = [];
  for (const { record, lines: line } of records) {
    if (record.every((cell) => cell.trim() === '')) continue;
    if (record.length > columns.length) {
      problems.push({
        code: 'ragged',
        exit: 65,
        line,
        message: `${record.length} cells where the header has ${columns.length}. Quote cells that hold the separator.`,
      });
    } else if (record.some((cell) => cell.length > LONGEST_CELL)) {
      problems.push({
        code: 'long-cell',
        exit: 65,
        line,
        message: `A cell is longer than ${LONGEST_CELL} characters. Shorten it.`,
      });
    } else {
      rows.push({
        line,
        cells: new Map(columns.map((name, index) => [name, unguard((record[index] ?? '').trim())])),
      });
    }
  }
  return problems.length > 0 ? refuseAll(problems) : done({ columns, rows });
}

/** What a spreadsheet would take for a formula, and the guard itself so that the way back is exact (OWASP, CSV injection). */
const risky = /^[=+\-@\t\r\n']/;
const plainNumber = /^-?\d+(\.\d+)?$/;

export const guardCell = (cell: string): string =>
  risky.test(cell) && !plainNumber.test(cell) ? `'${cell}` : cell;
const unguard = (cell: string): string =>
  cell.startsWith("'") && risky.test(cell.slice(1)) ? cell.slice(1) : cell;

export function writeCsv(columns: readonly string[], rows: readonly (readonly string[])[]): string {
  return stringify([[...columns], ...rows.map((row) => row.map(guardCell))], { quoted_match: /[;']/ });
}
