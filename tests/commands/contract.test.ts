// The contract of commands: shapes, exit codes, refusals that leave no trace.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { writeText } from '../../src/shell/disk/files.ts';
import { demoFile, furnished, openNight, tempFolder } from '../support/night.ts';

describe('refusals: one sentence, the right code, nothing recorded', () => {
  it.each<[number, string[]]>([
    [64, ['nonsense']],
    [64, ['pour']],
    [64, ['pour', 'lantern sour', '--nonsense']],
    [64, ['lose', '5ml', 'dry gin']],
    [64, ['house', 'nonsense', '1']],
    [64, ['log', '--last', 'x']],
    [64, ['pour', 'lantern sour', '--as', 'gift']],
    [64, ['check', 'nonsense']],
    [65, ['pour', 'lantren sour']],
    [65, ['pour', '0', 'lantern sour']],
    [65, ['pour', '-1', 'lantern sour']],
    [65, ['pour', '1000000000', 'lantern sour']],
    [65, ['pour', 'NaN', 'lantern sour']],
    [65, ['pour', '1e9', 'lantern sour']],
    [65, ['pour', 'lantern sour', '--by', 'Nobody']],
    [65, ['pour', 'lantern sour', '--with', 'vodka=20ml']],
    [65, ['pour', '45ml', 'nothing']],
    [65, ['pour', '999999 l', 'dry gin']],
    [65, ['pour', 'lantern sour', '--at', 'yesterday']],
    [65, ['lose', '0ml', 'dry gin', '--why', 'spill']],
    [65, ['lose', '-5ml', 'dry gin', '--why', 'spill']],
    [65, ['receive', '0', 'dry gin']],
    [65, ['receive', '1000000000', 'dry gin']],
    [65, ['receive', 'Infinity', 'dry gin']],
    [65, ['receive', '1', 'dry gin', '--cost', '-3']],
    [64, ['move', '1', 'dry gin', '--from', 'bar', '--to', 'bar']],
    [65, ['count', 'dry gin', 'abc']],
    [65, ['count', 'dry gin', '-0.5']],
    [65, ['count', 'nothing', '0.5']],
    [65, ['house', 'currency', 'euro']],
    [65, ['house', 'name', 'a\u001b[31mb']],
    [65, ['undo', '01920000-0000-7000-8000-000000000000']],
    [65, ['people', 'add', '\u0000']],
    [65, ['calc', 'density', '--abv', '101']],
    [65, ['calc', 'density', '--abv', '40', '--temp', '41']],
    [65, ['calc', 'weigh', '--abv', '40', '--gross', '100', '--tare', '200']],
    [65, ['calc', 'dilution', '--method', 'shake', '--abv', '60']],
    [66, ['import', '/nowhere/items.csv']],
    [66, ['restore', '/nowhere/copy.sqlite']],
    [73, ['backup', '/nowhere/copy.sqlite']],
    [73, ['export', 'items', '--out', '/nowhere/items.csv']],
  ])('%i: %j', async (exit, words) => {
    const night = await furnished();
    await night.ok('open');
    const before = night.store((store) => [...store.allEvents()].length);
    const [first = '', ...rest] = words;
    const outcome = await night.run(first, ...rest);
    expect(outcome).toMatchObject({ exit, out: '' });
    expect(outcome.err.trim().split('\n')).toHaveLength(1);
    expect(outcome.err).toMatch(/[.?]\n$/);
    expect(outcome.err.trimEnd()).not.toMatch(/\p{Cc}/u);
    expect(night.store((store) => [...store.allEvents()].length)).toBe(before);
  });

  it('pours only in an open shift, and opens only one', async () => {
    const night = await furnished();
    expect(await night.run('pour', 'lantern sour')).toMatchObject({ exit: 65 });
    await night.ok('open');
    expect(await night.run('open')).toMatchObject({ exit: 65 });
  });

  it('names what is near a wrong name', async () => {
    const night = await furnished();
    await night.ok('open');
    expect((await night.run('pour', 'lantren sour')).err).toContain('Lantern Sour');
    expect((await night.run('pour', 'lantern sour', '--by', 'Inez')).err).toContain('Ines');
    expect((await night.run('poor', 'lantern sour')).err).toContain('ullage pour');
  });
});

