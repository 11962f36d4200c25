// A night in the rooms, without a terminal: keys in, lines out.
import { describe, expect, it } from 'vitest';
import { keyRows, sharedKeys } from '../../src/app/keymap.ts';
import { rooms } from '../../src/app/rooms.ts';
import type { RoomName } from '../../src/screens/address.ts';
import { widthOf } from '../../src/screens/parts/line.ts';
import type { Store } from '../../src/store/store.ts';
import { counted, furnished, type Night, openNight } from '../support/night.ts';
import { openRooms, type Rooms, roomsThere, walkTo } from '../support/rooms.ts';

/** Keys no binding may take: terminals and shells use them, or many keyboards lack them. */
const reservedKeys = ['z', 'm', 'i', 'h', 'j', 's', 'q'].map((letter) => `ctrl-${letter}`);

const inRooms = async (
  work: (rooms: Rooms, night: Night, store: Store) => void,
  size?: { columns: number; rows: number },
  given?: Night,
): Promise<void> => {
  const night = given ?? (await furnished());
  night.store((store) => work(openRooms(store, night.world.now, size), night, store));
};

const stocked = async (): Promise<Night> => {
  const night = await counted();
  night.later(30);
  return night;
};
const events = (store: Store): number => [...store.allEvents()].length;

describe('the Pour room', () => {
  it('opens a shift, pours what a few letters find, and takes it back', async () => {
    await inRooms(
      (at, _, store) => {
        at.press('lan', 'enter');
        expect(at.screen()).toContain('No shift is open. Press ^O');
        at.press('esc', 'ctrl-o', 'enter');
        expect(at.screen()).toContain('Ines pouring');
        at.press('2 lan', 'enter');
        expect(at.screen()).toContain('✓ Poured 2 Lantern Sour.  ^U takes it back.');
        expect(store.books().shift?.drinks.get('lantern-sour' as never)?.count).toBe(2);
        at.press('ctrl-u');
        expect(at.screen()).toContain('Took back: Poured 2 Lantern Sour');
        expect(store.books().shift?.drinks.size).toBe(0);
      },
      undefined,
      await stocked(),
    );
  });

  it('pours a round in one go: all of it or none', async () => {
    await inRooms(
      (at, _, store) => {
        at.press('ctrl-o', 'enter', '2 lan, 1 rye', 'enter');
        expect([...(store.books().shift?.drinks ?? [])].map(([spec, tally]) => [spec, tally.count])).toEqual([
          ['lantern-sour', 2],
          ['rye-lamp', 1],
        ]);
        const before = events(store);
        at.press('2 lan, 1 zzz', 'enter');
        expect(at.screen()).toContain('✗ Nothing is called "zzz"');
        expect(events(store)).toBe(before);
      },
      undefined,
      await stocked(),
    );
  });

  it('pours straight, again, and as something else', async () => {
    await inRooms(
      (at, _, store) => {
        at.press('ctrl-o', 'enter', '45 ml gin', 'enter');
        expect(store.log(1)[0]?.event).toMatchObject({
          kind: 'measure-poured',
          draws: [{ item: 'dry-gin', amount: 45_000 }],
        });
        at.press('rye', 'ctrl-a', 'enter', 'ctrl-r');
        expect(store.books().shift?.drinks.get('rye-lamp' as never)).toMatchObject({
          count: 2,
          as: { sale: 0, comp: 2 },
        });
      },
      undefined,
      await stocked(),
    );
  });

  it('takes changes and a late entry typed after the drink', async () => {
    await inRooms(
      (at, night, store) => {
        at.press('ctrl-o', 'enter');
        night.later(20);
        at.press('lan: -egg white +10ml lemon juice 10 ago');
        at.app.dispatch({ type: 'resize', size: { columns: 120, rows: 24 } });
        expect(at.screen()).toContain('1 Lantern Sour (-egg white, +10ml lemon juice) 10 min ago');
        expect(at.screen()).not.toContain('raw egg');
        at.press('enter');
        const event = store.log(1)[0]?.event;
        expect(event).toMatchObject({
          kind: 'drink-poured',
          at: '2026-11-20T17:40:00.000Z',
          changes: ['-egg white', '+10ml lemon juice'],
        });
        expect(
          event?.kind === 'drink-poured' && event.draws.map(({ item, amount }) => [item, amount]),
        ).toEqual([
          ['dry-gin', 60_000],
          ['lemon-juice', 30_000],
          ['simple-syrup', 10_000],
          ['aromatic-bitters', 1800],
        ]);
        at.press('lan: double', 'enter');
        expect(store.log(1)[0]?.event).toMatchObject({
          draws: [
            { amount: 120_000 },
            { amount: 40_000 },
            { amount: 20_000 },
            { amount: 2000 },
            { amount: 3600 },
          ],
        });
        at.press('lan: -vodka', 'enter');
        expect(at.screen()).toContain('is not a measure of Lantern Sour');
      },
      undefined,
      await stocked(),
    );
  });

  it('shows a round as one list that touches each bottle once', async () => {
    await inRooms(
      (at) => {
        at.press('ctrl-o', 'enter', '2 lan, 1 rye');
        expect(at.screen()).toContain('one round, 3 drinks');
        expect(at.screen()).toMatch(/60 ml +Lemon juice +33\s+2 × 20 ml Lantern Sour, 20 ml\s+Rye/);
      },
      undefined,
      await stocked(),
    );
  });

  it('shows of a round what it shows of a drink: price, bar words, method, glass, allergens and cautions with whose they are', async () => {
    await inRooms(
      (at) => {
        at.press('ctrl-o', 'enter', '2 lan, 1 rye');
        const text = at.screen();
        expect(text).toMatch(/one round, 3 drinks +41\.00/);
        expect(text).toMatch(/4 dashes +Aromatic bitters/);
        expect(text).toMatch(/2 Lantern Sour: dry shake; shake hard with ice; double strain · coupe/);
        expect(text).toMatch(/Rye Lamp: shake; strain · rocks/);
        expect(text).toMatch(/contains eggs \(Lantern Sour\)/);
        expect(text).toMatch(/! Lantern Sour: raw egg/);
      },
      { columns: 160, rows: 40 },
      await stocked(),
    );
  });

  it('reaches the whole card of a round in the smallest window', async () => {
    await inRooms(
      (at) => {
        at.press('ctrl-o', 'enter', '2 lan, 1 rye');
        let seen = at.screen();
        expect(seen).toContain('contains eggs (Lantern Sour)');
        expect(seen).toContain('more, PgDn');
        expect(seen).not.toContain('2 × 1 ');
        for (let page = 0; page < 12; page += 1) {
          at.press('pgdn');
          seen += at.screen();
        }
        for (const words of ['4 dashes', 'double', 'Rye Lamp: shake', 'raw egg', 'PgUp goes back'])
          expect(seen).toContain(words);
        for (let page = 0; page < 8; page += 1) at.press('pgup');
        expect(at.screen()).toContain('one round, 3 drinks');
      },
      { columns: 60, rows: 16 },
      await stocked(),
    );
  });

  it("says what runs out at tonight's pace, with a range, and nothing after a pour or two", async () => {
    await inRooms(
      (at, night) => {
        at.press('ctrl-o', 'enter');
        for (let pour = 0; pour < 2; pour += 1) at.press('gin st', 'enter');
        expect(at.screen()).not.toContain('out about');
        for (let pour = 0; pour < 14; pour += 1) {
          night.later(3);
          at.press('2 gin st', 'enter');
        }
        expect(at.screen()).toMatch(/Dry gin \d+ drinks?, out about 18:\d\d \(18:\d\d to \d\d:\d\d\)/);
      },
      undefined,
      await stocked(),
    );
  });

  it('does nothing on Enter when nothing is typed or marked', async () => {
    await inRooms(
      (at, _, store) => {
        at.press('ctrl-o', 'enter');
        const before = events(store);
        at.press('enter', 'enter', 'enter');
        expect(events(store)).toBe(before);
        at.press('down', 'enter');
        expect(events(store)).toBe(before + 1);
      },
      undefined,
      await stocked(),
    );
  });

  it('shows the card with raw egg and allergens where the hand is', async () => {
    await inRooms(
      (at) => {
        at.press('lan');
        expect(at.screen()).toMatch(/raw egg/);
        expect(at.screen()).toContain('contains eggs');
        expect(at.screen()).toContain('dry shake');
      },
      undefined,
      await stocked(),
    );
  });
});

