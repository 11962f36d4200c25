// The drill in the Count room: by eye, then on the scale, and how far off the eye was.
import { describe, expect, it } from 'vitest';
import type { PersonId } from '../../src/domain/value/ids.ts';
import { late } from '../support/night.ts';
import { roomsAt } from '../support/rooms.ts';

const within = roomsAt({ columns: 120, rows: 40 });

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
