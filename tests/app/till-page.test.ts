// The till page of the Close room: names of the till matched for good, and what was sold beside what was logged.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { late } from '../support/night.ts';
import { openRooms, roomsAt } from '../support/rooms.ts';

const within = roomsAt({ columns: 120, rows: 40 });

describe('the till page', () => {
  it('matches an unknown name of the till for good', async () => {
    const night = await late();
    const file = join(night.folder, 'till.csv');
    writeFileSync(file, 'time,drink,quantity\n2026-11-20 17:40,RYE L,7\n2026-11-20 17:41,Tap Water,3\n');
    await night.ok('import', file);
    await night.ok('count rye 0.8');
    within(night, (at, store) => {
      at.press('tab', 'tab', 'tab', 'ctrl-t');
      expect(at.screen()).toContain('10 sold since 17:30');
      expect(at.screen()).toMatch(/› RYE L +7 .*which drink\? Enter/);
      at.press('enter', 'rye lamp', 'enter');
      expect(store.books().tillNames.get('rye l')).toBe('rye-lamp');
      expect(at.screen()).toMatch(/Rye Lamp +7 +5 +2 +! not logged/);
      // Nothing here is called so: that is what stands marked.
      at.press('home', 'enter', 'enter');
      expect(store.books().tillNames.get('tap water')).toBeNull();
      expect(at.screen()).toMatch(/Tap Water +3 +nothing of ours/);
      at.press('ctrl-t');
      while (!/› Straight rye/.test(at.screen())) at.press('down');
      expect(at.screen()).toMatch(/drinks the till sold and nobody logged would\s+have taken 120 ml/);
    });
  });

  it('a filter that finds nothing matches nothing, and Enter means what is marked whatever another window does', async () => {
    const night = await late();
    const file = join(night.folder, 'till.csv');
    writeFileSync(file, 'time,drink,quantity\n2026-11-20 17:40,SOUR ONE,2\n');
    await night.ok('import', file);
    within(night, (at, store) => {
      at.press('tab', 'tab', 'tab', 'ctrl-t', 'enter', 'zzzz', 'enter');
      expect(at.state().message?.text).toContain('Nothing is called "zzzz"');
      expect(store.books().tillNames.size).toBe(0);
      at.press('esc', 'enter', 'a');
      const marked = at
        .rows()
        .find((row) => row.startsWith('› '))
        ?.slice(2)
        .trim();
      // Another window makes another spec the likelier one.
      const other = [...store.books().specs.values()].find(
        ({ name }) => name !== marked && name !== 'Gin Straight',
      );
      const draw = { item: 'dry-gin' as never, place: 'bar', amount: 1000, costMillis: null };
      store.record((books) => ({
        ok: true,
        value: [
          {
            kind: 'drink-poured',
            shift: books.shift?.id ?? null,
            by: null,
            spec: other?.id as never,
            name: 'x',
            count: 50,
            as: 'sale',
            priceMinor: null,
            changes: [],
            draws: [draw],
          },
        ],
      }));
      at.press('enter');
      const meant = store.books().tillNames.get('sour one');
      expect(store.books().specs.get(meant as never)?.name).toBe(marked);
    });
  });

  it('fills its till page and its notes when another window brings them', async () => {
    const night = await late();
    const file = join(night.folder, 'till.csv');
    writeFileSync(file, 'time,drink,quantity\n2026-11-20 17:40,Rye Lamp,7\n');
    night.store((store) => {
      const at = openRooms(store, night.world.now, { columns: 80, rows: 24 });
      at.press('tab', 'tab', 'tab', 'ctrl-t');
      expect(at.screen()).toContain('No lines of the till');
      store.record(() => ({
        ok: true,
        value: [
          {
            kind: 'drink-sold',
            shift: null,
            by: null,
            drink: 'Rye Lamp',
            count: 7,
            soldAt: '2026-11-20T17:40:00.000Z',
            priceMinor: null,
            seller: null,
          },
        ],
      }));
      at.app.dispatch({ type: 'books', books: store.books() });
      expect(at.screen()).toMatch(/Rye Lamp +7 +5 +2 +! not logged/);
    });
  });
});
