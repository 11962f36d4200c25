// Spreadsheet files made by hand (Office Open XML, ECMA-376; ZIP, PKWARE APPNOTE), so that hostile ones can be made, too.
import { crc32, deflateRawSync } from 'node:zlib';

export type Entry = {
  readonly name: string;
  readonly data: Uint8Array;
  /** What its list says it is unpacked, when that is a lie. */
  readonly claims?: number;
};

function header(entry: Entry, packed: Uint8Array, isLocal: boolean, offset: number): Buffer {
  const name = Buffer.from(entry.name);
  const size = entry.claims ?? entry.data.length;
  const common = Buffer.alloc(26);
  common.writeUInt16LE(20, 0);
  common.writeUInt16LE(8, 4);
  common.writeUInt32LE(crc32(entry.data), 10);
  common.writeUInt32LE(packed.length, 14);
  common.writeUInt32LE(size, 18);
  common.writeUInt16LE(name.length, 22);
  if (isLocal) return Buffer.concat([Buffer.from('PK\u0003\u0004'), common, name]);
  const rest = Buffer.alloc(14);
  rest.writeUInt32LE(offset, 10);
  return Buffer.concat([Buffer.from('PK\u0001\u0002'), Buffer.from([20, 0]), common, rest, name]);
}

export function zip(entries: readonly Entry[]): Buffer {
  const parts: Buffer[] = [];
  const list: Buffer[] = [];
  let offset = 0;
  for (const entry of entries) {
    const packed = deflateRawSync(entry.data);
    const local = header(entry, packed, true, 0);
    list.push(header(entry, packed, false, offset));
    parts.push(local, packed);
    offset += local.length + packed.length;
  }
  const size = list.reduce((sum, one) => sum + one.length, 0);
  const end = Buffer.alloc(22);
  end.write('PK\u0005\u0006', 'latin1');
  end.writeUInt16LE(entries.length, 8);
  end.writeUInt16LE(entries.length, 10);
  end.writeUInt32LE(size, 12);
  end.writeUInt32LE(offset, 16);
  return Buffer.concat([...parts, ...list, end]);
}

const escaped = (text: string): string => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;');
const column = (at: number): string => String.fromCharCode(65 + at);

/** A number, a text, nothing, or a formula with what it came to. */
export type Cell = string | number | null | { readonly formula: string; readonly value: number };

const cellXml = (cell: Cell, at: string): string => {
  if (cell === null) return '';
  if (typeof cell === 'number') return `<c r="${at}"><v>${cell}</v></c>`;
  if (typeof cell === 'object') return `<c r="${at}"><f>${escaped(cell.formula)}</f><v>${cell.value}</v></c>`;
  return `<c r="${at}" t="inlineStr"><is><t>${escaped(cell)}</t></is></c>`;
};

export const sheetXml = (rows: readonly (readonly Cell[])[]): string =>
  `<?xml version="1.0"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>${rows
    .map(
      (cells, row) =>
        `<row r="${row + 1}">${cells.map((cell, at) => cellXml(cell, `${column(at)}${row + 1}`)).join('')}</row>`,
    )
    .join('')}</sheetData></worksheet>`;

/** The parts of a file with one sheet. */
export const workbook = (sheet: string | Uint8Array, more: readonly Entry[] = []): Entry[] => {
  const main = 'http://schemas.openxmlformats.org/spreadsheetml/2006/main';
  const office = 'http://schemas.openxmlformats.org/officeDocument/2006/relationships';
  const packages = 'http://schemas.openxmlformats.org/package/2006';
  const text = (name: string, xml: string): Entry => ({ name, data: Buffer.from(xml) });
  return [
    text(
      '[Content_Types].xml',
      `<?xml version="1.0"?><Types xmlns="${packages}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>`,
    ),
    text(
      '_rels/.rels',
      `<?xml version="1.0"?><Relationships xmlns="${packages}/relationships"><Relationship Id="r1" Type="${office}/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
    ),
    text(
      'xl/workbook.xml',
      `<?xml version="1.0"?><workbook xmlns="${main}" xmlns:r="${office}"><sheets><sheet name="Stock" sheetId="1" r:id="s1"/></sheets></workbook>`,
    ),
    text(
      'xl/_rels/workbook.xml.rels',
      `<?xml version="1.0"?><Relationships xmlns="${packages}/relationships"><Relationship Id="s1" Type="${office}/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
    ),
    { name: 'xl/worksheets/sheet1.xml', data: typeof sheet === 'string' ? Buffer.from(sheet) : sheet },
    ...more,
  ];
};

export const xlsx = (rows: readonly (readonly Cell[])[]): Buffer => zip(workbook(sheetXml(rows)));
