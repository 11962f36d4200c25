// Service: what is out, kin beside one another, what runs low said once, the usual night, deliveries with their cost, and
// the mise en place.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { outOnUsual, usualOf } from '../../src/domain/service/usual.ts';
import type { Store } from '../../src/store/store.ts';
import { counted, furnished, type Night } from '../support/night.ts';
import { openRooms, type Rooms } from '../support/rooms.ts';

async function stocked(gin = '2.0'): Promise<Night> {
  const night = await counted({ 'dry-gin': gin });
  night.later(30);
  await night.ok('open --by Ines');
  return night;
}
const within = (
  night: Night,
  work: (at: Rooms, store: Store) => void,
  size = { columns: 100, rows: 30 },
): void => night.store((store) => work(openRooms(store, night.world.now, size), store));

describe('what is out', () => {
  it('opens over any room, says which specs go with it, and keeps itself up to date', async () => {
    const night = await stocked('0.1');
    within(night, (at, store) => {
      at.press('ctrl-g');
      expect(at.screen()).toContain('Nothing is out');
      at.press('enter', '40ml dry', 'enter', 'ctrl-g');
      expect(at.screen()).toMatch(/› Dry gin +30 ml +out +2 specs/);
      expect(at.screen()).toContain('goes with it: Lantern Sour, Gin Straight');
      // A delivery that another window records changes the list that stands open.
      store.record((books) => ({
        ok: true,
        value: [
          {
            kind: 'delivery-received',
            shift: books.shift?.id ?? null,
            by: null,
            item: 'dry-gin' as never,
            place: 'bar',
            containers: 1,
            amount: 700_000,
            costMinor: null,
          },
        ],
      }));
      at.app.dispatch({ type: 'books', books: store.books() });
      expect(at.screen()).toContain('Nothing is out');
      at.press('esc');
      expect(at.state().dialog).toBeNull();
    });
  });
});

describe('kin', () => {
  it('stand side by side with the one measure that differs marked', async () => {
    const night = await stocked();
    const file = join(night.folder, 'kin.txt');
    writeFileSync(
      file,
      '# Rye Sour\nfamily: sour\n60 ml rye\n22.5 ml lemon juice\n22.5 ml simple syrup\n1 egg white\n2 dash aromatic bitters\ndo: shake; strain\n',
    );
    await night.ok('import', file);
    within(night, (at) => {
      at.press('lantern', 'ctrl-k');
      expect(at.screen()).toContain('Lantern Sour and its kin');
      expect(at.screen()).toMatch(/› Rye Sour +60 ml Dry gin → 60 ml Straight rye/);
      expect(at.screen()).toMatch(/≠ 60 ml +Dry gin +≠ 60 ml +Straight rye/);
      expect(at.screen()).toMatch(/ {2}22\.5 ml +Lemon juice +22\.5 ml +Lemon juice/);
      expect(at.screen().match(/≠/g)).toHaveLength(2);
    });
  });

  it('when the drink is out, what comes nearest stands with them', async () => {
    const night = await stocked('0.0');
    within(night, (at) => {
      at.press('lantern', 'ctrl-k');
      expect(at.screen()).toMatch(/Rye Lamp +sour, \d+ left, without Dry gin/);
    });
  });

  it('what can be poured without an item, from the Levels room', async () => {
    const night = await stocked();
    within(night, (at) => {
      at.press('tab', 'dry gin', 'enter', 'down', 'down', 'down', 'down', 'enter');
      expect(at.screen()).toContain('Without Dry gin: what comes nearest and can be poured now');
      expect(at.screen()).toMatch(/Lantern Sour +→ Rye Lamp, sour/);
    });
  });
});

describe('running low', () => {
  it('is said once, by the pour that crosses the line, and not again with every pour', async () => {
    const night = await stocked('0.5');
    // 350 ml: five sours; the first leaves four.
    within(night, (at) => {
      at.press('lantern', 'enter');
      expect(at.state().message?.text).toContain('getting low: Dry gin, 4 drinks left');
      at.press('lantern', 'enter');
      expect(at.state().message?.text).not.toContain('getting low');
      at.press('3 lantern', 'enter');
      expect(at.state().message?.text).not.toContain('getting low');
      // Below zero is said by what made it so.
      at.press('lantern', 'enter');
      expect(at.state().message?.text).toContain('below zero: Dry gin');
    });
  });
});

