// Running low: said once, by the pour that crosses the line.
import { describe, expect, it } from 'vitest';
import { stocked } from '../support/night.ts';
import { roomsAt } from '../support/rooms.ts';

const within = roomsAt({ columns: 100, rows: 30 });

describe('running low', () => {
  it('is said once, by the pour that crosses the line, and not again with every pour', async () => {
    const night = await stocked('0.5');
    // 350 ml: five sours; the first leaves four.
    within(night, (at) => {
      at.press('lantern', 'enter');
      expect(at.state().message?.text).toContain('getting low: Dry gin, 4 drinks left');
      at.press('lantern', 'enter');
      expect(at.state().message?.text).not.toContain('getting low');
      at.press('3 lantern', 'enter');
      expect(at.state().message?.text).not.toContain('getting low');
      // Below zero is said by what made it so.
      at.press('lantern', 'enter');
      expect(at.state().message?.text).toContain('below zero: Dry gin');
    });
  });
});
