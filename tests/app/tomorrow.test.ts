// Prep and Order by keys: making, throwing away, ordering by hand and by the list, and taking in what came.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { kitchen } from '../support/kitchen.ts';
import type { Night } from '../support/night.ts';
import { type Rooms, roomsAt, walkTo } from '../support/rooms.ts';

const within = roomsAt({ columns: 80, rows: 24 });
const flat = (at: Rooms): string => at.screen().replace(/\s+/g, ' ');
const stands = (night: Night, item: string): number =>
  [...night.books().stock.values()]
    .filter((stock) => stock.item === (item as never))
    .reduce((sum, { amount }) => sum + amount, 0) / 1000;

it('makes what the list says, so often or as it came out; ^U takes it back; what can not be read stays in its field', async () => {
  const night = await kitchen();
  await night.ok('item', 'House cordial', '--write', 'par: 1');
  within(night, (at) => {
    walkTo(at, 'prep');
    expect(flat(at)).toContain('Fresh yuzu 2 × 300 ml 600 ml 0 ml Fri 20 Nov');
    at.press('enter');
    // Inputs stand scaled, in the order of work.
    expect(flat(at)).toMatch(/20 Yuzu 1\. squeeze 2\. strain/);
    at.press('enter');
    expect(flat(at)).toContain('Made 600 ml Fresh yuzu (Squeezed Yuzu), good until Fri 20 Nov');
    expect(flat(at)).toContain('Fresh yuzu enough');
    at.press('ctrl-u');
    expect(flat(at)).toContain('Fresh yuzu 2 × 300 ml');
    at.press('enter', '0', 'enter');
    expect(flat(at)).toContain('is neither how often nor what came out');
    // Typing begins anew; three times, and what that gave.
    at.press('3 = 870 ml');
    expect(flat(at)).toContain('30 Yuzu');
    at.press('enter');
    expect(at.state().dialog).toBeNull();
  });
  expect([stands(night, 'fresh-yuzu'), stands(night, 'yuzu')]).toEqual([870, 10]);
  within(night, (at) => {
    walkTo(at, 'prep');
    at.press('cordial', 'enter', '450 ml', 'enter');
    expect(flat(at)).toContain('Made 450 ml House cordial');
  });
});

it('what is past its date stands first, is thrown away by y, and another night is a word away', async () => {
  const night = await kitchen();
  const card = join(night.folder, 'rickey.txt');
  writeFileSync(card, '# Yuzu Rickey\nfamily: highball\n40 ml dry gin\n20 ml fresh yuzu\ndo: build\n');
  await night.ok('import', card);
  await night.ok('make', 'Squeezed Yuzu');
  night.later(24 * 60);
  within(night, (at) => {
    walkTo(at, 'levels');
    at.press('fresh yuzu');
    expect(at.screen()).toMatch(/Fresh yuzu.*300 ml.*late/);
    walkTo(at, 'ready');
    at.press('fresh yuzu');
    expect(at.screen()).toMatch(/Fresh yuzu.*past date/);
    walkTo(at, 'pour');
    at.press('yuzu rickey');
    expect(at.screen()).toMatch(/20 ml +Fresh yuzu.*late/);
    at.press('esc');
    walkTo(at, 'prep');
    expect(flat(at)).toContain('Fresh yuzu throw away 300 ml past its date');
    at.press('enter');
    expect(flat(at)).toContain(
      'Throw away 300 ml Fresh yuzu, good until Fri 20 Nov? It is recorded as lost, expired.',
    );
    // Enter alone throws nothing away; an arrow and Enter do, as y does.
    at.press('enter');
    expect(at.state().dialog).toBeNull();
    expect(flat(at)).toContain('Fresh yuzu throw away');
    at.press('enter', 'n', 'enter', 'down', 'enter');
    expect(flat(at)).toContain('Threw away 300 ml Fresh yuzu');
    expect(flat(at)).not.toContain('past its date');
    // A day and Enter is a look at that night, no making; its name is found by the card's, too.
    at.press('wed', 'enter');
    expect([at.state().dialog, flat(at).includes('For Wed 25 Nov')]).toEqual([null, true]);
    at.press('squeezed');
    expect(at.screen()).toContain('› Fresh yuzu');
    at.press('esc', 'esc');
    expect(flat(at)).not.toContain('For Wed 25 Nov');
    for (const [typed, shown] of [
      ['tomorrow', 'Sun 22 Nov'],
      ['wed', 'Wed 25 Nov'],
      ['2026-12-31', 'Thu 31 Dec'],
    ] as const) {
      at.press('esc', typed);
      expect(flat(at)).toContain(`For ${shown}`);
      expect(at.screen()).toContain('House syrup');
    }
    // A night that will not be as usual is said in the same field.
    at.press('esc', 'sat 1,8 town feast', 'ctrl-n');
    expect(flat(at)).toContain('Expected Sat 21 Nov 2026 at 1.8 of the usual (town feast)');
    at.press('esc');
    expect(flat(at)).toContain('for Sat 21 Nov, 1.8 × the usual (town feast)');
    at.press('sat 101', 'ctrl-n');
    expect(flat(at)).toContain('is not how many times the usual');
  });
  expect(stands(night, 'fresh-yuzu')).toBe(0);
  expect(await night.ok('check')).toBe('');
});

