// Makings and their lots: inputs out, a lot in, figures that follow from what went in, dates, and what to make for a night.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { usableByItem } from '../../src/domain/ledger/books.ts';
import { booksAt } from '../../src/domain/ledger/stock/in-date.ts';
import { nightUses } from '../../src/domain/order/demand.ts';
import { kitchen } from '../support/kitchen.ts';
import type { Night } from '../support/night.ts';

type LotRow = {
  lot: string;
  item: string;
  left: number;
  amount: number;
  discardAt: string | null;
  costMinor: number | null;
  late: boolean;
  by: string | null;
};
const lots = (night: Night, ...words: string[]) => night.json<LotRow[]>('lots', ...words);
type Level = { item: string; expected: number; drinksLeft: number | null };
const expected = async (night: Night, item: string): Promise<number> =>
  (await night.json<Level[]>('levels'))
    .filter((one) => one.item === item)
    .reduce((sum, one) => sum + one.expected, 0);

describe('a making', () => {
  it('draws its inputs down and adds a lot with its date; cost, sugar and acid follow from what went in', async () => {
    const night = await kitchen();
    expect(await night.ok('make', 'White Syrup', '--by', 'Ines', '--label')).toMatch(
      /Made 1\s620 ml House syrup \(White Syrup\), good until Sat 19 Dec[\s\S]*House syrup\nmade Fri 20 Nov, Ines\nuse by Sat 19 Dec\nallergens: ask/,
    );
    expect(await expected(night, 'sugar')).toBe(4000);
    expect(await expected(night, 'house-syrup')).toBe(1620);
    const syrup = night.books().items.get('house-syrup' as never);
    // 1 000 g in 1.62 l; 1.20 for all of it, so 0.74 a litre.
    expect(syrup).toMatchObject({ sugarGramsPerLitre: 617.3, abvPercent: 0, costMinor: 74 });
    expect(await lots(night)).toMatchObject([
      { item: 'house-syrup', amount: 1620, left: 1620, costMinor: 120, late: false, by: 'ines' },
    ]);
    expect(await night.ok('check')).toBe('');
    // As measured: less came out, so each litre has more in it.
    await night.ok('make', 'house syrup', '--yield', '1500 ml');
    expect(night.books().items.get('house-syrup' as never)).toMatchObject({
      sugarGramsPerLitre: 666.7,
      costMinor: 80,
    });
    expect(await expected(night, 'house-syrup')).toBe(3120);
  });

  it('is taken back on both sides', async () => {
    const night = await kitchen();
    const before = night.books();
    await night.ok('make', 'White Syrup');
    await night.ok('undo');
    const after = night.books();
    expect([after.stock, after.lots, after.items, after.bought]).toEqual([
      before.stock,
      before.lots,
      before.items,
      before.bought,
    ]);
  });

  it('a mixture takes the earliest date of its parts, and what is past its date goes into nothing', async () => {
    const night = await kitchen();
    await night.ok('make', 'White Syrup');
    await night.ok('make', 'Squeezed Yuzu');
    await night.ok('make', 'Yuzu Cordial');
    // The juice is good for the day it was squeezed, to the end of its business day; so is what it went into.
    const made = (await lots(night)).find(({ item }) => item === 'house-cordial');
    expect(made?.discardAt).toBe('2026-11-21T06:00:00.000Z');
    expect(night.books().items.get('house-cordial' as never)).toMatchObject({ abvPercent: 0 });
    await night.ok('make', 'Squeezed Yuzu');
    night.later(24 * 60);
    expect(await night.run('make', 'Yuzu Cordial')).toMatchObject({
      exit: 65,
      err: expect.stringContaining('Too little of Fresh yuzu is in date for that.'),
    });
    const late = (await lots(night)).filter((lot) => lot.late);
    expect(late.map(({ item, left }) => [item, left])).toEqual([
      ['fresh-yuzu', 300],
      ['house-cordial', 500],
    ]);
    // It stands there, and is none of tonight's stock.
    const [level] = (await night.json<Level[]>('levels')).filter(({ item }) => item === 'fresh-yuzu');
    expect(level?.expected).toBe(300);
    for (const { lot } of late) await night.ok('discard', lot);
    expect(await lots(night, 'fresh-yuzu')).toEqual([]);
    expect(await expected(night, 'fresh-yuzu')).toBe(0);
    expect(await night.run('discard', late[0]?.lot ?? '')).toMatchObject({ exit: 65 });
    expect(await night.ok('log --last 2')).toContain('Threw away 300 ml Fresh yuzu (expired)');
    expect(await night.ok('check')).toBe('');
  });

  it('refuses what is no making, names what is meant, and is never poured', async () => {
    const night = await kitchen();
    await night.ok('open --by Ines');
    for (const [words, says] of [
      [['make', 'Lantern Sour'], 'Lantern Sour is a drink and makes nothing'],
      [['make', 'White Syrup', '--yield', '100l'], "gives about 1 620 ml, so that can't be what came out"],
      [['make', 'White Syrup', '--yield', '1ml'], "can't be what came out"],
      [['make', 'White Syrup', '--times', '0'], '1 to 100 times'],
      [['make', 'White Syrup', '--yield', 'much'], 'is not an amount'],
      [['make', 'White Syrup', '--yield', '2 each'], 'is not an amount'],
      [['pour', 'White Syrup'], 'is made, not poured'],
    ] as const)
      expect(await night.run(words[0], ...words.slice(1))).toMatchObject({
        exit: 65,
        err: expect.stringContaining(says),
      });
    expect(await night.ok('specs')).not.toContain('White Syrup');
    expect(await night.ok('export specs')).toContain('makes: 1.62 l house syrup\nkeeps: 30 days');
  });

  it('what does not keep has lots of its deliveries, and what is open has its date', async () => {
    const night = await kitchen();
    await night.ok('receive 2 cream --cost 2.10');
    night.later(24 * 60);
    await night.ok('receive 1 cream');
    const dates = (await lots(night, 'cream')).map(({ discardAt }) => discardAt);
    expect(dates).toEqual(['2026-11-25T06:00:00.000Z', '2026-11-26T06:00:00.000Z']);
    await night.ok('open --by Ines');
    await night.ok('pour 30ml fortified');
    // Fourteen days from when it was opened, that day counted: then it stands there and is no more reckoned with.
    const usable = () =>
      night.json<Level[]>('levels').then((all) => all.find(({ item }) => item === 'fortified'));
    expect((await usable())?.expected).toBe(720);
    const stock = [...night.books().stock.values()].find(({ item }) => item === ('fortified' as never));
    expect(stock?.openedAt).toBe('2026-11-21T15:05:00.000Z');
    const spare = async () =>
      (await night.json<{ item: string; left: number }[]>('out')).map(({ item }) => item);
    expect(await spare()).not.toContain('fortified');
  });

  it('the lot that is thrown away is the one that goes; what a count does not find was of the oldest', async () => {
    const night = await kitchen();
    await night.ok('make', 'Squeezed Yuzu');
    night.later(24 * 60);
    await night.ok('make', 'Squeezed Yuzu');
    night.later(5);
    await night.ok('make', 'Squeezed Yuzu');
    const left = async () => (await lots(night, 'fresh yuzu')).map((lot) => lot.left);
    expect(await left()).toEqual([300, 300, 300]);
    // One is past its date; what is used comes from the oldest that is not.
    await night.ok('open --by Ines');
    await night.ok('pour 50ml', 'fresh yuzu');
    expect(await left()).toEqual([300, 250, 300]);
    const newest = (await lots(night, 'fresh yuzu')).at(-1);
    await night.ok('discard', newest?.lot ?? '');
    expect(await left()).toEqual([300, 250]);
    await night.ok('lose 10ml fresh-yuzu --why spill');
    expect(await left()).toEqual([300, 240]);
    await night.ok('lose 10ml fresh-yuzu --why spoiled');
    expect(await left()).toEqual([290, 240]);
    await night.ok('count fresh-yuzu 300ml');
    expect(await left()).toEqual([60, 240]);
  });

  it('costs nothing by itself: what went in is worth what came out, and what is made is worth that', async () => {
    const night = await kitchen();
    await night.ok('item', 'yuzu', '--write', 'cost: 0.30');
    await night.ok('open --by Ines');
    await night.ok('make', 'White Syrup', '--times', '2');
    night.later(30);
    const cost = async () =>
      await night.json<{
        cost: { cost: number };
        purchasesMinor: number;
        stock: { item: string; averageMinor: number }[];
      }>('costs');
    const made = await cost();
    expect([made.cost.cost, made.purchasesMinor]).toEqual([0, 0]);
    expect(made.stock.find(({ item }) => item === 'house-syrup')?.averageMinor).toBe(240);
    expect(made.stock.find(({ item }) => item === 'sugar')?.averageMinor).toBe(360);
    // Half of it poured straight: that is what it costs.
    await night.ok('pour 1620ml', 'house syrup');
    expect((await cost()).cost.cost).toBe(120);
    const report = await night.json<{
      items: { item: string; made: number; prepped: number; expected: number }[];
      totals: { pouredCostMinor: number };
    }>('close');
    const row = (id: string) => report.items.find(({ item }) => item === id);
    expect([row('sugar')?.prepped, row('sugar')?.expected, row('house-syrup')?.made]).toEqual([
      2000, 3000, 3240,
    ]);
    expect(report.totals.pouredCostMinor).toBe(120);
    // Counted, nothing is missing: what went into the making is accounted for.
    night.later(30);
    await night.ok('count sugar 3+0');
    const counted = await night.json<{ items: { item: string; missing: number }[] }>('close');
    expect(counted.items.find(({ item }) => item === 'sugar')?.missing).toBe(0);
  });

  it('allergens and cautions come with what went in, and stay when the card loses them; an open part brings its date', async () => {
    const night = await kitchen();
    const file = join(night.folder, 'nog.txt');
    writeFileSync(
      file,
      '# Nog Base\nmakes: 200 ml house cordial\nkeeps: 10 days\n2 egg white\n150 ml cream\ndo: whisk\n',
    );
    await night.ok('import', file);
    await night.ok('receive 2 cream');
    night.later(10);
    await night.ok('open --by Ines');
    await night.ok('pour 30ml cream');
    night.later(10);
    await night.ok('make', 'Nog Base');
    const cordial = () => night.books().items.get('house-cordial' as never);
    expect(cordial()).toMatchObject({ allergens: ['eggs', 'milk'], caution: 'raw egg: tell the guest' });
    // Cream that was opened today is good until tomorrow; that is before its own five days and the ten of the card.
    const [lot] = await lots(night, 'house cordial');
    expect(lot?.discardAt).toBe('2026-11-22T06:00:00.000Z');
    writeFileSync(file, '# Nog Base\nmakes: 200 ml house cordial\nkeeps: 10 days\n200 ml water\n');
    await night.ok('import', file);
    await night.ok('make', 'Nog Base');
    expect(cordial()).toMatchObject({ allergens: ['eggs', 'milk'], caution: 'raw egg: tell the guest' });
  });

  it('takes the date of the bottle it is drawn from: the open one of that place, else one that is opened for it', async () => {
    const night = await kitchen();
    const file = join(night.folder, 'cup.txt');
    writeFileSync(file, '# Cup\nmakes: 200 ml house cordial\nkeeps: 10 days\n200 ml cream\n');
    await night.ok('import', file);
    await night.ok('receive 1 cream --place cellar');
    await night.ok('lose', '30 ml', 'cream', '--place', 'cellar', '--why', 'spill');
    night.later(24 * 60);
    await night.ok('receive 3 cream');
    const dates = async () => (await lots(night, 'house cordial')).map(({ discardAt }) => discardAt);
    await night.ok('make', 'Cup');
    // Opened now, not a day ago in the cellar: two days, this one counted.
    expect(await dates()).toEqual(['2026-11-23T06:00:00.000Z']);
    night.later(24 * 60);
    await night.ok('make', 'Cup');
    expect(await dates()).toEqual(['2026-11-23T06:00:00.000Z', '2026-11-23T06:00:00.000Z']);
  });

  it('what went into makings is a use of what is bought and none of what is made, and what is made is not ordered', async () => {
    const night = await kitchen();
    await night.ok('item', 'House syrup', '--write', 'par: 9');
    await night.ok('item', 'White sugar', '--write', 'par: 9');
    // One before the shift, one within.
    await night.ok('make', 'White Syrup');
    night.later(30);
    await night.ok('open --by Ines');
    await night.ok('make', 'White Syrup');
    await night.ok('pour 100ml', 'house syrup');
    night.later(60);
    await night.ok('close --seal');
    const shifts = night.store((store) => store.shiftBooks(9));
    const used = (what: 'all' | 'poured', item: string) =>
      nightUses(shifts, what)[0]?.used.get(item as never) ?? 0;
    expect([used('all', 'sugar'), used('poured', 'sugar')]).toEqual([2_000_000, 0]);
    expect([used('all', 'house-syrup'), used('poured', 'house-syrup')]).toEqual([100_000, 100_000]);
    const ordered = (await night.json<{ lines: { item: string }[] }[]>('order')).flatMap(({ lines }) =>
      lines.map(({ item }) => item),
    );
    expect(ordered).toContain('sugar');
    expect(ordered).not.toContain('house-syrup');
  });

  it('a lot of which something was thrown away stays; what is written off comes back only with its lot', async () => {
    const night = await kitchen();
    await night.ok('make', 'Squeezed Yuzu');
    night.later(1);
    await night.ok('make', 'Squeezed Yuzu');
    const [first, second] = await lots(night, 'fresh yuzu');
    await night.ok('discard', first?.lot ?? '');
    expect(await night.run('undo', first?.lot ?? '')).toMatchObject({
      exit: 65,
      err: expect.stringContaining('Some of that lot was thrown away. Take that back first.'),
    });
    // Back, then the making, then the loss can't come again by itself.
    await night.ok('undo');
    const [back] = await night.json<{ id: string }[]>('log --last 1');
    await night.ok('undo', first?.lot ?? '');
    expect(await night.run('undo', back?.id ?? '')).toMatchObject({
      exit: 65,
      err: expect.stringContaining('was taken back'),
    });
    expect((await lots(night, 'fresh yuzu')).map(({ lot, left }) => [lot, left])).toEqual([
      [second?.lot, 300],
    ]);
    // One lot of an item is meant by its name.
    await night.ok('discard', 'fresh yuzu');
    expect(await lots(night)).toEqual([]);
    expect(await night.run('discard', 'fresh yuzu')).toMatchObject({
      exit: 65,
      err: expect.stringContaining('Nothing stands of a lot'),
    });
  });

  it('what nobody knows of what went in is not known of what comes out; a weighed thing has its figures a kilogram', async () => {
    const night = await kitchen();
    const csv = join(night.folder, 'u.csv');
    const txt = join(night.folder, 'u.txt');
    writeFileSync(
      csv,
      'id,name,kind,size,abv,sugar_g_per_l\nplum,Plum,fruit,1 each,,\nhoney,Wood honey,syrup,1 kg,,\nplum-juice,Plum juice,juice,1 l,,\nhoney-syrup,Wood honey syrup,syrup,1 l,,\noleo,Oleo,syrup,1 kg,,\nlime-pulp,Limes,fruit,1 each,,\nlime-juice,Lime juice,juice,1 l,,\n',
    );
    writeFileSync(
      txt,
      '# Press\nmakes: 500 ml plum juice\n10 plum\n\n# Thin Honey\nmakes: 1 l wood honey syrup\n700 g wood honey\n500 ml water\n\n# Oleo\nmakes: 900 g oleo\n600 g white sugar\n300 ml fresh yuzu\n\n# Lime Press\nmakes: 500 ml lime juice\n17 limes\n\n# Oleo Cup\nfamily: punch\n40 ml dry gin\n30 g oleo\n25 ml lime juice\n',
    );
    await night.ok('import', csv, txt);
    type Drink = { sugarGrams: number; acidGrams: number; assumedNoSugar: string[] };
    const before = await night.json<Drink>('spec', 'Oleo Cup');
    for (const card of ['Press', 'Thin Honey', 'Oleo', 'Lime Press']) await night.ok('make', card);
    const item = (id: string) => night.books().items.get(id as never);
    expect([item('plum-juice')?.sugarGramsPerLitre, item('plum-juice')?.acidGramsPerLitre]).toEqual([
      null,
      undefined,
    ]);
    expect(item('honey-syrup')?.sugarGramsPerLitre).toBeNull();
    // 600 g and 300 ml at 16 g a litre, in 0.9 kg.
    expect(item('oleo')?.sugarGramsPerLitre).toBe(672);
    const after = await night.json<Drink>('spec', 'Oleo Cup');
    // Lime juice has its acid by the table, before and after; 30 g of oleo bring 20.2 g of sugar.
    expect([before.acidGrams, after.acidGrams]).toEqual([1.5, 1.5]);
    expect(before.assumedNoSugar).toEqual(['Oleo']);
    expect(after.assumedNoSugar).toEqual([]);
    expect(after.sugarGrams).toBeCloseTo(20.16 + 0.4, 2);
  });

  it('a strength nobody wrote is not none, on a card, in a making and after it', async () => {
    const night = await kitchen();
    const csv = join(night.folder, 'n.csv');
    const txt = join(night.folder, 'n.txt');
    writeFileSync(csv, 'id,name,kind,size\nnord,Nord,other,700 ml\nnord-batch,Nord batch,batch,700 ml\n');
    writeFileSync(
      txt,
      '# Nord Batch\nmakes: 700 ml nord batch\n500 ml nord\n200 ml water\n\n# Nord Cup\nfamily: cup\n60 ml nord\n20 ml lemon juice\n\n# Batch Cup\nfamily: cup\n60 ml nord batch\n',
    );
    await night.ok('import', csv, txt);
    expect(await night.ok('spec', 'Nord Cup')).toMatch(/strength +not known[\s\S]*no alcohol in Nord: /);
    await night.ok('make', 'Nord Batch');
    const made = night.books().items.get('nord-batch' as never);
    expect([made?.abvPercent, made?.sugarGramsPerLitre]).toEqual([null, null]);
    expect(await night.json('spec', 'Batch Cup')).toMatchObject({ assumedNoAlcohol: ['Nord batch'] });
  });

  it('a card says what it makes and is no drink; nothing goes into itself', async () => {
    const night = await kitchen();
    const card = await night.ok('spec', 'White Syrup');
    expect(card).toMatch(
      /makes 1\s620 ml House syrup, keeps 30 days\n617\.3 g\/l sugar, 0 g\/l acid\n1 l of it costs 0\.74 /,
    );
    expect(card).not.toMatch(/standard|served|volume/);
    expect(await night.json('spec', 'White Syrup')).toMatchObject({
      makes: { item: 'house-syrup', amount: 1620 },
      keeps: { many: 30, unit: 'days' },
      dilution: null,
    });
    const file = join(night.folder, 'c.txt');
    for (const [text, says] of [
      [
        '# Again\nmakes: 1 l house syrup\n500 ml house syrup\n',
        'Again would go into itself: House syrup, which goes into House syrup.',
      ],
      [
        '# Round\nmakes: 1 l house syrup\n500 ml house cordial\n',
        'Round would go into itself: House syrup, which goes into House cordial, which goes into House syrup.',
      ],
      [
        '# There\nmakes: 500 ml cream\n500 ml fortified wine\n\n# And Back\nmakes: 750 ml fortified wine\n500 ml cream\n',
        'would go into itself',
      ],
    ] as const) {
      writeFileSync(file, text);
      expect(await night.run('import', file)).toMatchObject({ exit: 65, err: expect.stringContaining(says) });
    }
  });

  it('what stood open too long is said, and thrown away by its amount', async () => {
    const night = await kitchen();
    await night.ok('receive 1 cream');
    night.later(5);
    await night.ok('open --by Ines');
    await night.ok('pour 100ml cream');
    night.later(2 * 24 * 60);
    expect(await night.ok('lots', 'cream')).toMatch(
      /400 ml Cream at fridge stands open past Sat 21 Nov: ullage lose "400 ml" cream --place "fridge" --why expired/,
    );
    expect(await night.ok('levels')).toMatch(/Cream +400 ml .*some past its date|Cream +400 ml/);
    await night.ok('lose', '400 ml', 'cream', '--place', 'fridge', '--why', 'expired');
    expect(await night.ok('lots', 'cream')).toContain('Nothing stands of a lot');
  });

  it('a list may be for another moment: what is late then, what to order then', async () => {
    const night = await kitchen();
    await night.ok('make', 'Squeezed Yuzu');
    night.later(3 * 24 * 60);
    const late = async (...words: string[]) =>
      (await lots(night, 'fresh yuzu', ...words)).map((lot) => lot.late);
    expect([await late(), await late('--at', '2026-11-20T22:00:00Z')]).toEqual([[true], [false]]);
    await night.ok('item', 'White sugar', '--write', 'par: 9');
    const [then] = await night.json<{ orderBy: string }[]>('order', '--at', '2026-11-21T10:00:00Z');
    expect(then?.orderBy).toBe('2026-11-21');
  });

  it('labels as a page', async () => {
    const night = await kitchen();
    const file = join(night.folder, 'l.html');
    await night.ok('make', 'White Syrup', '--html', file);
    const page = readFileSync(file, 'utf8');
    expect(page).toContain('<h1>House syrup</h1><p class="date">use by Sat 19 Dec</p>');
    expect(page).toContain('size:62mm 29mm');
  });
});

