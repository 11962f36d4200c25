// The Count room: short counts, and who counts at this window.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { furnished, late, stocked } from '../support/night.ts';
import { type Rooms, roomsAt } from '../support/rooms.ts';

/** The row that is marked. */
const markedIn = (at: Rooms): string =>
  at
    .rows()
    .find((row) => row.startsWith('› '))
    ?.slice(4, 20)
    .trim() ?? '';

const within = roomsAt({ columns: 120, rows: 40 });

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
          .map((row) => row.slice(4).split(/ {2,}| (?:bar|fridge)/)[0])
          .filter((name) => name !== 'item');
      expect(walked()).toEqual(['Straight rye', 'Lemon juice', 'Simple syrup']);
      at.press('1.1', 'enter');
      expect(walked()).toEqual(['Straight rye', 'Lemon juice', 'Simple syrup']);
      at.press('1+900ml', 'enter', '1+900ml', 'enter');
      expect(at.state().message?.text).toContain('Counted: what moved tonight');
      expect(store.books().shift?.periods).toHaveLength(3);
    });
  });

  it('stands still while it is walked, also where nothing was counted before', async () => {
    const night = await furnished();
    for (const [item, many] of [
      ['dry-gin', '6'],
      ['rye', '3'],
      ['lemon-juice', '4'],
      ['simple-syrup', '2'],
    ] as const)
      await night.ok(`receive ${many} ${item}`);
    night.later(5);
    await night.ok('open --by Ines');
    await night.ok('pour 2 lantern-sour');
    night.later(30);
    within(night, (at, store) => {
      at.press('tab', 'tab');
      for (const scope of ['what moved tonight', 'the twenty worth most'] as const) {
        at.press('ctrl-f');
        const walk = () =>
          at
            .rows()
            .filter((row) => /^[› ] [✓ ] \S/.test(row))
            .map((row) => row.slice(4).split(/ {2,}| (?:bar|fridge)/)[0])
            .filter((name) => name !== 'item');
        const before = walk();
        expect(before.length).toBeGreaterThan(2);
        expect(at.screen()).toContain(scope);
        at.press('home', '1.4', 'enter');
        // What came in and was poured is counted, and the next reading is that of the next bottle on the list.
        expect(walk()).toEqual(before);
        if (scope === 'what moved tonight') expect(markedIn(at)).toBe(before[1]);
        at.press('1.3', 'enter');
        expect(walk()).toEqual(before);
      }
      expect(store.books().shift).not.toBeNull();
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

describe('the Count room', () => {
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
});

describe('the walk', () => {
  it('of the next night begins at the first row, wherever the last one ended', async () => {
    const night = await stocked();
    await roomsAt({ columns: 100, rows: 30 })(night, (at) => {
      at.press('tab', 'tab');
      const first = markedIn(at);
      for (const reading of ['2+0', '1.5', '0.9', '2+0', '2+0', '12']) at.press(reading, 'enter');
      expect(at.screen()).toContain('All is counted');
      at.press('tab', 'ctrl-x', 'seal', 'enter');
      night.later(600);
      at.press('ctrl-o', 'enter', 'tab', 'tab');
      expect(markedIn(at)).toBe(first);
    });
  });

  it('goes to a row by its name, and on from there', async () => {
    await roomsAt({ columns: 100, rows: 30 })(await stocked(), (at) => {
      at.press('tab', 'tab', 'simple');
      expect(at.screen()).toContain('Enter goes to Simple syrup');
      at.press('enter');
      expect(markedIn(at)).toContain('Simple syrup');
      at.press('zzz', 'enter');
      expect(at.screen()).toContain('Nothing on this walk is called "zzz"');
      expect(markedIn(at)).toContain('Simple syrup');
    });
  });

  it('comes back after a mend to where it was', async () => {
    await roomsAt({ columns: 100, rows: 30 })(await stocked(), (at) => {
      at.press('tab', 'tab');
      const rows = [markedIn(at)];
      for (const reading of ['1.2', '1.1']) {
        at.press(reading, 'enter');
        if (at.screen().includes('read it again')) at.press('enter');
        rows.push(markedIn(at));
      }
      at.press('up', 'up', '1.3', 'enter');
      if (at.screen().includes('read it again')) at.press('enter');
      expect(markedIn(at)).toBe(rows[2]);
      at.press('ctrl-u');
      expect(markedIn(at)).toBe(rows[0]);
      at.press('1.4', 'enter');
      if (at.screen().includes('read it again')) at.press('enter');
      expect(markedIn(at)).toBe(rows[2]);
    });
  });
});