describe('the usual night', () => {
  /** Four Fridays: twenty gins each from 18 to 22 UTC, 5 an hour; the fourth is 2026-11-20's own history. */
  async function fridays(perHour: readonly number[]): Promise<Night> {
    const night = await furnished('2026-10-23T17:00:00.000Z');
    for (const [week, date] of ['2026-10-23', '2026-10-30', '2026-11-06', '2026-11-13'].entries()) {
      night.at(`${date}T17:30:00.000Z`);
      await night.ok('open --by Ines');
      for (let hour = 18; hour < 22; hour += 1) {
        night.at(`${date}T${hour}:30:00.000Z`);
        await night.ok(`pour ${perHour[week]} gin-straight`);
      }
      night.at(`${date}T23:00:00.000Z`);
      await night.ok('close --seal');
    }
    night.at('2026-11-20T17:00:00.000Z');
    return night;
  }

  it('says when an item runs out before a single drink is poured, with a range from night to night', async () => {
    const night = await fridays([5, 5, 5, 5]);
    // Ten drinks of 40 ml, where a Friday takes twenty from six to ten: half past... the whole hour of eight.
    await night.ok('count dry-gin 0.57');
    night.at('2026-11-20T17:30:00.000Z');
    await night.ok('open --by Ines');
    night.store((store) => {
      const usual = usualOf(store.shiftBooks(90), '2026-11-20');
      expect([usual.weekday, usual.nights]).toEqual(['Fri', 4]);
      expect(Object.fromEntries(usual.byHour)).toEqual({ '18': 0.25, '19': 0.25, '20': 0.25, '21': 0.25 });
      const [out] = outOnUsual(store.books(), usual, '2026-11-20T17:30:00.000Z');
      // 399 of 800 ml are gone at eight; equal nights leave no range.
      expect(out).toMatchObject({
        about: '2026-11-20T20:00:00.000Z',
        earliest: '2026-11-20T20:00:00.000Z',
        latest: '2026-11-20T20:00:00.000Z',
      });
    });
  });

  it('is wider for nights that differ, and may not run out at all', async () => {
    const night = await fridays([2, 8, 3, 7]);
    await night.ok('count dry-gin 0.57');
    night.at('2026-11-20T18:30:00.000Z');
    await night.ok('open --by Ines');
    within(night, (at) => {
      at.app.dispatch({ type: 'tick', now: '2026-11-20T18:31:00.000Z' });
      expect(at.state().usual?.nights).toBe(4);
      expect(at.screen()).toMatch(
        /Dry gin \d+ drinks, on a usual Fri out about 20:[2-5]\d \(19:\d\d to not at all\)/,
      );
    });
  });

  it('is silent with fewer than three nights', async () => {
    const night = await stocked('0.5');
    night.store((store) =>
      expect(
        outOnUsual(store.books(), usualOf(store.shiftBooks(90), '2026-11-20'), night.world.now().toString()),
      ).toEqual([]),
    );
  });
});

describe('the Levels room', () => {
  it('takes a delivery with its cost, and a move to a place that is new', async () => {
    const night = await stocked();
    within(night, (at, store) => {
      at.press('tab', 'dry gin', 'enter', 'down', 'down', 'enter');
      expect(at.screen()).toContain('last 18.90');
      at.press('6 at 20.00', 'enter');
      expect(at.state().message?.text).toContain('Received 6 × Dry gin at bar, 20.00 each');
      expect(store.books().items.get('dry-gin' as never)?.costMinor).toBe(2000);
      at.press('enter', 'down', 'down', 'down', 'enter', '2 to cellar', 'enter');
      expect(store.books().stock.get('dry-gin\ncellar')?.amount).toBe(1_400_000);
      at.press('enter', 'down', 'down', 'enter', '6 at much', 'enter');
      expect(at.state().message?.text).toBe('"much" is not an amount of EUR. Write 6 at 18.90.');
    });
  });
});

describe('what a night found', () => {
  it('after a move the mark stays on its item', async () => {
    const night = await stocked();
    within(night, (at) => {
      at.press('tab', 'down', 'down');
      const marked = () =>
        at
          .rows()
          .find((row) => row.startsWith('› '))
          ?.slice(2, 34)
          .trim();
      const before = marked();
      at.press('enter', 'down', 'down', 'down', 'enter', '1 to attic', 'enter');
      expect(at.state().message?.text).toContain('to attic');
      expect(marked()).toBe(before);
    });
  });

  it('a move of more than there is says so', async () => {
    const night = await stocked();
    within(night, (at) => {
      at.press('tab', 'dry gin', 'enter', 'down', 'down', 'down', 'enter', '9 to attic', 'enter');
      expect(at.state().message?.text).toContain('bar is below zero now');
    });
  });

  it('a number alone pours nothing, and three letters that stand nowhere name nothing', async () => {
    const night = await stocked();
    within(night, (at, store) => {
      at.press('2', 'enter');
      expect(at.state().message?.text).toContain('Type a few letters of a drink');
      at.press('esc', '2 zzz', 'enter');
      expect(at.state().message?.text).toContain('Nothing is called "zzz"');
      expect(store.books().shift?.drinks.size).toBe(0);
      at.press('esc', '2', 'down', 'enter');
      expect(store.books().shift?.drinks.size).toBe(1);
    });
  });
});

describe('the Mise room', () => {
  it('ticks with Enter down the list, finds as one types, adds and leaves out', async () => {
    const night = await stocked();
    within(night, (at, store) => {
      at.press('shift-tab');
      expect(at.state().room).toBe('mise');
      at.press('enter', 'enter');
      expect(store.books().miseTicks.size).toBe(2);
      expect(at.screen()).toMatch(/2 of \d+ ready/);
      expect(at.screen().match(/✓ .*ready 17:30/g)).toHaveLength(2);
      at.press('bar towels', 'ctrl-y');
      expect(at.screen()).toMatch(/› {3}added +bar towels/);
      at.press('juicer', 'ctrl-b');
      expect(at.state().message?.text).toContain('Left out of the mise en place: juicer');
      at.press('juicer');
      expect(at.screen()).toContain('^Y adds it');
      at.press('esc', 'ctrl-u', 'juicer');
      expect(at.screen()).toMatch(/tool +juicer/);
    });
  });
});
