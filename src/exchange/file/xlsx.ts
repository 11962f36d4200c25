// Office Open XML (ECMA-376) by a kept library. What is packed is measured before it is unpacked: a small file may hold a very large
// one. No formula is run: what the program that wrote it had worked out is read.
import { inflateRawSync } from 'node:zlib';
import readWorkbook from 'read-excel-file/universal';
import { done, type Result, refuse } from '../../domain/value/problem.ts';

/** All of what is in the file, unpacked: a list of some thousand rows takes one or two. */
const MOST_UNPACKED = 24_000_000;
const MOST_PACKED = 10_000_000;

/** Every sheet of the file; cells as text: numbers as they are, dates as dates, nothing as nothing. */
export async function xlsxSheets(bytes: Uint8Array, name: string): Promise<Result<string[][][]>> {
  const large = refuse(
    'too-large',
    `${name} holds more than ${MOST_UNPACKED / 1_000_000} MB when unpacked. Save the one sheet with the list alone, or as .csv.`,
  );
  if (bytes.length > MOST_PACKED) return large;
  const size = unpackedSize(bytes);
  if (size === null) return unreadable(name);
  if (size === 'long-cell')
    return refuse(
      'long-cell',
      `${name} holds a cell of more than ${LONGEST_TEXT} characters. A list of what is stocked has none: take it out.`,
    );
  if (size === 'far-cell')
    return refuse(
      'far-cell',
      `${name} names a row or a column beyond what a sheet has. Open it, save it anew as .xlsx or .csv, and import that.`,
    );
  if (size > MOST_UNPACKED) return large;
  for (let tries = 1; ; tries += 1) {
    try {
      const sheets = await readWorkbook(new Uint8Array(bytes).buffer);
      return done(sheets.map(({ data }) => data.map((row) => row.map(cellText))));
    } catch (error) {
      // The library cuts what it reads by the clock, and on a busy machine into more pieces than its stack can hold.
      if (!(isOverflow(error) && tries < MOST_TRIES)) return unreadable(name);
    }
  }
}

const MOST_TRIES = 5;
const isOverflow = (error: unknown): boolean => {
  const { message, cause } = error as Error & { cause?: unknown };
  return /call stack/i.test(message) || (cause instanceof Error && /call stack/i.test(cause.message));
};

const unreadable = (name: string): Result<never> =>
  refuse(
    'bad-sheet',
    `${name} can't be read as a spreadsheet. Open it, save it as .xlsx or .csv, and import that.`,
  );

function cellText(cell: unknown): string {
  if (cell === null || cell === undefined) return '';
  // 18.9 is kept as 18.899999999999999 there.
  if (typeof cell === 'number') return String(Number(cell.toFixed(6)));
  if (cell instanceof Date) return cell.toISOString().slice(0, 10);
  return String(cell).trim();
}

const END_RECORD = 0x06054b50;
const ENTRY = 0x02014b50;
const DEFLATED = 8;

/**
 * What everything in a ZIP file is unpacked (PKWARE APPNOTE 6.3, 4.3): by unpacking it, never more than the bound, because what its
 * list says of it need not be so. Null when it is none; more than the bound when it is more. A text that is longer than any cell is told
 * before the library meets it, because that takes a minute over it.
 */
function unpackedSize(bytes: Uint8Array): number | 'long-cell' | 'far-cell' | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let end = bytes.length - 22;
  while (end >= 0 && end > bytes.length - 66_000 && view.getUint32(end, true) !== END_RECORD) end -= 1;
  if (end < 0 || view.getUint32(end, true) !== END_RECORD) return null;
  let [at, sum] = [view.getUint32(end + 16, true), 0];
  try {
    for (let left = view.getUint16(end + 10, true); left > 0 && sum <= MOST_UNPACKED; left -= 1) {
      if (view.getUint32(at, true) !== ENTRY) return null;
      const [packed, offset] = [view.getUint32(at + 20, true), view.getUint32(at + 42, true)];
      const start = offset + 30 + view.getUint16(offset + 26, true) + view.getUint16(offset + 28, true);
      const body = bytes.subarray(start, start + packed);
      const unpacked =
        view.getUint16(at + 10, true) === DEFLATED ? inflated(body, MOST_UNPACKED - sum) : body;
      if (unpacked === null) return MOST_UNPACKED + 1;
      sum += unpacked.length;
      const name = Buffer.from(bytes.subarray(at + 46, at + 46 + view.getUint16(at + 28, true))).toString(
        'latin1',
      );
      if (name.endsWith('.xml') && hasLongText(unpacked)) return 'long-cell';
      if (name.endsWith('.xml') && hasFarCell(unpacked)) return 'far-cell';
      at +=
        46 + view.getUint16(at + 28, true) + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
    }
    return sum;
  } catch {
    return null;
  }
}

/** What a part unpacks to; null when that is more than the bound. */
function inflated(body: Uint8Array, most: number): Uint8Array | null {
  try {
    return inflateRawSync(body, { maxOutputLength: Math.max(1, most) });
  } catch (error) {
    if ((error as { code?: string }).code === 'ERR_BUFFER_TOO_LARGE') return null;
    throw error;
  }
}

/** What a sheet has at most: 1 048 576 rows (2^20) and 16 384 columns, XFD (from memory). */
const LAST_ROW = 1_048_576;
const COLUMN_LETTERS = 3;

/** Whether a row or a cell says of itself that it lies beyond the sheet: the library makes room for all before it. */
function hasFarCell(xml: Uint8Array): boolean {
  const text = Buffer.from(xml.buffer, xml.byteOffset, xml.byteLength).toString('latin1');
  for (const [, column = '', row = ''] of text.matchAll(
    /\s(?:r|ref)\s*=\s*["'](?:[A-Za-z]*\d*:)?([A-Za-z]*)(\d+)["']/g,
  ))
    if (column.length > COLUMN_LETTERS || Number(row) > LAST_ROW) return true;
  return false;
}

/** As long as a text of a cell can be in what spreadsheet programs write (32 767 characters; from memory). */
const LONGEST_TEXT = 32_767;
const TAG = 0x3c;

/** Whether between two tags stands more than any cell holds; a character has up to four bytes. */
function hasLongText(xml: Uint8Array): boolean {
  let from = 0;
  while (from < xml.length) {
    const next = xml.indexOf(TAG, from);
    const end = next === -1 ? xml.length : next;
    if (end - from > 4 * LONGEST_TEXT) return true;
    from = end + 1;
  }
  return false;
}
