// What to make: chance by money for what does not keep, parts before what they go into, cards that go in a circle, nights that take nothing.
import { expect, it } from 'vitest';
import { readSpecs } from '../../../src/domain/card/spec-card.ts';
import { type Books, emptyBooks, stockKey } from '../../../src/domain/ledger/books.ts';
import { newStock } from '../../../src/domain/ledger/folding.ts';
import type { NightUse } from '../../../src/domain/order/demand.ts';
import { type PrepSetting, prepFor, shoppingOf } from '../../../src/domain/prep/need.ts';
import { addDays } from '../../../src/domain/value/clock-date.ts';
import type { ItemId } from '../../../src/domain/value/ids.ts';
import { readItems } from '../../../src/exchange/file/item-csv.ts';

function house(items: string, cards: string, stock: Readonly<Record<string, number>> = {}): Books {
  const read = readItems(`id,name,kind,size,cost,par\n${items}`, emptyBooks);
  if (!read.ok) throw new Error(read.problems[0]?.message);
  const stocked = { ...emptyBooks, items: new Map(read.value.map((item) => [item.id, item])) };
  const specs = readSpecs(cards, stocked);
  if (!specs.ok) throw new Error(specs.problems[0]?.message);
  const held = Object.entries(stock).map(([id, amount]) => {
    const one = { ...newStock(id as ItemId, 'bar'), amount: amount * 1000 };
    return [stockKey(one.item, 'bar'), one] as const;
  });
  return { ...stocked, specs: new Map(specs.value.map((spec) => [spec.id, spec])), stock: new Map(held) };
}

/** Eight weeks before a Friday: so much on Fridays, nothing on Mondays, less on other days; a scatter that is the same each week. */
const nights = (item: string): NightUse[] =>
  Array.from({ length: 56 }, (_, at) => {
    const date = addDays('2026-09-25', at);
    const weekday = at % 7;
    const usual = weekday === 3 ? 0 : weekday === 0 ? 600 : 300;
    const off = [-60, 60, -30, 30, 0, 45, -45, 0][Math.floor(at / 7)] ?? 0;
    return { date, used: new Map([[item as ItemId, usual === 0 ? 0 : (usual + off) * 1000]]) };
  });
const setting = (uses: readonly NightUse[], more: Partial<PrepSetting> = {}): PrepSetting => ({
  date: '2026-11-20',
  at: '2026-11-20T15:00:00.000Z',
  uses,
  expected: new Map(),
  chance: 0.95,
  byHour: new Map([['23', 1]]),
  ...more,
});

const juice =
  'lime,Limes,fruit,1 each,0.30,\njuice,Lime juice,juice,1 l,9.00,\ngin,Dry gin,spirit,700 ml,20.00,\n';
const squeeze = (keeps: string): string => `# Squeeze\nmakes: 300 ml lime juice\nkeeps: ${keeps}\n10 limes\n`;
const drink = (price: string): string =>
  `\n# Gimlet Like\nprice: ${price}\n50 ml dry gin\n25 ml lime juice\n`;

it('of what keeps a chance that is set; of what does not the one that money says', () => {
  const need = (cards: string, more: Partial<PrepSetting> = {}) => {
    const [line] = prepFor(house(juice, cards), setting(nights('juice'), more));
    return line;
  };
  const kept = need(squeeze('30 days'));
  expect(kept?.why).toContain('for 95 nights in 100');
  expect(need(squeeze('30 days'), { chance: 0.8 })?.need).toBeLessThan(kept?.need ?? 0);
  // A drink of 12.00 costs 1.65: 10.35 lost for 25 ml, against 0.23 thrown away: 98 in 100.
  const dear = need(`${squeeze('1 day')}${drink('12.00')}`);
  expect(dear?.why).toContain('for 98 nights in 100, by what a lost drink and what is thrown away cost');
  // Sold at hardly more than it costs, it is not worth much spare.
  const cheap = need(`${squeeze('1 day')}${drink('1.80')}`);
  expect(cheap?.why).toMatch(/for (3\d|4\d|5\d) nights in 100/);
  expect(cheap?.need).toBeLessThan(dear?.need ?? 0);
  // Without a price nobody knows: the chance that is set.
  expect(need(squeeze('1 day'))?.why).toContain('for 95 nights in 100');
});

it('a weekday that takes nothing needs nothing; a feast needs more; a known closed night nothing', () => {
  const books = house(juice, squeeze('1 day'));
  const on = (date: string, expected = new Map<string, number>()) =>
    prepFor(books, setting(nights('juice'), { date, expected }))[0];
  expect(on('2026-11-23')).toMatchObject({ need: 0, times: 0 });
  const usual = on('2026-11-20')?.need ?? 0;
  expect(usual).toBeGreaterThan(600_000);
  expect(on('2026-11-20', new Map([['2026-11-20', 2]]))?.need).toBeGreaterThan(1.9 * usual);
  expect(on('2026-11-20', new Map([['2026-11-20', 0]]))?.need).toBe(0);
});

it('parts come first, are needed for what they go into, and a circle of cards ends', () => {
  const items = 'a,Alpha,syrup,1 l,,\nb,Beta,syrup,1 l,,\nc,Gamma,syrup,1 l,,2\nsugar,Sugar,sugar,1 kg,,\n';
  const cards =
    '# Make Gamma\nmakes: 1 l gamma\n400 ml beta\n600 ml water\n\n# Make Beta\nmakes: 500 ml beta\n250 ml alpha\n250 ml water\n\n# Make Alpha\nmakes: 1 l alpha\n500 g sugar\n';
  const lines = prepFor(house(items, cards, { c: 300, sugar: 100 }), setting([]));
  // Two litres are the par, 300 ml stand: two makings of a litre, which take 800 ml, which take 400 ml, which take 500 g.
  expect(lines.map(({ item, need, times }) => [item.id, need / 1000, times])).toEqual([
    ['a', 500, 1],
    ['b', 800, 2],
    ['c', 2000, 2],
  ]);
  expect(shoppingOf(lines).map(({ item, short }) => [item.id, short / 1000])).toEqual([['sugar', 400]]);
  const round = `${cards}\n# Alpha Again\nmakes: 1 l alpha\n100 ml gamma\n`.replace(
    '# Make Alpha\nmakes: 1 l alpha\n500 g sugar\n',
    '',
  );
  expect(
    prepFor(house(items, round), setting([]))
      .map(({ item }) => item.id)
      .sort(),
  ).toEqual(['a', 'b', 'c']);
});

it('of two cards that make one item the first is asked', () => {
  const cards = `${squeeze('1 day')}\n# Bought Base\nmakes: 1 l lime juice\n1 limes\n`;
  const lines = prepFor(house(juice.replace('9.00,', '9.00,1'), cards), setting([]));
  expect(lines.map(({ card }) => card.name)).toEqual(['Squeeze']);
});