describe('a whole night', () => {
  it('count by three methods, close, seal', async () => {
    await inRooms(
      (at, night, store) => {
        at.press('ctrl-o', 'enter');
        for (let drink = 0; drink < 5; drink += 1) at.press('lan', 'enter');
        night.later(60);
        at.press('tab', 'tab');
        expect(at.screen()).toContain('[Count]');
        expect(at.screen()).not.toContain('expected 1,100');
        at.press('1.5', 'enter');
        expect(at.screen()).toMatch(/Dry gin +1\.5 +1.100 ml +! 50 ml missing ±41/);
        at.press('1+885g', 'enter');
        at.press('0.9', 'enter', '1+890ml', 'enter', '1+950ml', 'enter', '7', 'enter');
        expect(at.screen()).toContain('All is counted');
        at.press('tab');
        expect(at.screen()).toMatch(/Dry gin +50 ml missing ±41 +1\.35 {2}! likely/);
        at.press('ctrl-x', 'yes', 'enter');
        expect(at.screen()).toContain('Type seal and press Enter');
        at.press('esc', 'ctrl-x', 'seal', 'enter');
        expect(at.screen()).toContain('Sealed the shift');
        expect(store.books().shift?.sealedAt).toEqual(expect.any(String));
        at.press('ctrl-u');
        expect(at.screen()).toContain('nothing to take back');
        expect(store.check([])).toEqual([]);
      },
      undefined,
      await stocked(),
    );
  });

  it('asks for a second look when a reading cannot be, and keeps both', async () => {
    await inRooms(
      (at, _, store) => {
        at.press('ctrl-o', 'enter', 'tab', 'tab', '9.9', 'enter');
        expect(at.screen()).toContain('more than was ever there with what came in');
        // Something else again is asked about again.
        at.press('7.5', 'enter');
        expect(at.screen()).toContain('more than was ever there with what came in');
        at.press('2.0', 'enter');
        expect(at.screen()).not.toContain('read it again');
        const counts = store
          .log(10)
          .map(({ event }) => event)
          .filter((event) => event.kind === 'stock-counted');
        expect(counts.slice(0, 2)).toMatchObject([
          { reading: '2.0', again: true },
          { reading: '7.5', again: true },
        ]);
      },
      undefined,
      await stocked(),
    );
  });

  it('keeps the place of a count over a restart', async () => {
    const night = await stocked();
    await inRooms(
      (at) => at.press('ctrl-o', 'enter', 'lan', 'enter', 'rye', 'enter', 'tab', 'tab', '1.9', 'enter'),
      undefined,
      night,
    );
    await inRooms(
      (at) => {
        at.press('tab', 'tab');
        expect(at.screen()).toContain('1 of 6 counted');
        expect(at.screen()).toMatch(/› {3}Straight rye/);
      },
      undefined,
      night,
    );
  });

  it('opens, loses, receives from the Levels room', async () => {
    await inRooms(
      (at, _, store) => {
        at.press('ctrl-o', 'enter', 'tab', 'gin', 'enter', 'enter');
        expect(store.log(1)[0]?.event).toMatchObject({ kind: 'bottle-opened', item: 'dry-gin' });
        at.press('enter', 'down', 'enter', '50', 'down', 'enter');
        expect(store.log(1)[0]?.event).toMatchObject({ kind: 'stock-lost', amount: 50_000, why: 'breakage' });
        at.press('enter', 'down', 'down', 'enter', '6', 'enter');
        expect(store.log(1)[0]?.event).toMatchObject({ kind: 'delivery-received', containers: 6 });
        at.press('enter', 'down', 'down', 'down', 'enter', '1', 'enter');
        expect(store.log(1)[0]?.event).toMatchObject({ kind: 'stock-moved', from: 'bar', to: 'fridge' });
        at.press('enter', 'end', 'enter');
        expect(at.screen()).toMatch(/\[Count\][\s\S]*Dry gin at bar/);
        at.press('shift-tab');
        at.press('enter', 'down', 'enter', 'lots', 'enter');
        expect(at.screen()).toContain('✗ "lots" is not an amount');
      },
      undefined,
      await stocked(),
    );
  });

  it('takes one event back from the Log, after y', async () => {
    await inRooms(
      (at, _, store) => {
        at.press('ctrl-o', 'enter', 'lan', 'enter', 'rye', 'enter');
        walkTo(at, 'log');
        at.press('lantern', 'enter');
        expect(at.screen()).toContain('Take back "Poured 1 Lantern Sour"?');
        at.press('enter');
        expect(store.books().shift?.drinks.size).toBe(2);
        at.press('y');
        expect([...(store.books().shift?.drinks.keys() ?? [])]).toEqual(['rye-lamp']);
        expect(at.screen()).toContain('taken back');
        // The log says what a take-back took back.
        at.press('esc');
        expect(at.screen()).toContain('Took back: Poured 1 Lantern Sour');
      },
      undefined,
      await stocked(),
    );
  });

  it('hands over to another person', async () => {
    await inRooms(
      (at, _, store) => {
        at.press('ctrl-o', 'enter', 'ctrl-p', 'enter');
        expect(at.screen()).toContain('Tom is pouring now. So far 0 drinks in this shift.');
        expect(at.screen()).toContain('open  ');
        at.press('lan', 'enter');
        expect(store.log(1)[0]?.event.by).toBe('tom');
      },
      undefined,
      await stocked(),
    );
  });

  it('is done with arrows, Enter and digits alone', async () => {
    const night = await stocked();
    await night.ok('open --by Ines');
    await inRooms(
      (at, _, store) => {
        at.press('down', 'enter', 'right', 'right', '3', 'enter', 'left', 'left');
        expect(store.log(3).map(({ event }) => event.kind)).toEqual([
          'stock-counted',
          'drink-poured',
          'shift-opened',
        ]);
      },
      undefined,
      night,
    );
  });
});

