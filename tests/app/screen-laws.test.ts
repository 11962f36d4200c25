// Laws every screen keeps: nothing hidden in silence, every state readable without its colour, columns that line up, colours
// every terminal has.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { picture } from '../../src/app/picture.ts';
import { paint, themeOf } from '../../src/screens/frame/theme.ts';
import { plainText, widthOf } from '../../src/screens/parts/line.ts';
import { furnished, type Night, openNight } from '../support/night.ts';
import { openRooms, roomsThere, walkTo } from '../support/rooms.ts';

/** A house of so many items and as many specs. */
async function houseOf(count: number): Promise<Night> {
  const night = openNight();
  if (count === 0) return night;
  const numbers = Array.from({ length: count }, (_, at) => String(at + 1).padStart(4, '0'));
  const items = join(night.folder, 'i.csv');
  const specs = join(night.folder, 's.txt');
  writeFileSync(
    items,
    ['id,name,kind,size', ...numbers.map((at) => `i${at},Item ${at},spirit,700 ml`), ''].join('\n'),
  );
  writeFileSync(
    specs,
    numbers.map((at) => `# Drink ${at}\nfamily: straight\n40 ml i${at}\ndo: pour\n`).join('\n'),
  );
  await night.ok('import', items, specs);
  return night;
}

const listed = (rows: readonly string[], word: string): string[] =>
  rows.flatMap((row) => new RegExp(`${word} (\\d{4})`).exec(row)?.[1] ?? []);
const hidden = (rows: readonly string[]): [above: number, below: number] => {
  const number = (mark: string): number =>
    Number(
      rows
        .map((row) => new RegExp(`${mark} (\\d+) more`).exec(row)?.[1])
        .find((found) => found !== undefined) ?? 0,
    );
  return [number('↑'), number('↓')];
};

describe('a list says what it hides', () => {
  it.each([
    [0, 80, 24],
    [1, 60, 16],
    [18, 80, 24],
    [19, 80, 24],
    [1000, 60, 16],
    [1000, 200, 60],
  ])('%i items at %i×%i: above, window and below are all of them', async (count, columns, rows) => {
    const night = await houseOf(count);
    night.store((store) => {
      const at = openRooms(store, night.world.now, { columns, rows });
      let most = 0;
      for (const [room, word] of [
        ['levels', 'Item'],
        ['count', 'Item'],
        ['pour', 'Drink'],
      ] as const) {
        walkTo(at, room);
        for (const moves of [[], ['end'], ['pgup', 'pgup'], ['home']]) {
          at.press(...(room === 'pour' ? moves.filter((key) => key !== 'end' && key !== 'home') : moves));
          const screen = at.rows();
          expect(screen).toHaveLength(rows);
          const [above, below] = hidden(screen);
          const shown = new Set(listed(screen.slice(2), word)).size;
          expect([room, above + shown + below]).toEqual([room, count]);
          most = Math.max(most, above + below);
        }
      }
      expect(most > rows).toBe(count > rows);
    });
  });

  it('walking down a thousand marks each once, and the marked one is always in sight', async () => {
    const night = await houseOf(1000);
    night.store((store) => {
      const at = openRooms(store, night.world.now, { columns: 80, rows: 24 });
      at.press('tab');
      const seen = new Set<string>();
      for (let row = 0; row < 1000; row += 1) {
        const [marked] = listed(
          at.rows().filter((text) => text.startsWith('› ')),
          'Item',
        );
        seen.add(marked ?? 'none');
        at.press('down');
      }
      expect(seen.size).toBe(1000);
      expect(seen.has('none')).toBe(false);
    });
  });
});