describe('JSON', () => {
  it('has the shapes of the contract', async () => {
    const night = await furnished();
    await night.ok('count', 'dry gin', '2.7');
    expect(Object.keys((await night.json<object[]>('items'))[0] ?? {})).toEqual([
      'item',
      'name',
      'kind',
      'unit',
      'size',
      'place',
    ]);
    expect(Object.keys((await night.json<object[]>('specs'))[0] ?? {})).toEqual([
      'spec',
      'name',
      'family',
      'left',
    ]);
    expect((await night.json<{ item: string }[]>('levels')).find(({ item }) => item === 'dry-gin')).toEqual({
      item: 'dry-gin',
      name: 'Dry gin',
      place: 'bar',
      unit: 'ml',
      expected: 1890,
      sealed: 2,
      open: 490,
      drinksLeft: 31,
    });
    expect(Object.keys((await night.json<object[]>('log'))[0] ?? {})).toEqual([
      'id',
      'kind',
      'at',
      'by',
      'text',
      'takenBack',
    ]);
    expect(await night.json('calc volume', '1.5 oz', '--in', 'ml')).toEqual({
      value: 44.36029434375,
      unit: 'ml',
    });
    const spec = await night.json<Record<string, unknown>>('spec', 'lantern sour');
    expect(Object.keys(spec)).toEqual(
      expect.arrayContaining([
        'spec',
        'name',
        'family',
        'measures',
        'volumeMl',
        'ethanolMl',
        'abvPercent',
        'dilution',
        'sugarGrams',
        'standardDrinks',
        'costMinor',
        'priceMinor',
        'pourCostPercent',
        'allergens',
        'cautions',
        'left',
      ]),
    );
    expect(spec).toMatchObject({ volumeMl: 121.8, priceMinor: 1400, allergens: ['eggs'], left: 0 });
    const weigh = await night.json<Record<string, number>>('calc weigh --abv 40 --gross 927.5 --tare 480');
    expect(weigh.volumeMl).toBeCloseTo(472.02, 1);
  });
});

