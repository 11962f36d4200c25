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
 * list says of it need not be so. Null when it is none; more than the bound when it is more.
 */
function unpackedSize(bytes: Uint8Array): number | null {
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
      sum += view.getUint16(at + 10, true) === DEFLATED ? inflated(body, MOST_UNPACKED - sum) : packed;
      at +=
        46 + view.getUint16(at + 28, true) + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
    }
    return sum;
  } catch {
    return null;
  }
}

function inflated(body: Uint8Array, most: number): number {
  try {
    return inflateRawSync(body, { maxOutputLength: Math.max(1, most) }).length;
  } catch (error) {
    if ((error as { code?: string }).code === 'ERR_BUFFER_TOO_LARGE') return most + 1;
    throw error;
  }
}