describe('every room', () => {
  const sizes = [
    [60, 16],
    [80, 24],
    [120, 40],
    [200, 60],
    [61, 17],
  ] as const;
  it.each(sizes)('fills %i×%i exactly, whatever is in it', async (columns, rows) => {
    const night = openNight();
    const hostile = [
      'Kräuterlikör aus dem Norden mit einem sehr sehr langen Namen',
      '梅酒 の 古い 瓶',
      '소주',
      'עראק',
      'Crème ½',
      `e${'\u0301'.repeat(3)}`,
    ];
    const { writeText } = await import('../../src/shell/disk/files.ts');
    writeText(
      `${night.folder}/i.csv`,
      `id,name,kind,size,cost\n${hostile.map((name, index) => `i${index},${name},spirit,700 ml,10.00`).join('\n')}\n`,
    );
    writeText(
      `${night.folder}/s.txt`,
      hostile
        .map(
          (name, index) =>
            `# ${name}\nfamily: ${name.slice(0, 20)}\nprice: 12.00\n50 ml i${index}\ndo: stir\n`,
        )
        .join('\n'),
    );
    await night.ok('import', `${night.folder}/i.csv`, `${night.folder}/s.txt`);
    await night.ok('people add', '梅子');
    await inRooms(
      (at) => {
        at.press('ctrl-o', 'enter', '梅', 'enter', 'down');
        for (const room of roomsThere(at)) {
          expect(at.state().room).toBe(room.name);
          for (const keys of [[], ['?'], ['?', 'down', 'down']]) {
            at.press(...keys);
            const screen = at.rows();
            expect([room.name, screen.length]).toEqual([room.name, rows]);
            for (const row of screen)
              expect([room.name, row, widthOf(row)]).toEqual([room.name, row, columns]);
            at.press(...keys.filter((key) => key === '?'));
          }
          at.press('tab');
        }
      },
      { columns, rows },
      night,
    );
  });

  it('says so when the window is too small, and keeps everything', async () => {
    await inRooms(
      (at, _, store) => {
        at.press('ctrl-o', 'enter', 'lan');
        const before = events(store);
        for (const size of [
          { columns: 20, rows: 5 },
          { columns: 1, rows: 1 },
          { columns: 59, rows: 16 },
        ]) {
          at.app.dispatch({ type: 'resize', size });
          expect(at.rows()).toHaveLength(size.rows);
          for (const row of at.rows()) expect(widthOf(row)).toBe(size.columns);
          at.press('enter', 'x', 'tab');
        }
        expect(events(store)).toBe(before);
        at.app.dispatch({ type: 'resize', size: { columns: 80, rows: 24 } });
        expect(at.screen()).toContain('▸ lan');
      },
      undefined,
      await stocked(),
    );
  });

  it('steps back with Esc, stays where nothing is left to close, and never leaves', async () => {
    await inRooms(
      (at) => {
        for (const room of roomsThere(at)) {
          for (const keys of [
            ['abc'],
            ['?', 'x'],
            ['ctrl-o'],
            ['down', 'down'],
            ['ctrl-x'],
            ['enter', 'enter', '5'],
          ]) {
            walkTo(at, room.name);
            at.press(...keys);
            for (let press = 0; press < 5; press += 1) at.press('esc');
            expect([at.state().dialog, at.left()]).toEqual([null, false]);
            const { room: here } = at.state();
            at.press('esc');
            expect(at.state().room).toBe(here);
          }
        }
      },
      undefined,
      await stocked(),
    );
  });

  it('leaves on the second ^C only, with the key in every footer', async () => {
    await inRooms((at) => {
      for (const _ of rooms) {
        expect(at.rows().at(-1)).toContain('^C leave');
        at.press('tab');
      }
      at.press('ctrl-c');
      expect([at.left(), at.screen().includes('again to leave')]).toEqual([false, true]);
      at.press('x', 'ctrl-c');
      expect(at.left()).toBe(false);
      at.press('ctrl-c');
      expect(at.left()).toBe(true);
    });
  });

  it('never seals or opens anything by any one key pressed five times', async () => {
    const all = [...'abcdefghijklmnopqrstuvwxyz0123456789 .,?'].concat(
      ['enter', 'esc', 'tab', 'up', 'down', 'left', 'right', 'pgup', 'pgdn', 'home', 'end', 'backspace'],
      [...'abdefgklnoprtuvwxy'].map((letter) => `ctrl-${letter}`),
    );
    const night = await stocked();
    await night.ok('open');
    await inRooms(
      (at, _, store) => {
        for (const room of roomsThere(at)) {
          for (const key of all) {
            while (at.state().dialog !== null) at.press('esc');
            walkTo(at, room.name);
            at.press(key, key, key, key, key);
          }
        }
        expect([...store.allEvents()].some(({ kind }) => kind === 'shift-sealed')).toBe(false);
      },
      undefined,
      night,
    );
  });

  it('begins with the questions of a new house when the books are empty; the other rooms show the way there', async () => {
    await inRooms(
      (at) => {
        expect([at.state().room, at.screen().includes('What is the house called?')]).toEqual(['begin', true]);
        for (let press = 0; press < 7; press += 1) {
          at.press('tab');
          if (at.state().room !== 'log') expect(at.screen()).toContain('goes to Begin');
        }
      },
      undefined,
      openNight(),
    );
  });
});

