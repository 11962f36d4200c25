// A scanner types thirteen digits, a leaning finger more: no number typed anywhere ends the program, and none goes into the books.
import { expect, it } from 'vitest';
import { stocked } from '../support/night.ts';
import { openRooms, walkTo } from '../support/rooms.ts';

const numbers = [
  '99999999999',
  '9999999999999',
  '9'.repeat(60),
  `1e${'9'.repeat(9)}`,
  '1/99999999999999999999',
  `0.${'0'.repeat(40)}1`,
];
const lines = [
  'receive # dry-gin',
  'receive #cases dry-gin',
  'receive 1 dry-gin --cost #',
  'move # dry-gin --from well --to cellar',
  'lose #ml dry-gin --why spill',
  'lose # bottles dry-gin --why spill',
  'count dry-gin #',
  'count dry-gin #ml',
  'count dry-gin #.5',
  'count dry-gin #g',
  'pour # rye-lamp',
  'pour #ml dry-gin',
  'pour 2 rye-lamp # ago',
  'pour 2 rye-lamp at #',
  'weigh dry-gin #g',
  'drill dry-gin 0.5 #g',
  'make # lantern-sour',
  'prep --for # ',
  'spec rye-lamp --batch #',
  'spec rye-lamp --batch #l',
  'item dry-gin --write size:#',
  'house cut-off-hour #',
  'house pour-deviation #',
  'expect 2026-12-01 #',
  'log --last #',
  'drift --last #',
  'undo #',
  'report #',
  'note # words',
  'calc # oz',
  'calc # oz in ml',
  'order --days #',
  'correct dry-gin #',
  'correct dry-gin #ml',
];

it('in commands', async () => {
  const night = await stocked();
  for (const line of lines)
    for (const number of numbers) {
      const before = await night.ok('export events');
      const outcome = await night.run(line.replaceAll('#', number));
      expect([line, number, outcome.exit]).not.toContain(70);
      if (outcome.exit !== 0) {
        expect(outcome.err.trim().length).toBeGreaterThan(10);
        expect(await night.ok('export events')).toBe(before);
      }
    }
  expect(await night.ok('check')).toBe('');
}, 120_000);

it('in the questions of the rooms', async () => {
  const night = await stocked();
  night.store((store) => {
    const at = openRooms(store, night.world.now);
    for (const number of numbers.slice(0, 4))
      for (const room of ['levels', 'count', 'prep', 'order', 'book', 'pour'] as const)
        for (let option = 0; option < 7; option += 1)
          for (const unit of ['', ' l', ' ml', ' bottles']) {
            walkTo(at, room);
            at.press('enter');
            for (let down = 0; down < option; down += 1) at.press('down');
            at.press('enter', number + unit, 'enter', 'esc', 'esc', 'esc');
            expect(at.left()).toBe(false);
          }
    expect(store.check([])).toEqual([]);
  });
}, 120_000);
