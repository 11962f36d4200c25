// The Pour room: what pours nothing, because it names nothing.
import { describe, expect, it } from 'vitest';
import { stocked } from '../support/night.ts';
import { roomsAt } from '../support/rooms.ts';

const within = roomsAt({ columns: 100, rows: 30 });

describe('the Pour room', () => {
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
