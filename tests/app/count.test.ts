// The Count room: short counts, and who counts at this window.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { late } from '../support/night.ts';
import { roomsAt } from '../support/rooms.ts';

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
