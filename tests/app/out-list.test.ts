// What is out: a list over any room that says which specs go with it and keeps itself up to date.
import { describe, expect, it } from 'vitest';
import { stocked } from '../support/night.ts';
import { roomsAt } from '../support/rooms.ts';

const within = roomsAt({ columns: 100, rows: 30 });

describe('what is out', () => {
  it('opens over any room, says which specs go with it, and keeps itself up to date', async () => {
    const night = await stocked('0.1');
    within(night, (at, store) => {
      at.press('ctrl-g');
      expect(at.screen()).toContain('Nothing is out');
      at.press('esc', '40ml dry', 'enter', 'ctrl-g');
      expect(at.screen()).toMatch(/› Dry gin +30 ml +out +2/);
      expect(at.screen()).toContain('goes with it: Lantern Sour, Gin Straight');
      // A delivery that another window records changes the list that stands open.
      store.record((books) => ({
        ok: true,
        value: [
          {
            kind: 'delivery-received',
            shift: books.shift?.id ?? null,
            by: null,
            item: 'dry-gin' as never,
            place: 'bar',
            containers: 1,
            amount: 700_000,
            costMinor: null,
          },
        ],
      }));
      at.app.dispatch({ type: 'books', books: store.books() });
      expect(at.screen()).toContain('Nothing is out');
      at.press('esc');
      expect(at.state().dialog).toBeNull();
    });
  });
});
