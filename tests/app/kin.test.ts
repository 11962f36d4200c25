// Kin: specs side by side with what differs marked, and what comes nearest when something is out.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { stocked } from '../support/night.ts';
import { roomsAt } from '../support/rooms.ts';

const within = roomsAt({ columns: 100, rows: 30 });

describe('kin', () => {
  it('stand side by side with the one measure that differs marked', async () => {
    const night = await stocked();
    const file = join(night.folder, 'kin.txt');
    writeFileSync(
      file,
      '# Rye Sour\nfamily: sour\n60 ml rye\n20 ml lemon juice\n10 ml simple syrup\n1 egg white\n2 dash aromatic bitters\ndo: shake; strain\n',
    );
    await night.ok('import', file);
    within(night, (at) => {
      at.press('lantern', 'ctrl-k');
      expect(at.screen()).toContain('Lantern Sour and its kin');
      expect(at.screen()).toMatch(/› Rye Sour +60 ml Dry gin → 60 ml Straight rye/);
      expect(at.screen()).toMatch(/≠ 60 ml +Dry gin +≠ 60 ml +Straight rye/);
      expect(at.screen()).toMatch(/ {2}20 ml +Lemon juice +20 ml +Lemon juice/);
      expect(at.screen().match(/≠/g)).toHaveLength(2);
    });
  });

  it('when the drink is out, what comes nearest stands with them', async () => {
    const night = await stocked('0.0');
    within(night, (at) => {
      at.press('lantern', 'ctrl-k');
      expect(at.screen()).toMatch(/Rye Lamp +sour, \d+ left, without Dry gin/);
    });
  });

  it('what can be poured without an item, from the Levels room', async () => {
    const night = await stocked();
    within(night, (at) => {
      at.press('tab', 'dry gin', 'enter', 'down', 'down', 'down', 'down', 'enter');
      expect(at.screen()).toContain('Without Dry gin: what comes nearest and can be poured now');
      expect(at.screen()).toMatch(/Lantern Sour +→ Rye Lamp, sour/);
    });
  });
});