describe('what to make', () => {
  type Line = {
    item: string;
    need: number;
    inDate: number;
    make: number;
    times: number;
    inputs: { item: string; amount: number; have: number }[];
    why: string;
  };
  const list = (night: Night, ...words: string[]) => night.json<Line[]>('prep', ...words);

  it('with too few nights goes by par, counts what goes into other makings, and stands in the order of work', async () => {
    const night = await kitchen();
    await night.ok('item', 'House cordial', '--write', 'par: 1');
    const lines = await list(night);
    expect(lines.map(({ item, need, times }) => [item, need, times])).toEqual([
      ['fresh-yuzu', 600, 2],
      ['house-syrup', 400, 1],
      ['house-cordial', 1000, 2],
    ]);
    expect(lines[0]?.inputs).toEqual([{ item: 'yuzu', amount: 20, unit: 'each', have: 40 }]);
    expect(lines[2]?.why).toMatch(
      /too few nights yet, so its par 1\s000 ml → 1\s000 ml; in date 0 ml → 2 × 500 ml/,
    );
    const text = await night.ok('prep');
    expect(text).toMatch(/Fresh yuzu: make 2 × 300 ml\n[\s\S]*20 +Yuzu\n +1\. squeeze/);
    await night.ok('make', 'Squeezed Yuzu', '--times', '2');
    expect((await list(night))[0]).toMatchObject({ item: 'fresh-yuzu', inDate: 600, times: 0 });
    // Good for today alone: for tomorrow it is made anew.
    expect((await list(night, '--date', '2026-11-21'))[0]).toMatchObject({ inDate: 0, times: 2 });
  });

  it('a label that no disk takes is a failure that is told, after what was made; with JSON it is written, too', async () => {
    const night = await kitchen();
    const failed = await night.run('make', 'White Syrup', '--html', '/nowhere/at/all/label.html');
    expect(failed).toMatchObject({
      exit: 73,
      out: expect.stringContaining('House syrup (White Syrup)'),
      err: expect.stringContaining("label.html can't be written"),
    });
    expect(await lots(night)).toHaveLength(1);
    const file = join(night.folder, 'label.html');
    await night.json('make', 'White Syrup', '--html', file);
    expect(readFileSync(file, 'utf8')).toContain('House syrup');
  });

  it('what is of a lot and stands open is past its date once, and only what was asked for is listed', async () => {
    const night = await kitchen();
    await night.ok('receive 1 cream');
    await night.ok('open --by Ines');
    await night.ok('lose', '100 ml', 'cream', '--why', 'spill');
    night.later(10 * 24 * 60);
    const levels = await night.json<{ item: string; expected: number }[]>('levels');
    expect(levels.find(({ item }) => item === 'cream')?.expected).toBe(400);
    const at = new Date(night.world.now()).toISOString();
    const books = booksAt(night.books(), at);
    expect([books.late.get('cream' as never), usableByItem(books).get('cream' as never)]).toEqual([
      400_000, 0,
    ]);
    expect(await night.ok('lots cream')).toContain('stands open past');
    await night.ok('receive 1 cream');
    const more = booksAt(night.books(), new Date(night.world.now()).toISOString());
    expect(usableByItem(more).get('cream' as never)).toBe(500_000);
    expect(await night.ok('lots yuzu')).not.toContain('Cream');
    // The same where nothing is of a lot.
    const plain = await kitchen();
    await plain.ok('open --by Ines');
    await plain.ok('pour 50ml', 'fortified wine');
    plain.later(20 * 24 * 60);
    expect(await plain.ok('lots fortified')).toContain('stands open past');
    expect(await plain.ok('lots yuzu')).not.toContain('Fortified');
  });
});
