// The close: short counts, the drill, the till page, notes, corrections, who seals.

import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { PersonId } from '../../src/domain/value/ids.ts';
import type { Store } from '../../src/store/store.ts';
import { counted, furnished, type Night } from '../support/night.ts';
import { openRooms, type Rooms } from '../support/rooms.ts';

async function late(): Promise<Night> {
  const night = await counted({ 'dry-gin': '3.0' });
  night.later(30);
  await night.ok('open --by Ines');
  await night.ok('pour 5 rye-lamp');
  await night.ok('pour 1 rye-lamp --as comp --by Tom');
  night.later(60);
  return night;
}
const within = (
  night: Night,
  work: (at: Rooms, store: Store) => void,
  size = { columns: 120, rows: 40 },
): void => night.store((store) => work(openRooms(store, night.world.now, size), store));

describe('a short count', () => {
  it('walks what moved tonight, in the order of the shelves, and stays the same while it is counted', async () => {
    const night = await late();
    within(night, (at, store) => {
      at.press('tab', 'tab', 'ctrl-f');
      expect(at.screen()).toContain('0 of 3 counted, what moved tonight');
      const walked = () =>
        at
          .rows()
          .filter((row) => /^[› ] [✓ ] \S/.test(row))
          .map((row) => row.slice(4, 20).trim());
      expect(walked()).toEqual(['Straight rye', 'Lemon juice', 'Simple syrup']);
      at.press('1.1', 'enter');
      expect(walked()).toEqual(['Straight rye', 'Lemon juice', 'Simple syrup']);
      at.press('1+900ml', 'enter', '1+900ml', 'enter');
      expect(at.state().message?.text).toContain('Counted: what moved tonight');
      expect(store.books().shift?.periods).toHaveLength(3);
    });
  });

  it('walks the twenty worth most: what has no cost is not among them', async () => {
    const night = await late();
    const file = join(night.folder, 'more.csv');
    const rows = Array.from({ length: 25 }, (_, at) => `more-${at},More ${at},spirit,700 ml,${10 + at}.00`);
    writeFileSync(file, ['id,name,kind,size,cost', ...rows, 'free,Free,spirit,700 ml,', ''].join('\n'));
    await night.ok('import', file);
    for (let at = 0; at < 25; at += 1) await night.ok(`count more-${at} 1.0`);
    await night.ok('count free 9.0');
    within(night, (at) => {
      at.press('tab', 'tab', 'ctrl-f', 'ctrl-f');
      expect(at.screen()).toMatch(/of 20 counted, the twenty worth most/);
      expect(at.screen()).toMatch(/More 24/);
      expect(at.screen()).not.toMatch(/More 0\b|Free|Egg white/);
      at.press('ctrl-f');
      expect(at.screen()).toMatch(/of 32 counted ·/);
    });
  });
});

describe('the drill', () => {
  it('asks by eye, then on the scale, and says how far off the eye was', async () => {
    const night = await late();
    within(night, (at, store) => {
      at.press('tab', 'tab', 'ctrl-d');
      expect(at.screen()).toContain("drill, Ines's eye");
      expect(at.screen()).not.toContain('Egg white');
      at.press('350ml', 'enter');
      expect(at.state().message?.text).toContain('By eye first');
      while (!at.screen().includes('· Dry gin at bar')) at.press('down');
      at.press('6', 'enter');
      expect(at.screen()).toContain('by eye 6, now the scale');
      const before = [...store.allEvents()].length;
      at.press('812', 'enter');
      expect([...store.allEvents()].length).toBe(before + 1);
      expect(at.state().message?.text).toMatch(
        /By eye [\d.]+ ml too much, \^U takes it back\. Ines: 1 of 10 pairs/,
      );
      expect(store.books().eyes.get('ines' as PersonId)?.pairs).toBe(1);
      at.press('ctrl-u');
      expect(store.books().eyes.has('ines' as PersonId)).toBe(false);
      // No count was made of it.
      expect(store.books().shift?.periods).toHaveLength(0);
      at.press('esc');
      expect(at.screen()).toContain('counted');
    });
  });
});

