// What to order of whom: the arithmetic of every line can be done again by hand from its own figures.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { demandOf, nightUses } from '../../src/domain/order/demand.ts';
import { SEASON } from '../../src/store/reports.ts';
import { demoFile, furnished, type Night, openNight } from '../support/night.ts';

type Line = {
  item: string;
  onHand: number;
  onOrder: number;
  meanPerDay: number;
  deviationPerDay: number;
  days: number;
  z: number;
  target: number;
  need: number;
  cases: number;
  containers: number;
  forMinimum: number;
  costMinor: number | null;
  why: string;
};
type Order = {
  supplier: string | null;
  orderBy: string;
  deliveryAt: string;
  coversUntil: string;
  costMinor: number;
  tiesUpMinor: number;
  belowMinimum: number;
  lines: Line[];
};

/** The demo on the Monday after its four weeks, with two suppliers. */
async function monday(): Promise<Night> {
  const night = openNight('2026-11-23T10:00:00.000Z', 'demo');
  await night.ok('import', demoFile('events.jsonl'));
  const file = join(night.folder, 'suppliers.csv');
  writeFileSync(
    file,
    'id,name,order_days,cut_off,delivery_days,minimum\nquay,Quay Drinks,mon|thu,15:00,tue|fri,500.00\npier,Pier Fruit,,,,\n',
  );
  await night.ok('import', file);
  for (const item of ['dry-gin', 'rye', 'sweet-vermouth', 'lager'])
    await night.ok('item', item, '--write', 'supplier: quay', '--write', `code: Q-${item}`);
  return night;
}

it('one list a supplier, whose figures follow from one another', async () => {
  const night = await monday();
  const orders = await night.json<Order[]>('order');
  const quay = orders.find(({ supplier }) => supplier === 'quay');
  expect([quay?.orderBy, quay?.deliveryAt, quay?.coversUntil]).toEqual([
    '2026-11-23',
    '2026-11-24',
    '2026-11-27',
  ]);
  const books = night.books();
  expect(quay?.lines.length).toBeGreaterThan(0);
  for (const { supplier, costMinor, tiesUpMinor, belowMinimum, lines } of orders) {
    expect(costMinor).toBe(lines.reduce((sum, line) => sum + (line.costMinor ?? 0), 0));
    const stands = [...books.items.values()]
      .filter(
        (item) =>
          (item.supplier ?? null) === supplier &&
          ![...books.specs.values()].some(({ makes }) => makes?.item === item.id),
      )
      .reduce((sum, item) => {
        const stock = [...books.stock.values()]
          .filter((one) => one.item === item.id)
          .reduce((all, { amount }) => all + amount, 0);
        return sum + (Math.max(0, stock) / item.size) * (item.costMinor ?? 0);
      }, 0);
    expect(Math.abs(tiesUpMinor - stands - costMinor)).toBeLessThan(1);
    if (supplier === 'quay') expect(belowMinimum).toBe(Math.max(0, 50_000 - costMinor));
    for (const line of lines) {
      const item = books.items.get(line.item as never);
      expect(Math.abs(line.need - Math.max(0, line.target - line.onHand - line.onOrder))).toBeLessThan(0.002);
      expect(line.containers).toBe(line.cases * (item?.caseOf ?? 1));
      expect(line.containers).toBeGreaterThanOrEqual(line.need - 0.001);
      // But for what fills an order up to its least, no case more than is needed.
      const needed = line.containers - line.forMinimum;
      expect(needed === 0 || needed - (item?.caseOf ?? 1) < line.need).toBe(true);
      expect(line.forMinimum > 0).toBe(line.why.includes('to reach the least'));
      expect(line.costMinor).toBe(item?.costMinor === null ? null : (item?.costMinor ?? 0) * line.containers);
      expect(line.why).toMatch(/→ .*; have .* → .* → /);
      expect([1.28, 1.65]).toContain(line.z);
    }
  }
});