describe('the table of keys', () => {
  it('binds no key twice in a room, none that is reserved, and only keys every keyboard has', () => {
    const usable =
      /^([a-z0-9?!=]|ctrl-[a-z]|enter|tab|shift-tab|esc|backspace|up|down|left|right|pgup|pgdn|home|end)$/;
    for (const room of rooms) {
      const keys = [...room.bindings, ...sharedKeys].flatMap((binding) => binding.keys);
      expect([room.name, keys.length]).toEqual([room.name, new Set(keys).size]);
      for (const key of keys) {
        expect(key).toMatch(usable);
        expect(reservedKeys).not.toContain(key);
      }
    }
  });

  it('means the same in every room: one id, one key', () => {
    const byKey = new Map<string, Set<string>>();
    for (const { id, keys } of keyRows())
      for (const key of keys)
        if (key.startsWith('ctrl-')) byKey.set(key, (byKey.get(key) ?? new Set()).add(id));
    for (const [key, ids] of byKey) expect([key, [...ids]]).toEqual([key, [[...ids][0]]]);
  });

  it('is what the help shows, and Enter runs it', async () => {
    await inRooms((at) => {
      for (const room of roomsThere(at)) {
        at.press('?');
        const labels = [...room.bindings, ...sharedKeys].map(({ label }) => label);
        at.app.dispatch({ type: 'resize', size: { columns: 120, rows: 60 } });
        const said = at.screen().replace(/\s+/g, ' ');
        for (const label of labels) expect(said).toContain(label);
        // In the smallest window each is reached, and read to its end.
        at.app.dispatch({ type: 'resize', size: { columns: 60, rows: 16 } });
        for (const label of labels) {
          expect(at.screen().replace(/\s+/g, ' ')).toContain(label);
          at.press('down');
        }
        at.press('?', 'tab');
      }
      at.press('?', 'next room', 'enter');
      expect(at.state().room).toBe<RoomName>('levels');
    });
  });
});