it('a card that makes something is written in the room, and what is no line of one says so', async () => {
  const night = await kitchen();
  within(night, (at, store) => {
    walkTo(at, 'prep');
    at.press('thick syrup', 'ctrl-n');
    const dialog = at.state().dialog;
    expect(dialog?.kind === 'write' && dialog.text).toBe('# Thick Syrup\nmakes: \nkeeps: \n');
    at.press('1 l hause syrup');
    expect(flat(at)).toContain('No item is called "hause syrup". Near it: House syrup');
    at.press(...Array.from({ length: 11 }, () => 'backspace'), 'house syrup', 'enter', '3 moons');
    expect(flat(at)).toContain('keeps "3 moons" is no time. Write it as 30 days or 12 hours.');
    at.press(
      ...Array.from({ length: 7 }, () => 'backspace'),
      '21 days',
      'enter',
      '900 g white sugar',
      'enter',
      '450 ml water',
      'enter',
      'enter',
    );
    expect(store.books().specs.get('thick-syrup' as never)).toMatchObject({
      makes: { item: 'house-syrup', amount: 1_000_000 },
      keeps: { many: 21, unit: 'days' },
    });
  });
});

it('a card put aside in Prep comes back, by an empty field or its name; what is wrong with all of it is not mended in its name', async () => {
  const night = await kitchen();
  within(night, (at) => {
    walkTo(at, 'prep');
    at.press('thick syrup', 'ctrl-n', '1 l house syrup', 'esc');
    at.press('ctrl-n');
    const text = () => {
      const dialog = at.state().dialog;
      return dialog?.kind === 'write' ? dialog.text : '';
    };
    expect(text()).toContain('makes: 1 l house syrup');
    at.press('esc', 'esc', 'ctrl-n');
    expect(text()).toContain('makes: 1 l house syrup');
    at.press('esc');
    // A new drink: Enter on nothing but a name says what is missing, and what is typed next is no part of the name.
    walkTo(at, 'pour');
    at.press('esc', 'quay fizz', 'ctrl-n', 'enter', 'price: 11.50');
    expect(text()).toMatch(/^# Quay Fizz\n[\s\S]*price: 11\.50$/);
  });
});

it('for another night the dates are of that night, and what is good to its end is in date for it', async () => {
  const night = await kitchen();
  await night.ok('item', 'Fresh yuzu', '--write', 'par: 0.3');
  // Nights until six: the last hour anybody pours in ends with the business day.
  for (let at = 0; at < 7; at += 1) {
    await night.ok('open --by Ines');
    night.later(14 * 60 + 10);
    await night.ok('pour 20ml', 'dry gin');
    night.later(2);
    await night.ok('close --seal');
    night.later(9 * 60 + 48);
  }
  await night.ok('make', 'Squeezed Yuzu');
  within(night, (at) => {
    walkTo(at, 'prep');
    expect(flat(at)).toMatch(/Fresh yuzu enough 300 ml 300 ml/);
    at.press('wed', 'enter');
    expect(flat(at)).toMatch(/for Wed 2 Dec; type a day/);
    expect(flat(at)).toMatch(/Fresh yuzu 1 × 300 ml 300 ml 0 ml Wed 2 Dec/);
  });
});

/** A house with a supplier and pars, too young to know its nights. */
async function short(): Promise<Night> {
  const night = await kitchen('2026-11-20T09:00:00.000Z');
  const file = join(night.folder, 's.csv');
  writeFileSync(file, 'id,name,order_days,delivery_days,minimum,contact\nquay,Quay Drinks,,,,ring twice\n');
  await night.ok('import', file);
  for (const item of ['dry-gin', 'rye'])
    await night.ok(
      'item',
      item,
      '--write',
      'supplier: quay',
      '--write',
      'par: 7',
      '--write',
      'case: 6',
      '--write',
      'cost: 20.00',
    );
  await night.ok('house target-pour-cost 18');
  return night;
}

it('digits change a line, a name adds one, Esc forgets it; what is sent is on its way and not asked for twice', async () => {
  const night = await short();
  within(night, (at, store) => {
    walkTo(at, 'order');
    expect(flat(at)).toMatch(/Quay Drinks · 480\.00 · order by Fri 20 Nov · comes Sat 21 Nov/);
    at.press('down');
    expect(flat(at)).toContain('too few nights yet, so its par 7 → 7; have 0 → 7 → 2 cases of 6');
    at.press('1', '2');
    expect(flat(at)).toMatch(/Dry gin 12 × 6 1440\.00 by hand/);
    at.press('backspace');
    expect(flat(at)).toMatch(/Dry gin 1 × 6 120\.00 by hand/);
    at.press('backspace');
    expect(flat(at)).toMatch(/Dry gin 2 × 6 240\.00(?! by hand)/);
    at.press('3', 'down', '0');
    expect(flat(at)).toMatch(/Straight rye 0 × 6 0\.00 by hand/);
    at.press('cream', 'enter');
    expect(flat(at)).toMatch(/Cream 1 2\.00 by hand/);
    at.press('cream=4', 'enter');
    expect(flat(at)).toMatch(/Cream 4 8\.00 by hand/);
    at.press('cream=two', 'enter');
    expect(flat(at)).toContain('Nothing is marked');
    at.press('esc');
    at.press('esc');
    expect(flat(at)).toMatch(/Straight rye 2 × 6/);
    at.press('home', 'down', '1', 'home', 'enter');
    expect(flat(at)).toMatch(
      /Order of Quay Drinks \(ring twice\): this is what is sent\. .*order for Sat 21 Nov 2026 1 × 6 Dry gin, 700 ml 2 × 6 Straight rye/,
    );
    at.press('enter');
    expect(flat(at)).toContain('Ordered 2 things of Quay Drinks for Sat 21 Nov');
    expect(
      [...store.books().orders.values()].map(({ lines }) => lines.map(({ containers }) => containers)),
    ).toEqual([[6, 12]]);
    expect(flat(at)).toContain('on its way: 2 things of Quay Drinks');
    // Gin is one short of its par still; rye is not asked for again.
    expect(flat(at)).toMatch(/Dry gin 1 × 6/);
    expect(flat(at)).not.toMatch(/Straight rye \d/);
  });
});

it('what came is taken in as ordered but for what is typed; a new price says which cards it moves', async () => {
  const night = await short();
  await night.ok('order --place --supplier quay');
  night.later(24 * 60);
  within(night, (at) => {
    walkTo(at, 'order');
    at.press('end', 'enter');
    expect(flat(at)).toContain('12 × Dry gin 12 × Straight rye');
    at.press('dry gin=5@29,50, figo=1');
    expect(flat(at)).toContain('No item is called "figo"');
    at.press(...Array.from({ length: 8 }, () => 'backspace'));
    expect(flat(at)).toMatch(/5 × Dry gin, ordered 12, 29\.50 each/);
    expect(flat(at)).toContain('Past the target of 18 % by this price: Gin Straight 25.9 %, Lantern Sour');
    at.press('enter');
    expect(at.state().dialog).toBeNull();
    expect(flat(at)).not.toContain('on its way');
    // It came as one, and is taken back as one.
    at.press('ctrl-u');
    expect(flat(at)).toContain('on its way: 2 things of Quay Drinks');
    at.press('end', 'enter', 'dry gin=5@29,50', 'enter');
  });
  expect([stands(night, 'dry-gin'), stands(night, 'rye')]).toEqual([3500, 8400]);
  expect(night.books().items.get('dry-gin' as never)?.costMinor).toBe(2950);
});