it('the target is the demand of the covered nights and the spare, by weekday; a known day raises it', async () => {
  const night = await monday();
  const gin = async (): Promise<Line | undefined> =>
    (await night.json<Order[]>('order')).flatMap(({ lines }) => lines).find(({ item }) => item === 'dry-gin');
  // A par is a floor: without it the demand alone decides.
  expect((await gin())?.target).toBe(5);
  expect((await gin())?.why).toContain('never below its par');
  await night.ok('item', 'dry-gin', '--write', 'par: ');
  const before = await gin();
  const demand = night.store((store) =>
    demandOf(nightUses(store.shiftBooks(SEASON)), 'dry-gin' as never, new Map()),
  );
  const size = 700_000;
  const covered = ['2026-11-23', '2026-11-24', '2026-11-25', '2026-11-26'];
  const takes = covered.reduce((sum, date) => sum + (demand?.on(date) ?? 0), 0) / size;
  // Gin is counted every night and in the most poured drinks: nineteen nights in twenty.
  expect(before?.z).toBe(1.65);
  const spare = 1.65 * ((demand?.deviationOver(covered) ?? 0) / size) * Math.sqrt(4);
  expect(before?.target).toBeCloseTo(takes + spare, 3);
  await night.ok('expect', '2026-11-26', '3', 'town feast');
  const after = await gin();
  const feast = night.store((store) =>
    demandOf(nightUses(store.shiftBooks(SEASON)), 'dry-gin' as never, new Map([['2026-11-26', 3]])),
  );
  const targetOf = (of: typeof demand): number =>
    covered.reduce((sum, date) => sum + (of?.on(date) ?? 0), 0) / size +
    1.65 * ((of?.deviationOver(covered) ?? 0) / size) * Math.sqrt(4);
  // The night takes three times its own, and scatters more for it.
  expect(feast?.on('2026-11-26')).toBeCloseTo(3 * (demand?.on('2026-11-26') ?? 0), 3);
  expect(feast?.deviationOver(['2026-11-26'])).toBeGreaterThan(demand?.deviationOver(['2026-11-26']) ?? 0);
  expect(after?.target).toBeCloseTo(targetOf(feast), 3);
  // A fixed par is the target, whatever is used; it goes out and comes back in the items file.
  await night.ok('item', 'dry-gin', '--write', 'par: 9 fixed');
  expect(await gin()).toMatchObject({
    target: 9,
    why: expect.stringContaining('always brought back to its par 9'),
  });
  expect(await night.ok('export items')).toMatch(/^dry-gin,.*,9 fixed,/m);
  await night.ok('item', 'dry-gin', '--write', 'par: ');
  // As usual again: as before.
  await night.ok('expect', '2026-11-26', '1');
  expect((await gin())?.target).toBe(before?.target);
  for (const [words, says] of [
    [['26.11.', '2'], 'is no date'],
    [['2026-11-26', 'much'], 'how many times the usual'],
    [['2026-11-22', '2'], 'is over'],
  ] as const)
    expect(await night.run('expect', ...words)).toMatchObject({
      exit: 65,
      err: expect.stringContaining(says),
    });
});

it('an order that is worth too little is filled by what runs out first; one that can not be worth enough is not', async () => {
  const night = await monday();
  const quay = async () => (await night.json<Order[]>('order --supplier quay'))[0];
  const filled = await quay();
  expect(filled?.costMinor).toBeGreaterThanOrEqual(50_000);
  const cover = (line: Line): number => (line.onHand + line.onOrder + line.containers) / line.meanPerDay;
  const added = filled?.lines.filter(({ forMinimum }) => forMinimum > 0) ?? [];
  expect(added.length).toBeGreaterThan(0);
  for (const line of added) expect(cover(line)).toBeLessThanOrEqual(60);
  const file = join(night.folder, 'dear.csv');
  writeFileSync(
    file,
    'id,name,order_days,cut_off,delivery_days,minimum,contact\nquay,Quay Drinks,mon|thu,15:00,tue|fri,99000.00,\n',
  );
  await night.ok('import', file);
  const short = await quay();
  expect(short?.lines.map(({ forMinimum }) => forMinimum)).toEqual(short?.lines.map(() => 0));
  expect(short?.belowMinimum).toBe(9_900_000 - (short?.costMinor ?? 0));
});

it('what really left counts, not only what was tapped: a bottle that goes missing is ordered again', async () => {
  const night = await monday();
  const uses = night.store((store) => nightUses(store.shiftBooks(SEASON)));
  const tapped = night
    .store((store) => store.shiftBooks(SEASON))
    .flatMap(({ drawnBy }) => [...(drawnBy.get('dry-gin' as never)?.values() ?? [])])
    .reduce((a, b) => a + b, 0);
  const left = uses.reduce((sum, { used }) => sum + (used.get('dry-gin' as never) ?? 0), 0);
  // By the counts: opening, what came, less what stands.
  const counted = night.store((store) => {
    const [stock] = [...store.books().stock.values()].filter(({ item }) => item === ('dry-gin' as never));
    const { first, total, counted: last } = stock ?? { first: null, total: null, counted: null };
    return (
      (first?.mark.amount ?? 0) +
      ((total?.received ?? 0) - (first?.total.received ?? 0)) +
      (total?.movedIn ?? 0) -
      (total?.movedOut ?? 0) -
      (last?.amount ?? 0)
    );
  });
  expect(left).not.toBe(tapped);
  expect(Math.abs(left - counted) / counted).toBeLessThan(0.02);
});

