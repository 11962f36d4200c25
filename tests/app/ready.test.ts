// The Ready room: ticked down the list, found by typing, added to and left out.
import { describe, expect, it } from 'vitest';
import { stocked } from '../support/night.ts';
import { roomsAt } from '../support/rooms.ts';

const within = roomsAt({ columns: 100, rows: 30 });

describe('the Ready room', () => {
  it('ticks with Enter down the list, finds as one types, adds and leaves out', async () => {
    const night = await stocked();
    within(night, (at, store) => {
      at.press('shift-tab');
      expect(at.state().room).toBe('ready');
      at.press('enter', 'enter');
      expect(store.books().miseTicks.size).toBe(2);
      expect(at.screen()).toMatch(/2 of \d+ ready/);
      expect(at.screen().match(/✓ .*ready 17:30/g)).toHaveLength(2);
      at.press('bar towels', 'ctrl-n');
      expect(at.screen()).toMatch(/› {3}added +bar towels/);
      at.press('juicer', 'ctrl-b');
      expect(at.state().message?.text).toContain('Left out of the mise en place: juicer');
      at.press('juicer');
      expect(at.screen()).toContain('^N adds it');
      at.press('esc', 'ctrl-u', 'juicer');
      expect(at.screen()).toMatch(/tool +juicer/);
    });
  });
});
