// Who brings what: suppliers from a file, from the Book and from a spreadsheet; the items name them.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { furnished, type Night } from '../support/night.ts';
import { roomsAt, walkTo } from '../support/rooms.ts';

const header = 'id,name,order_days,cut_off,delivery_days,lead_days,minimum,contact,retired';
function put(night: Night, name: string, text: string): string {
  const path = join(night.folder, name);
  writeFileSync(path, text);
  return path;
}

it('a suppliers file goes in whole, comes back equal, and the same again changes nothing', async () => {
  const night = await furnished();
  const file = put(
    night,
    'suppliers.csv',
    'id,name,order_days,cut_off,delivery_days,minimum,contact\nquay,Quay Drinks,Mon|Thursday,15:00,tue|fri,150.00,quay line 4\n,Pier Fruit,daily,,,,\n',
  );
  expect(await night.run('import', file)).toMatchObject({
    exit: 65,
    err: expect.stringContaining('line 3: order_days "daily" is no day'),
  });
  expect(night.books().suppliers.size).toBe(0);
  writeFileSync(
    file,
    'id,name,order_days,cut_off,delivery_days,minimum,contact\nquay,Quay Drinks,Mon|Thursday,15:00,tue|fri,150.00,quay line 4\n,Pier Fruit,,,,,\n',
  );
  expect(await night.ok('import', file)).toContain('2 suppliers written');
  expect(night.books().suppliers.get('quay' as never)).toMatchObject({
    orderDays: ['mon', 'thu'],
    cutOff: '15:00',
    deliveryDays: ['tue', 'fri'],
    minimumMinor: 15_000,
  });
  const out = await night.ok('export suppliers');
  expect(out.split('\n')[0]).toBe(header);
  expect(out).toContain('pier-fruit,Pier Fruit');
  expect(await night.ok('import', put(night, 'again.csv', out))).toContain('0 suppliers written, 2 already');
  for (const [cells, says] of [
    ['Bay,,25 o’clock,,', 'cut_off'],
    ['Bay,,,,lots', 'minimum "lots"'],
    [',mon,,,', 'name'],
  ] as const)
    expect(
      await night.run(
        'import',
        put(night, 'bad.csv', `name,order_days,cut_off,delivery_days,minimum\n${cells}\n`),
      ),
    ).toMatchObject({
      exit: 65,
      err: expect.stringContaining(says),
    });
});

it('an item names who brings it and what they call it; somebody nobody knows is refused with the nearest', async () => {
  const night = await furnished();
  await night.ok('import', put(night, 's.csv', 'name,order_days\nQuay Drinks,mon\n'));
  await night.ok('item', 'dry gin', '--write', 'supplier: quay drinks', '--write', 'code: QD-114');
  expect(night.books().items.get('dry-gin' as never)).toMatchObject({
    supplier: 'quay-drinks',
    code: 'QD-114',
  });
  const items = await night.ok('export items');
  expect(await night.ok('import', put(night, 'i.csv', items))).toContain('0 items written');
  expect(await night.run('item', 'dry gin', '--write', 'supplier: Quey Drinks')).toMatchObject({
    exit: 65,
    err: expect.stringContaining('Near it: Quay Drinks'),
  });
});

it('a spreadsheet with a column of suppliers writes those that are new, once', async () => {
  const night = await furnished();
  const file = put(
    night,
    'p.csv',
    'Product,Pack,Supplier,SKU\nQuay gin,70cl,Pier Wines,A1\nRed port,75cl,Pier Wines,A2\n',
  );
  await night.ok('import', file);
  expect([...night.books().suppliers.values()].map(({ name }) => name)).toEqual(['Pier Wines']);
  expect(night.books().items.get('red-port' as never)).toMatchObject({
    supplier: 'pier-wines',
    code: 'A2',
    kind: 'fortified',
  });
  expect(await night.ok('import', file)).toContain('0 items written, 2 already');
});

it('the Book writes one anew, and shows what changes', async () => {
  const night = await furnished();
  roomsAt({ columns: 110, rows: 30 })(night, (at, store) => {
    walkTo(at, 'book');
    at.press('supplier quay drinks', 'ctrl-n');
    expect(at.screen()).toContain('name: Quay Drinks');
    at.press('mon thu', 'down', 'end', '15:00');
    expect(at.screen()).toContain('order on mon, thu until 15:00');
    at.press(...Array.from({ length: 8 }, () => 'down'), 'end', 'enter', 'enter');
    expect(store.books().suppliers.get('quay-drinks' as never)?.orderDays).toEqual(['mon', 'thu']);
    at.press('esc', 'suppliers');
    expect(at.screen()).toContain('Quay Drinks brings 0 of what is stocked');
    at.press('ctrl-n', 'enter', 'retired: yes', 'enter', 'enter');
    expect(store.books().suppliers.get('quay-drinks' as never)?.retired).toBe(true);
  });
});