describe('without its colour', () => {
  it('each pair of states still differs: marked or not, missing or extra, low or not, sure or not, off or on', async () => {
    const night = await furnished();
    for (const [item, reading] of [
      ['dry-gin', '3+0'],
      ['rye', '3+0'],
      ['lemon-juice', '1+0'],
      ['simple-syrup', '1+0'],
      ['egg-white', '1'],
      ['aromatic-bitters', '0.9'],
    ])
      await night.ok('count', item as string, reading as string);
    night.later(10);
    await night.ok('open --by Ines');
    await night.ok('pour 1 lantern-sour');
    for (const [item, reading] of [
      ['dry-gin', '2+0'],
      ['rye', '3.3'],
      ['lemon-juice', '960ml'],
      ['simple-syrup', '988ml'],
    ])
      await night.ok('count', item as string, reading as string);
    night.store((store) => {
      const at = openRooms(store, night.world.now, { columns: 120, rows: 40 });
      const row = (name: string): string => at.rows().find((text) => text.slice(2).startsWith(name)) ?? '';
      at.press('tab', 'tab', 'tab', 'end', 'enter', 'home');
      expect(row('Dry gin').trim()).toMatch(/missing.*‼ real/);
      expect(row('Straight rye')).toMatch(/extra.*real/);
      expect(row('Lemon juice')).toMatch(/‼ real/);
      expect(row('Simple syrup')).toMatch(/within count error/);
      expect(row('Aromatic bitters')).toMatch(/not counted/);
      expect(at.rows().filter((text) => text.startsWith('› '))).toHaveLength(1);
      at.press('shift-tab', 'shift-tab');
      expect(row('Egg white')).toMatch(/out/);
      expect(at.rows()[0]).toMatch(/\[Levels\]/);
      // A key that is off stands in brackets.
      expect(at.rows().at(-1)).toContain('^O (open shift)');
    });
  });

  it('the plain theme paints nothing, black and white paints no colour, and colour keeps to codes every terminal has', async () => {
    const night = await furnished();
    await night.ok('open --by Ines');
    night.store((store) => {
      const at = openRooms(store, night.world.now, { columns: 120, rows: 40 });
      const codes = (env: Record<string, string>): Set<string> => {
        const found = new Set<string>();
        for (const room of roomsThere(at)) {
          walkTo(at, room.name);
          for (const keys of [[], ['lan', '?'], ['esc', 'ctrl-g']]) {
            at.press(...keys);
            const painted = picture(at.state())
              .map((content) => paint(content, themeOf(env)))
              .join('\n');
            // biome-ignore lint/suspicious/noControlCharactersInRegex: these are the codes looked for
            for (const [, code = ''] of painted.matchAll(/\u001b\[([\d;]*)m/g))
              for (const one of code.split(';')) found.add(one);
          }
          at.press('esc', 'esc', 'esc');
        }
        return found;
      };
      expect([...codes({ FORCE_COLOR: '0' })]).toEqual([]);
      for (const code of codes({ NO_COLOR: '1' })) expect(['1', '4', '7', '22', '24', '27']).toContain(code);
      // Never blue (34), bright black (90) or faint (2) for what must be read.
      for (const code of codes({}))
        expect([
          '1',
          '4',
          '7',
          '22',
          '24',
          '27',
          '30',
          '31',
          '32',
          '33',
          '35',
          '36',
          '37',
          '39',
          '49',
        ]).toContain(code);
      expect(codes({}).has('33')).toBe(true);
    });
  });
});

it('numbers stand in the same cell on every row, whatever the names', async () => {
  const night = openNight();
  const names = [
    'Kräuterlikör',
    'Café',
    '梅酒',
    '소주',
    `Cafe${'\u0301'} II`,
    'עראק',
    'Half ½',
    'x'.repeat(40),
    'Ein sehr langer Name für eine Flasche',
  ];
  const file = join(night.folder, 'i.csv');
  writeFileSync(
    file,
    ['id,name,kind,size', ...names.map((name, at) => `i${at},${name},spirit,700 ml`), ''].join('\n'),
  );
  await night.ok('import', file);
  for (let at = 0; at < names.length; at += 1) await night.ok(`count i${at} 1.${at}`);
  night.store((store) => {
    for (const columns of [60, 80, 120]) {
      const at = openRooms(store, night.world.now, { columns, rows: 24 });
      walkTo(at, 'levels');
      const ends = at.rows().flatMap((row) => {
        const found = / ml /.exec(row);
        return found === null ? [] : [widthOf(row.slice(0, found.index))];
      });
      expect(ends).toHaveLength(names.length);
      expect([columns, new Set(ends).size]).toEqual([columns, 1]);
      at.press('cafe');
      expect(
        at.rows().filter((row) => /Caf[eé]/u.test(row.normalize('NFC')) && row.includes(' ml ')).length,
      ).toBeGreaterThanOrEqual(2);
    }
  });
});

it('every row of every question and every thing to read is as wide as the window', async () => {
  const night = await furnished();
  await night.ok('count dry-gin 1.0');
  await night.ok('open --by Ines');
  night.store((store) => {
    for (const [columns, rows] of [
      [60, 16],
      [80, 24],
      [120, 40],
      [200, 60],
    ] as const) {
      const at = openRooms(store, night.world.now, { columns, rows });
      for (const room of roomsThere(at)) {
        for (const keys of [
          ['ctrl-g'],
          ['ctrl-g', 'down', 'end'],
          ['ctrl-p'],
          ['ctrl-w', 'a note '.repeat(40)],
          ['ctrl-x'],
          ['ctrl-t'],
          ['lan', 'ctrl-k'],
          ['enter'],
          ['ctrl-d', '7', 'enter'],
        ]) {
          for (let press = 0; press < 5; press += 1) at.press('esc');
          walkTo(at, room.name);
          at.press(...keys);
          const screen = picture(at.state());
          expect([room.name, keys, screen.length]).toEqual([room.name, keys, rows]);
          for (const content of screen)
            expect([room.name, keys, widthOf(plainText(content))]).toEqual([room.name, keys, columns]);
        }
      }
    }
  });
});
