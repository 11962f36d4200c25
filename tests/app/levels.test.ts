// The Levels room: deliveries with their cost, moves to places old and new, and a mark that stays on its item.
import { describe, expect, it } from 'vitest';
import { stocked } from '../support/night.ts';
import { roomsAt } from '../support/rooms.ts';

const within = roomsAt({ columns: 100, rows: 30 });

describe('the Levels room', () => {
  it('takes a delivery with its cost, and a move to a place that is new', async () => {
    const night = await stocked();
    within(night, (at, store) => {
      at.press('tab', 'dry gin', 'enter', 'down', 'down', 'enter');
      expect(at.screen()).toContain('last 18.90');
      at.press('6 at 20.00', 'enter');
      expect(at.state().message?.text).toContain('Received 6 × Dry gin at bar, 20.00 each');
      expect(store.books().items.get('dry-gin' as never)?.costMinor).toBe(2000);
      at.press('enter', 'down', 'down', 'down', 'enter', '2 to cellar', 'enter');
      expect(store.books().stock.get('dry-gin\ncellar')?.amount).toBe(1_400_000);
      at.press('enter', 'down', 'down', 'enter', '6 at much', 'enter');
      expect(at.state().message?.text).toBe('"much" is not an amount of EUR. Write 6 at 18.90.');
    });
  });

  it('after a move the mark stays on its item', async () => {
    const night = await stocked();
    within(night, (at) => {
      at.press('tab', 'down', 'down');
      const marked = () =>
        at
          .rows()
          .find((row) => row.startsWith('› '))
          ?.slice(2, 18)
          .trim();
      const before = marked();
      at.press('enter', 'down', 'down', 'down', 'enter', '1 to attic', 'enter');
      expect(at.state().message?.text).toContain('to attic');
      expect(marked()).toBe(before);
    });
  });

  it('a move of more than there is says so', async () => {
    const night = await stocked();
    within(night, (at) => {
      at.press('tab', 'dry gin', 'enter', 'down', 'down', 'down', 'enter', '9 to attic', 'enter');
      expect(at.state().message?.text).toContain('bar is below zero now');
    });
  });
});
