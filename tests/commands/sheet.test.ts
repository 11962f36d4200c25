// A spreadsheet as somebody else laid it out: matched, previewed, taken in whole or not at all, and read the same way next time.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { furnished, type Night, openNight } from '../support/night.ts';
import { type Cell, sheetXml, workbook, xlsx, zip } from '../support/xlsx.ts';

function put(night: Night, name: string, data: string | Uint8Array): string {
  const path = join(night.folder, name);
  writeFileSync(path, data);
  return path;
}
const itemOf = (night: Night, id: string) => night.books().items.get(id as never);

const rows: readonly (readonly Cell[])[] = [
  ['Stock list, Old Pier', null, null, null, null],
  [],
  ['Product', 'Pack', 'Unit cost', 'Alc. %', 'Category'],
  ['Quay gin', '70cl', 18.9, 40, 'Spirits'],
  ['Pier tonic', '24x200ml', '0,55', null, 'Soft drinks'],
  ['WINES'],
  ['House white 75cl', null, 6.4, 12.5, null],
];

describe('what people have already', () => {
  it('an .xlsx with titles above, packs and money as people write them', async () => {
    const night = openNight();
    const file = put(night, 'stock.xlsx', xlsx(rows));
    const outcome = await night.run('import', file);
    expect([outcome.exit, outcome.out]).toEqual([0, expect.stringContaining('3 items written')]);
    expect(itemOf(night, 'quay-gin')).toMatchObject({
      size: 700_000,
      costMinor: 1890,
      abvPercent: 40,
      kind: 'spirit',
    });
    expect(itemOf(night, 'pier-tonic')).toMatchObject({
      size: 200_000,
      caseOf: 24,
      costMinor: 55,
      kind: 'mixer',
    });
    expect(itemOf(night, 'house-white')).toMatchObject({ size: 750_000, kind: 'wine', name: 'House white' });
    expect(outcome.err).toContain('line 6: only "WINES" stands here: passed over');
    expect(outcome.err).toContain('line 7: size 75cl is taken from its name');
    // The same again changes nothing.
    expect((await night.run('import', file)).out).toContain('0 items written, 3 already as they are');
  });

  it.each([
    [
      'semicolons and decimal commas',
      'Artikel;x\nProduct;Size;Cost\nQuay gin;0,7 l;18,90\nRye;70 CL;21,00\n',
    ],
    ['tabs', 'Product\tSize\tCost\nQuay gin\t70cl\t18.90\nRye\t0.7L\t21.00\n'],
    ['bars', 'Product|Size|Cost\nQuay gin|70cl|£18.90\nRye|700ml|£21\n'],
    ['quotes with the sign inside', 'Product,Size,Cost\n"Quay gin",70cl,"18,90"\n"Rye",70cl,21\n'],
    ['a unit in the heading', 'Name,Size (cl),Unit cost\nQuay gin,70,18.90\nRye,70,21.00\n'],
  ])('a .csv with %s', async (_, text) => {
    const night = openNight();
    await night.ok('house currency GBP');
    await night.ok('import', put(night, 'list.csv', text));
    expect(itemOf(night, 'quay-gin')).toMatchObject({ size: 700_000, costMinor: 1890 });
    expect(itemOf(night, 'rye')).toMatchObject({ size: 700_000, costMinor: 2100 });
  });

  it('UTF-16 as a spreadsheet saves "Unicode text", and Windows-1252, which is said', async () => {
    const night = openNight();
    const text = 'Product\tSize\nCrème de mûre\t70cl\n';
    await night.ok(
      'import',
      put(night, 'u.csv', Buffer.concat([Buffer.from([0xff, 0xfe]), Buffer.from(text, 'utf16le')])),
    );
    expect(itemOf(night, 'creme-de-mure')?.name).toBe('Crème de mûre');
    const other = openNight();
    const outcome = await other.run(
      'import',
      put(other, 'w.csv', Buffer.from(text.replace('Crème', 'Crème no'), 'latin1')),
    );
    expect([outcome.exit, outcome.err]).toEqual([
      0,
      expect.stringContaining('look whether "Crème" is right'),
    ]);
  });

  it('asks what is not certain, keeps the answer for these headings, and leaves out what is said', async () => {
    const night = openNight();
    const file = put(night, 'p.csv', 'Product,Pack,Price,Sold\nQuay gin,70cl,18.90,9\n');
    const asked = await night.run('import', file);
    expect([asked.exit, asked.err]).toEqual([65, expect.stringContaining('"Price" may be cost')]);
    expect(asked.err).toContain('--columns "cost=Price"');
    expect(night.books().items.size).toBe(0);
    await night.ok('import', file, '--columns', 'cost=Price');
    expect(itemOf(night, 'quay-gin')?.costMinor).toBe(1890);
    // Next month the same list needs no word.
    await night.ok('import', put(night, 'q.csv', 'Product,Pack,Price,Sold\nQuay gin,70cl,19.90,12\n'));
    expect(itemOf(night, 'quay-gin')?.costMinor).toBe(1990);
    await night.ok(
      'import',
      put(night, 'r.csv', 'Product,Pack,Price\nRye,70cl,30.00\n'),
      '--columns',
      'cost=',
    );
    expect(itemOf(night, 'rye')?.costMinor).toBeNull();
    for (const [columns, says] of [
      ['price=Price', 'is no column of ours'],
      ['cost=Nett', 'No column is headed "Nett"'],
    ] as const)
      expect(await night.run('import', file, '--columns', columns)).toMatchObject({
        exit: 64,
        err: expect.stringContaining(says),
      });
    // How it is read can be taken back like everything.
    const [last] = await night.json<{ id: string }[]>('log --last 1');
    await night.ok('undo', last?.id ?? '');
    expect(night.books().sheets.size).toBe(1);
  });

  it('the cost of a case is asked about, said by its heading, and told when it is rounded', async () => {
    const night = openNight();
    const packs = 'Product,Pack,Cost\nCopper gin,6x70cl,96.00\nAmber ale,12x330ml,15.65\nRum,70cl,20.00\n';
    const file = put(night, 'c.csv', packs);
    const asked = await night.run('import', file);
    expect([asked.exit, asked.err]).toEqual([
      65,
      expect.stringContaining('"Cost" may be cost, of one, or case_cost, of a case (line 2 is one)'),
    ]);
    await night.ok('import', file, '--columns', 'cost=Cost');
    expect(itemOf(night, 'copper-gin')).toMatchObject({ costMinor: 9600, caseOf: 6 });
    const other = openNight();
    const said = await other.run('import', put(other, 'd.csv', packs.replace('Cost', 'Case price')));
    expect(itemOf(other, 'copper-gin')).toMatchObject({ costMinor: 1600, caseOf: 6 });
    expect([itemOf(other, 'amber-ale')?.costMinor, itemOf(other, 'rum')?.costMinor]).toEqual([130, 2000]);
    expect(said.err).toContain('line 3: a case of 12 at 15.65 is 1.30 each, rounded');
  });

  it('a cost of one beside the price of a case stands, and is held against it; without a number nothing is made of it', async () => {
    const both =
      'Artikel;Inhalt;VE;Cost;Case price\nHarbour gin;70cl;6;18,50;111,00\nWhite rum;70cl;6;17,00;99,00\nMezcal;70cl;;26,00;156,00\nTequila;70cl;6;;132,00\n';
    const night = openNight();
    const said = await night.run('import', put(night, 'b.csv', both));
    expect(said.exit).toBe(0);
    expect(
      ['harbour-gin', 'white-rum', 'mezcal', 'tequila'].map((id) => itemOf(night, id)?.costMinor),
    ).toEqual([1850, 1700, 2600, 2200]);
    expect(said.err).toContain(
      'line 3: 6 at 17.00 are 102.00, and the case says 99.00: the cost of one is taken',
    );
    expect(said.err).not.toContain('line 2: 6');
    // Said by hand it is the same, and the price of a case alone is no price of one.
    const other = openNight();
    await other.ok('import', put(other, 'h.csv', both), '--columns', 'cost=Cost');
    expect(itemOf(other, 'harbour-gin')?.costMinor).toBe(1850);
    const alone = openNight();
    const doubt = await alone.run(
      'import',
      put(alone, 'a.csv', 'Product,Size,Case price\nWhite rum,70cl,102.00\n'),
    );
    expect([itemOf(alone, 'white-rum')?.costMinor, doubt.err]).toEqual([
      null,
      expect.stringContaining('nothing says how many are in the case at 102.00'),
    ]);
  });

  it('two sizes of what is ticked already: the one that stands keeps its name, whichever comes first', async () => {
    for (const rows of ['Dry gin,70cl\nDry gin,1 l\n', 'Dry gin,1 l\nDry gin,700 ml\n']) {
      const night = await furnished();
      await night.ok('import', put(night, 't.csv', `Product,Size\n${rows}`));
      expect([itemOf(night, 'dry-gin')?.size, itemOf(night, 'dry-gin-1-l')?.size]).toEqual([
        700_000, 1_000_000,
      ]);
      expect(itemOf(night, 'dry-gin-1-l')?.also).toEqual([]);
    }
  });

  it('says what it leaves out; sums are passed over, one thing in two sizes is two, a bare number is said', async () => {
    const night = openNight();
    const outcome = await night.run(
      'import',
      put(
        night,
        'e.csv',
        'Artikel;Inhalt;EK netto;Regal\nQuay gin;700;18,90;A\nQuay gin;50cl;14,00;A\nRum;0,7;20,00;B\nSumme;;52,90;\n',
      ),
    );
    expect([outcome.exit, [...night.books().items.keys()]]).toEqual([
      0,
      ['quay-gin', 'quay-gin-50cl', 'rum'],
    ]);
    expect([itemOf(night, 'quay-gin')?.size, itemOf(night, 'rum')?.size]).toEqual([700_000, 700_000]);
    for (const part of [
      'left out: Regal',
      '"Summe" looks like a sum',
      'stands in two sizes',
      'size 700 is read as 700 ml',
      'size 0,7 is read as 0,7 l',
    ])
      expect(outcome.err).toContain(part);
  });

  it('finds the list on whichever sheet of the file it stands', async () => {
    const night = openNight();
    const two = workbook(sheetXml([['Notes'], ['call the pier on Monday']])).map((entry) =>
      entry.name === 'xl/workbook.xml'
        ? {
            ...entry,
            data: Buffer.from(
              Buffer.from(entry.data)
                .toString()
                .replace('</sheets>', '<sheet name="List" sheetId="2" r:id="s2"/></sheets>'),
            ),
          }
        : entry.name === 'xl/_rels/workbook.xml.rels'
          ? {
              ...entry,
              data: Buffer.from(
                Buffer.from(entry.data)
                  .toString()
                  .replace(
                    '</Relationships>',
                    '<Relationship Id="s2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet2.xml"/></Relationships>',
                  ),
              ),
            }
          : entry,
    );
    await night.ok(
      'import',
      put(
        night,
        'two.xlsx',
        zip([...two, { name: 'xl/worksheets/sheet2.xml', data: Buffer.from(sheetXml(rows)) }]),
      ),
    );
    expect(itemOf(night, 'quay-gin')?.costMinor).toBe(1890);
  });

  it('a preview says what is new, changed and the same, with its line, and records nothing', async () => {
    const night = await furnished();
    const before = await night.ok('log --last 1 --json');
    const file = put(
      night,
      'p.csv',
      'Product,Pack,Cost\nDry gin,700 ml,19.50\nStraight rye,70cl,\nPlum liqueur,50cl,14\n',
    );
    const said = await night.json<Record<string, unknown>>('import', file, '--preview');
    expect(said).toMatchObject({
      rows: 3,
      new: 1,
      changed: [{ line: 2, what: 'Dry gin: cost', from: '18.90', to: '19.50' }],
      same: 1,
      doubts: [{ line: 4, text: 'no kind is said; taken as liqueur' }],
    });
    expect(await night.ok('log --last 1 --json')).toBe(before);
  });

  it('whole or not at all: every line that can not be read is named', async () => {
    const night = openNight();
    const outcome = await night.run(
      'import',
      put(
        night,
        'b.csv',
        'Product,Pack,Cost\nQuay gin,70cl,18.90\nRye,,20\nRum,large,abc\nQuay gin,70cl,20\n',
      ),
    );
    expect(outcome.exit).toBe(65);
    for (const part of ['line 3: size of Rye is missing', 'line 4: ', 'line 5: '])
      expect(outcome.err).toContain(part);
    expect(night.books().items.size).toBe(0);
  });

  it('what our own export writes comes back equal through a spreadsheet', async () => {
    const night = await furnished();
    const items = await night.ok('export items');
    const [header = '', ...lines] = items.trim().split('\n');
    const cells = [header, ...lines].map((line) =>
      [...line.matchAll(/("(?:[^"]|"")*"|[^,]*)(?:,|$)/g)]
        .map(([, cell = '']) => cell.replace(/^"|"$/g, '').replace(/""/g, '"').replace(/^'/, ''))
        .slice(0, header.split(',').length),
    );
    const other = await furnished();
    await other.ok('import', put(other, 'x.xlsx', xlsx(cells)));
    expect(await other.ok('export items')).toBe(items);
  });
});

const farCell = (row: string): Buffer =>
  zip(workbook(sheetXml([['Product', 'Size']]).replace('</sheetData>', `${row}</sheetData>`)));

describe('hostile spreadsheets are refused in a sentence', () => {
  const refusals: readonly (readonly [string, () => Uint8Array, string])[] = [
    ['a bomb that says what it is', () => zip(workbook(Buffer.alloc(200_000_000, 32))), 'MB when unpacked'],
    [
      'a bomb that lies',
      () =>
        zip(
          workbook(sheetXml(rows), [
            { name: 'xl/sharedStrings.xml', data: Buffer.alloc(200_000_000, 32), claims: 1000 },
          ]),
        ),
      'MB when unpacked',
    ],
    [
      'a million rows',
      () => zip(workbook(sheetXml(Array.from({ length: 1_000_000 }, () => [1])))),
      'MB when unpacked',
    ],
    [
      'fifty thousand rows',
      () => xlsx(Array.from({ length: 50_000 }, (_, at) => [`Gin ${at}`])),
      'more than 20000 rows',
    ],
    [
      'a cell of ten million letters',
      () =>
        xlsx([
          ['Product', 'Size'],
          ['x'.repeat(10_000_000), '70cl'],
        ]),
      'a cell of more than',
    ],
    [
      'a row beyond the sheet',
      () => farCell('<row r="99999999999999"><c r="A2"><v>1</v></c></row>'),
      'beyond what a sheet has',
    ],
    [
      'a last row far away',
      () => farCell('<row r="5000000"><c r="A5000000"><v>1</v></c></row>'),
      'beyond what a sheet has',
    ],
    [
      'a column beyond the sheet',
      () => farCell("<row r='2'><c r='ZZZZ2'><v>1</v></c></row>"),
      'beyond what a sheet has',
    ],
    ['a torn file', () => xlsx(rows).subarray(0, 400), "can't be read"],
    [
      'a file of another kind in a ZIP',
      () => zip([{ name: 'a.txt', data: Buffer.from('x') }]),
      "can't be read",
    ],
    ['the old kind', () => Buffer.from([0xd0, 0xcf, 0x11, 0xe0, 1, 2, 3]), 'Save it as .xlsx or .csv'],
    ['nothing', () => new Uint8Array(0), 'it is empty'],
    ['bytes', () => Buffer.from(Array.from({ length: 500 }, (_, at) => (at * 37) % 256)), 'not text'],
  ];
  it.each(refusals)(
    '%s',
    async (_, make, says) => {
      const night = openNight();
      const file = put(night, 'h.xlsx', make());
      const before = process.memoryUsage().rss;
      const outcome = await night.run('import', file);
      expect([outcome.exit, outcome.err]).toEqual([65, expect.stringContaining(says)]);
      expect(outcome.err.trim().split('\n')).toHaveLength(1);
      expect(night.books().last).toBeNull();
      // What the test itself made is in there, too.
      expect(process.memoryUsage().rss - before).toBeLessThan(400_000_000);
    },
    30_000,
  );

  it('a formula is not run: what it came to is read, and text that looks like one stays text', async () => {
    const night = openNight();
    const file = put(
      night,
      'f.xlsx',
      xlsx([
        ['Product', 'Size', 'Cost'],
        ['=HYPERLINK("x")', '70cl', { formula: '1+1', value: 18.9 }],
      ]),
    );
    await night.ok('import', file);
    const [item] = [...night.books().items.values()];
    expect(item).toMatchObject({ name: '=HYPERLINK("x")', costMinor: 1890 });
    // On its way out it is guarded again.
    expect(await night.ok('export items')).toContain(`'=HYPERLINK`);
  });
});
