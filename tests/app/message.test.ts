// The line that answers a key: what to do about it stands last, and is not what is cut.
import { expect, it } from 'vitest';
import { stocked } from '../support/night.ts';
import { openRooms } from '../support/rooms.ts';

it.each([60, 80, 120])(
  '%i columns: a long answer is read to its end, and the footer stays',
  async (columns) => {
    const night = await stocked();
    night.store((store) => {
      const at = openRooms(store, night.world.now, { columns, rows: 16 });
      const footer = at.rows().at(-1);
      const text = `The books will not have it, ${'because of this and of that, '.repeat(4)}and so do that.`;
      at.app.dispatch({ type: 'said', text, tone: 'refused' });
      expect(at.screen().replace(/\s+/g, ' ')).toContain('and so do that.');
      expect(at.rows()).toHaveLength(16);
      expect(at.rows().at(-1)).toBe(footer);
      // Nor does it push the room away altogether.
      at.app.dispatch({ type: 'said', text: text.repeat(9), tone: 'refused' });
      expect(at.rows()[2]).toContain('▸');
      expect(at.screen()).toContain('…');
    });
  },
);