it('with too few nights it falls back to par and says so; sent text and the table hold no figures of the house', async () => {
  const young = await furnished();
  const [order] = await young.json<Order[]>('order');
  expect(order?.lines[0]?.why).toContain('too few nights yet, so its par');
  // Without a par either, nothing can be said; that is not the same as nothing being short.
  for (const { id, par } of young.books().items.values())
    if (par !== null) await young.ok('item', id, '--write', 'par: ');
  for (const words of ['order', 'order --place'])
    expect(await young.ok(words)).toMatch(/Nothing can be said yet: 0 nights are sealed, 12 are needed/);
  const night = await monday();
  const text = await night.ok('order --supplier', 'Quay Drinks', '--text');
  expect(text).toMatch(/Oddtide: order for Tue 24 Nov 2026\n[\s\S]*Q-dry-gin {2}London dry gin/);
  expect(text).not.toMatch(/→|sells|EUR/);
  const file = join(night.folder, 'order.csv');
  await night.ok('order --csv', file);
  expect(readFileSync(file, 'utf8').split('\n')[0]).toBe('supplier,code,item,name,size,cases,containers');
  // Placed and written at once; a file that no disk takes stops both.
  expect((await night.run('order --place --csv', '/nowhere/order.csv')).exit).toBe(73);
  expect(await night.ok('order --open')).not.toContain('Quay Drinks');
  const sent = join(night.folder, 'sent.csv');
  await night.ok('order --place --csv', sent);
  expect(readFileSync(sent, 'utf8')).toBe(readFileSync(file, 'utf8'));
  expect(await night.run('order --supplier', 'Nobody')).toMatchObject({
    exit: 65,
    err: expect.stringContaining('Quay Drinks'),
  });
});

it('placed it is on order; received as ordered but for what is named, and what is short is asked for again', async () => {
  const night = await monday();
  const before = await night.json<Order[]>('order --supplier quay');
  const gin = before[0]?.lines.find(({ item }) => item === 'dry-gin');
  const rye = before[0]?.lines.find(({ item }) => item === 'rye');
  expect([gin?.containers, rye?.containers]).toEqual([18, 6]);
  expect(await night.ok('order --supplier quay --place')).toMatch(
    /Ordered \d+ things of Quay Drinks for Tue 24 Nov\. When it comes: ullage receive --order /,
  );
  // What is on its way is not asked for twice.
  expect((await night.json<Order[]>('order --supplier quay')).flatMap(({ lines }) => lines)).toEqual([]);
  expect(await night.run('order --place --supplier quay')).toMatchObject({
    exit: 0,
    out: expect.stringContaining('Nothing to order'),
  });
  const [open] =
    await night.json<{ order: string; lines: { item: string; containers: number }[] }[]>('order --open');
  const id = open?.order ?? '';
  night.at('2026-11-24T10:00:00.000Z');
  const stood = (item: string): number =>
    [...night.books().stock.values()]
      .filter((stock) => stock.item === (item as never))
      .reduce((sum, { amount }) => sum + amount, 0);
  const [ginBefore, ryeBefore, vodkaBefore] = ['dry-gin', 'rye', 'vodka'].map(stood);
  for (const [word, says] of [
    ['dry gin', 'is not what came'],
    ['dry gin=lots', 'is not what came'],
    ['dry gin=2@much', 'is not an amount'],
    ['figo=2', 'No item is called'],
  ] as const)
    expect((await night.run('receive --order', id, word)).err).toContain(says);
  await night.ok('house target-pour-cost 12');
  const said = await night.ok('receive --order', id, 'dry gin=4@29.00', 'vodka=2');
  expect(said).toContain('Received 4 × London dry gin 43 % at well, 29.00 each');
  expect(said).toContain('Past the target of 12 % by this price:');
  expect(stood('dry-gin') - (ginBefore ?? 0)).toBe(4 * 700_000);
  expect(stood('rye') - (ryeBefore ?? 0)).toBe(6 * 700_000);
  // What was not ordered came too.
  expect(stood('vodka') - (vodkaBefore ?? 0)).toBe(2 * 700_000);
  expect(await night.ok('order --open')).toContain('No order is open');
  expect(await night.run('receive --order', id)).toMatchObject({
    exit: 65,
    err: expect.stringContaining('No open order has that id'),
  });
  expect(await night.ok('check')).toBe('');
  // Short by two: its par asks for it again.
  await night.ok('item', 'dry-gin', '--write', 'par: 12');
  const again = (await night.json<Order[]>('order --supplier quay'))
    .flatMap(({ lines }) => lines)
    .find(({ item }) => item === 'dry-gin');
  expect(again?.need).toBeCloseTo(12 - stood('dry-gin') / 700_000, 3);
});