describe('files', () => {
  it('come back equal: items, specs and events', async () => {
    const night = await furnished();
    await night.ok('open');
    await night.ok('pour', 'lantern sour');
    await night.ok('undo');
    const folder = tempFolder();
    const other = openNight('2026-11-20T18:00:00.000Z', 'other');
    for (const [what, name] of [
      ['items', 'i.csv'],
      ['specs', 's.txt'],
      ['events', 'e.jsonl'],
    ] as const)
      await night.ok(`export ${what} --out`, join(folder, name));
    await other.ok('import', join(folder, 'e.jsonl'));
    const plain = (books: ReturnType<typeof night.books>) =>
      JSON.stringify([
        [...books.items],
        [...books.specs],
        [...books.stock],
        [...books.people],
        [...books.settings],
      ]);
    expect(plain(other.books())).toBe(plain(night.books()));
    expect(await other.ok('import', join(folder, 'e.jsonl'))).toContain('0 events written');
    expect(await other.ok('import', join(folder, 'i.csv'), join(folder, 's.txt'))).toMatch(
      /0 items written[\s\S]*0 specs written/,
    );
    expect(await other.ok('check')).toBe('');
    const third = openNight();
    await third.ok('import', join(folder, 'i.csv'), join(folder, 's.txt'));
    expect(JSON.stringify([[...third.books().items], [...third.books().specs]])).toBe(
      JSON.stringify([[...night.books().items], [...night.books().specs]]),
    );
  });

  it('the demo files come back equal too', async () => {
    const night = openNight();
    await night.ok('import', demoFile('items.csv'), demoFile('specs.txt'));
    const folder = tempFolder();
    await night.ok('export items --out', join(folder, 'i.csv'));
    await night.ok('export specs --out', join(folder, 's.txt'));
    const again = openNight();
    await again.ok('import', join(folder, 'i.csv'), join(folder, 's.txt'));
    expect(JSON.stringify([[...again.books().items], [...again.books().specs]])).toBe(
      JSON.stringify([[...night.books().items], [...night.books().specs]]),
    );
  });

  it('starter files can be imported as they are', async () => {
    const night = openNight();
    const folder = tempFolder();
    await night.ok('export items --starter --out', join(folder, 'i.csv'));
    await night.ok('export specs --starter --out', join(folder, 's.txt'));
    await night.ok('import', join(folder, 'i.csv'), join(folder, 's.txt'));
    expect(night.books().specs.size).toBe(1);
  });

  it.each([
    ['i.csv', 'id,name\nx,y\n', 'line 1', 'kind, size'],
    ['i.csv', 'id,name,kind,size,nonsense\nx,y,z,1 l,1\n', 'line 1', 'nonsense'],
    ['i.csv', 'id,name,kind,size\nDry Gin,Gin,spirit,700 ml\n', 'line 2', 'dry-gin'],
    ['i.csv', 'id,name,kind,size\ngin,Gin,spirit,700\n', 'line 2', 'size'],
    ['i.csv', 'id,name,kind,size\ngin,Gin,spirit,0 ml\n', 'line 2', 'size'],
    ['i.csv', 'id,name,kind,size,abv\ngin,Gin,spirit,700 ml,140\n', 'line 2', 'abv'],
    ['i.csv', 'id,name,kind,size\ngin,Gin,spirit,700 ml,x,y\n', 'line 2', 'cells'],
    ['i.csv', 'id,name,kind,size\ngin,"Gin,spirit,700 ml\n', 'line', 'quote'],
    ['i.csv', 'id,name,kind,size\ngin,G\u001b[31min,spirit,700 ml\n', 'line 2', 'U+001B'],
    ['i.csv', 'id,name,kind,size\na,Gin,spirit,1 l\nb,gin,spirit,1 l\n', 'line 3', 'belongs'],
    ['s.txt', '# New\n60 ml dry gim\ndo: stir\n', 'line 2', 'Dry gin'],
    ['s.txt', '# New\ndo: stir\n', 'line 1', 'no measure'],
    ['s.txt', '# New\ncolour: red\n60 ml dry gin\n', 'line 2', 'colour'],
    ['s.txt', '60 ml dry gin\n', 'line 1', '#'],
    ['s.txt', '# New\n2 egg white\n60 ml egg white\n', 'line 3', 'pieces'],
    ['e.jsonl', '{"kind":"drink-poured"}\n', 'line 1', 'event'],
    ['e.jsonl', '{"__proto__":{"x":1}}\n', 'line 1', '__proto__'],
    ['e.jsonl', `${'['.repeat(10_000)}\n`, 'line 1', 'JSON'],
    ['e.jsonl', 'nonsense\n', 'line 1', 'JSON'],
  ])('%s with %j is refused with its line', async (name, text, line, word) => {
    const night = await furnished();
    const before = night.store((store) => [...store.allEvents()].length);
    const file = join(night.folder, name);
    writeText(file, text);
    const outcome = await night.run('import', file);
    expect(outcome.exit).toBe(65);
    expect(outcome.err).toContain(line);
    expect(outcome.err).toContain(word);
    expect(night.store((store) => [...store.allEvents()].length)).toBe(before);
    expect(Object.keys(Object.prototype)).toEqual([]);
  });

  it('lists every problem of a file, not only the first', async () => {
    const night = openNight();
    const file = join(night.folder, 'i.csv');
    writeText(file, 'id,name,kind,size,abv\nA,x,spirit,1 l,\nb,y,spirit,huge,\nc,z,spirit,1 l,abc\n');
    const { err } = await night.run('import', file);
    expect(err.match(/line [234]/g)).toEqual(['line 2', 'line 3', 'line 4']);
  });

  it('reads semicolons, CRLF and a byte-order mark, and refuses what is not UTF-8', async () => {
    const night = openNight();
    const file = join(night.folder, 'i.csv');
    writeText(file, '\ufeffid;name;kind;size;abv\r\ngin;Gin;spirit;700 ml;40,5\r\n');
    await night.ok('import', file);
    expect([...night.books().items.values()][0]).toMatchObject({ abvPercent: 40.5, size: 700_000 });
    const { writeFileSync } = await import('node:fs');
    writeFileSync(file, Buffer.from('id,name,kind,size\nx,Caf\xe9,spirit,1 l\n', 'latin1'));
    expect((await night.run('import', file)).err).toContain('UTF-8');
  });

  it('guards cells that a spreadsheet would run, and takes the guard off again', async () => {
    const night = openNight();
    const file = join(night.folder, 'i.csv');
    const out = join(night.folder, 'o.csv');
    writeText(file, `id,name,kind,size,caution\ngin,"=1+1",spirit,1 l,"'@x"\n`);
    await night.ok('import', file);
    await night.ok('export items --out', out);
    expect(readFileSync(out, 'utf8')).toContain("'=1+1");
    const again = openNight();
    await again.ok('import', out);
    expect([...again.books().items.values()]).toEqual([...night.books().items.values()]);
  });
});

