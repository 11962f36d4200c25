// A spreadsheet as rows of text, whatever program wrote it: comma, semicolon, tab or bar; UTF-8, UTF-16 or Windows-1252; or .xlsx.
import { parse } from 'csv-parse/sync';
import { knownHeadings } from '../../domain/sheet/match.ts';
import type { Sheet, SheetRow } from '../../domain/sheet/sheet.ts';
import { done, type Result, refuse, refuseAll } from '../../domain/value/problem.ts';
import { decodeText, LARGEST_FILE } from './read-text.ts';

export const MOST_SHEET_ROWS = 20_000;
export const MOST_SHEET_COLUMNS = 100;
const LONGEST_CELL = 1000;

const begins = (bytes: Uint8Array, ...start: number[]): boolean =>
  start.every((byte, at) => bytes[at] === byte);
const isZip = (bytes: Uint8Array): boolean => begins(bytes, 0x50, 0x4b, 3, 4);

/** The rows of the first sheet; refused in a sentence when it is too large, or nothing that can be read. */
export async function readSheet(bytes: Uint8Array, name: string): Promise<Result<Sheet>> {
  if (bytes.length > LARGEST_FILE)
    return refuse('too-large', `${name} is larger than 50 MB. Import it in parts.`);
  if (begins(bytes, 0xd0, 0xcf, 0x11, 0xe0))
    return refuse(
      'old-sheet',
      `${name} is of the old .xls kind, or has a password. Save it as .xlsx or .csv.`,
    );
  if (!isZip(bytes)) return textSheet(bytes, name);
  const { xlsxSheets } = await import('./xlsx.ts');
  const read = await xlsxSheets(bytes, name);
  if (!read.ok) return read;
  const sheets = read.value.map((rows) =>
    bounded(
      rows.map((cells, at) => ({ line: at + 1, cells })),
      [],
    ),
  );
  // A sheet of notes may stand before the list.
  const known = (sheet: Result<Sheet>): number => (sheet.ok ? knownHeadings(sheet.value) : 0);
  return sheets.reduce(
    (best, sheet) => (known(sheet) > known(best) ? sheet : best),
    sheets[0] ?? textSheet(new Uint8Array(0), name),
  );
}

/** A .csv in any layout. */
export function textSheet(bytes: Uint8Array, name: string): Result<Sheet> {
  const text = anyText(bytes, name);
  if (!text.ok) return text;
  const rows: SheetRow[] = [];
  try {
    parse(text.value.text, {
      delimiter: delimiterOf(text.value.text),
      relax_column_count: true,
      skip_empty_lines: false,
      max_record_size: 1_000_000,
      on_record: (record: string[], { lines }) => {
        if (rows.length <= MOST_SHEET_ROWS)
          rows.push({ line: lines, cells: record.map((cell) => cell.trim()) });
        return null;
      },
    });
  } catch (error) {
    const { lines, code } = error as { lines?: number; code?: string };
    const why =
      code === 'CSV_MAX_RECORD_SIZE'
        ? 'is longer than any line of a list'
        : 'has a quote that is opened and never closed, or stands in the middle';
    const line = (rows.at(-1)?.line ?? 0) + 1;
    return refuseAll([
      {
        code: 'bad-csv',
        exit: 65,
        line: Math.min(lines ?? line, line),
        message: `A line from here on ${why}. Mend it, or save the file as .xlsx.`,
      },
    ]);
  }
  return bounded(rows, text.value.notices);
}

function bounded(rows: readonly SheetRow[], notices: readonly string[]): Result<Sheet> {
  if (rows.every(({ cells }) => cells.every((cell) => cell === '')))
    return refuse('empty-sheet', 'There is nothing in it: it is empty.');
  if (rows.length > MOST_SHEET_ROWS)
    return refuse('too-many-rows', `There are more than ${MOST_SHEET_ROWS} rows. Import the file in parts.`);
  const wide = rows.find(({ cells }) => cells.length > MOST_SHEET_COLUMNS);
  const long = rows.find(({ cells }) => cells.some((cell) => cell.length > LONGEST_CELL));
  const odd = wide ?? long;
  if (odd === undefined) return done({ rows, notices });
  const why =
    odd === wide
      ? `has more than ${MOST_SHEET_COLUMNS} cells`
      : `holds a cell of more than ${LONGEST_CELL} characters`;
  return refuseAll([
    { code: 'too-large', exit: 65, line: odd.line, message: `This row ${why}. Take it out.` },
  ]);
}

/** The sign that parts the cells: the one that most of the first lines have as often as each other. */
function delimiterOf(text: string): string {
  const lines = text
    .slice(0, 20_000)
    .split(/\r\n|\r|\n/, 40)
    .filter((line) => line.trim() !== '');
  const scores = [',', ';', '\t', '|'].map((sign) => {
    const counts = lines.map((line) => line.replace(/"[^"]*"/g, '').split(sign).length - 1);
    const usual = Math.max(
      ...counts.map((count) => counts.filter((other) => other === count && count > 0).length),
      0,
    );
    return { sign, usual, most: Math.max(...counts, 0) };
  });
  scores.sort((a, b) => b.usual - a.usual || b.most - a.most);
  return scores[0]?.sign ?? ',';
}

type Decoded = { readonly text: string; readonly notices: readonly string[] };

function anyText(bytes: Uint8Array, name: string): Result<Decoded> {
  const plain = (text: string): Result<Decoded> => done({ text, notices: [] });
  if (begins(bytes, 0xff, 0xfe)) return plain(new TextDecoder('utf-16le').decode(bytes));
  if (begins(bytes, 0xfe, 0xff)) return plain(new TextDecoder('utf-16be').decode(bytes));
  const strict = decodeText(bytes, name);
  if (strict.ok) return plain(strict.value);
  if (bytes.includes(0))
    return refuse('not-text', `${name} holds bytes that are not text. Save it as .csv or .xlsx.`);
  // Lines of two encodings were pasted together: no reading of the whole is right.
  if (hasUtf8(bytes)) return strict;
  const text = new TextDecoder('windows-1252').decode(bytes);
  const sample = /\S*[\u0080-\uffff]\S*/u.exec(text)?.[0].slice(0, 40) ?? '';
  return done({
    text,
    notices: [`It is no UTF-8 and was read as Windows-1252: look whether "${sample}" is right.`],
  });
}

/** A letter in two or three bytes of UTF-8 somewhere. */
function hasUtf8(bytes: Uint8Array): boolean {
  const isTail = (byte: number | undefined): boolean => byte !== undefined && byte >= 0x80 && byte < 0xc0;
  for (let at = 0; at < bytes.length; at += 1) {
    const byte = bytes[at] ?? 0;
    if (byte >= 0xc3 && byte <= 0xdf && isTail(bytes[at + 1]) && !isTail(bytes[at + 2])) return true;
    if (byte >= 0xe0 && byte <= 0xef && isTail(bytes[at + 1]) && isTail(bytes[at + 2])) return true;
  }
  return false;
}