describe('the Close room', () => {
  it('says who poured, what was not sold, and each purpose on a line of its own', async () => {
    const night = await late();
    await night.ok('count rye 1.0');
    within(night, (at) => {
      at.press('tab', 'tab', 'tab');
      expect(at.screen()).toMatch(/^1 comp, .* at cost/m);
      expect(at.screen()).toContain('pour cost standard');
      expect(at.screen()).toMatch(/in Rye Lamp 360 ml; poured by Ines 300 ml, Tom 60 ml; of it comp 60 ml/);
    });
  });

  it('matches an unknown name of the till for good', async () => {
    const night = await late();
    const file = join(night.folder, 'till.csv');
    writeFileSync(file, 'time,drink,quantity\n2026-11-20 17:40,RYE L,7\n2026-11-20 17:41,Tap Water,3\n');
    await night.ok('import', file);
    await night.ok('count rye 0.8');
    within(night, (at, store) => {
      at.press('tab', 'tab', 'tab', 'ctrl-t');
      expect(at.screen()).toContain('10 sold since 17:30');
      expect(at.screen()).toMatch(/› RYE L +7 .*which spec\? Enter/);
      at.press('enter', 'rye lamp', 'enter');
      expect(store.books().tillNames.get('rye l')).toBe('rye-lamp');
      expect(at.screen()).toMatch(/Rye Lamp +7 +5 +2 +! not logged/);
      at.press('home', 'enter', 'end', 'enter');
      expect(store.books().tillNames.get('tap water')).toBeNull();
      expect(at.screen()).toMatch(/Tap Water +3 +no spec of ours/);
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
      expect(at.state().message?.text).toContain('No spec is called "zzzz"');
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

  it('who counts at this window stays after a take-back', async () => {
    const night = await late();
    within(night, (at, store) => {
      at.press('tab', 'tab', 'ctrl-v');
      expect(at.screen()).toContain('Tom counts at this window');
      at.press('2.0', 'enter', 'ctrl-u', '2.1', 'enter');
      const counts = [...store.allEvents()].filter((event) => event.kind === 'stock-counted').slice(-2);
      expect(counts.map(({ by }) => by)).toEqual(['tom', 'tom']);
    });
  });

  it('a first count is a first count, not one that is missing', async () => {
    const night = await furnished();
    await night.ok('open --by Ines');
    await night.ok('count dry-gin 2.0');
    within(night, (at) => {
      at.press('tab', 'tab', 'tab');
      expect(at.screen()).toMatch(/Dry gin .*first count/);
    });
    expect(await night.ok('close')).toContain(
      'counted for the first time, nothing to compare with yet: Dry gin',
    );
  });

  it('writes notes, sends late entries to the Pour room, and seals by the one chosen', async () => {
    const night = await late();
    within(night, (at, store) => {
      at.press('tab', 'tab', 'tab', 'ctrl-w', 'ice machine out from nine', 'enter');
      expect(at.screen()).toContain('note 18:30 Ines: ice machine out from nine');
      at.press('ctrl-e');
      expect(at.state().message?.text).toContain('This shift is not sealed');
      at.press('ctrl-l');
      expect([at.state().room, at.screen().includes('lan 40 ago')]).toEqual(['pour', true]);
      at.press('rye 20 ago', 'enter');
      expect(store.books().shift?.drinks.get('rye-lamp' as never)?.count).toBe(7);
      at.press('tab', 'tab', 'tab', 'ctrl-x', 'down', 'seal', 'enter');
      expect(store.books().shift?.sealedBy).toBe('tom');
      expect(at.screen()).toContain('by Tom');
    });
  });

  it('corrects a sealed report and keeps both figures in sight', async () => {
    const night = await late();
    await night.ok('count rye 0.8');
    await night.ok('close --seal --by Mara');
    night.later(30);
    within(night, (at, store) => {
      at.press('tab', 'tab', 'tab');
      while (!/› Straight rye/.test(at.screen())) at.press('down');
      at.press('ctrl-e');
      expect(at.screen()).toContain('today');
      at.press('down', '60 ml a ticket was found', 'enter');
      expect(at.state().message?.text).toContain(
        'Corrected a sealed report: Straight rye, poured +60 ml (a ticket was found)',
      );
      expect(at.screen()).toMatch(/\* 130 ml missing ±58/);
      expect(at.screen()).toMatch(
        /corrected after the seal: 70 ml missing ±58, likely; as sealed 130 ml missing ±58/,
      );
      at.press('ctrl-e', 'words only', 'enter');
      expect(at.state().message?.text).toContain('Write the amount first, then why');
      at.press('esc', 'ctrl-u');
      expect(at.screen()).not.toContain('corrected after');
      expect(store.books().stock.get('rye\nbar')?.amount).toBe(560_000);
    });
  });
});