describe('what a first night found', () => {
  it('ten glasses in one line scatter like ten lines of one', async () => {
    const uncertainty = async (lines: string[]): Promise<number | undefined> => {
      const night = await furnished();
      await night.ok('count', 'dry gin', '2.8');
      await night.ok('open');
      for (const line of lines) await night.ok(line, 'gin straight');
      await night.ok('count', 'dry gin', '2.2');
      return (await night.json<{ items: { item: string; uncertainty: number }[] }>('close')).items.find(
        ({ item }) => item === 'dry-gin',
      )?.uncertainty;
    };
    const one = await uncertainty(['pour 10']);
    expect(one).toBe(await uncertainty(Array.from({ length: 10 }, () => 'pour')));
    expect(one).toBeCloseTo(2 * Math.sqrt(2 * 20.2072594 ** 2 + 10 * 1.5 ** 2), 1);
  });

  it('what is worth less than the money floor is not put forward, and keeps its verdict', async () => {
    const night = await furnished();
    for (const item of ['egg white', 'dry gin'])
      await night.ok('count', item, item === 'dry gin' ? '2.0' : '12');
    await night.ok('open');
    await night.ok('count', 'egg white', '10');
    await night.ok('count', 'dry gin', '1.9');
    const order = async (): Promise<boolean> => {
      const text = await night.ok('close --all');
      return text.indexOf('Egg white') < text.indexOf('Dry gin');
    };
    expect(await night.ok('close')).toContain('may be chance, or is worth little: Dry gin, Egg white');
    expect(await night.ok('close --all')).toMatch(/Egg white .*2 missing ±0 +real/);
    expect(await order()).toBe(false);
    await night.ok('house money-floor 1');
    await night.ok('count', 'dry gin', '1.8', '--again');
    await night.ok('count', 'egg white', '0', '--again');
    expect(await order()).toBe(true);
  });

  it('missing and extra are told apart', async () => {
    const night = await furnished();
    for (const item of ['dry gin', 'straight rye']) await night.ok('count', item, '2.0');
    await night.ok('open');
    await night.ok('count', 'dry gin', '1.0');
    await night.ok('count', 'straight rye', '3.0');
    const { totals } = await night.json<{ totals: Record<string, number> }>('close');
    expect(totals).toMatchObject({
      missingCostMinor: 1890 - 2800,
      missingAloneMinor: 1890,
      extraAloneMinor: 2800,
    });
  });

  it('a beginning that fits one name is enough; one that fits two names them', async () => {
    const night = await furnished();
    await night.ok('open');
    expect(await night.ok('pour', 'lantern')).toContain('Poured 1 Lantern Sour');
    expect((await night.run('pour', 'la')).exit).toBe(65);
    expect((await night.run('open')).exit).toBe(65);
  });

  it('nothing moves from a place that does not exist', async () => {
    const night = await furnished();
    const outcome = await night.run('move 1', 'dry gin', '--from', 'venus', '--to', 'moon');
    expect(outcome).toMatchObject({ exit: 65 });
    expect(outcome.err).toContain('bar');
  });

  it('a starter file that exists is never written over', async () => {
    const night = openNight();
    const file = join(night.folder, 'i.csv');
    await night.ok('export items --starter --out', file);
    expect(await night.run('export items --starter --out', file)).toMatchObject({ exit: 73 });
  });

  it('a folder that cannot be made is refused at once, also where Node would try for ever', async () => {
    const { openBooksFile } = await import('../../src/store/file/open/open-file.ts');
    expect(openBooksFile('/proc/nowhere/books')).toMatchObject({ ok: false, problems: [{ exit: 73 }] });
  });

  it('what is read in ml takes no bare digit; pints and currencies are known', async () => {
    const night = await furnished();
    expect((await night.run('count', 'lemon juice', '1')).err).toContain('350ml');
    expect(await night.json('calc volume', '1 pint')).toEqual({ value: 473.176473, unit: 'ml' });
    expect((await night.run('house currency XYZ')).exit).toBe(65);
    expect((await night.run('house currency USD')).err).toContain('EUR already');
  });
});
