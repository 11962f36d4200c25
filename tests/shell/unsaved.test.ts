// Taps kept from when the rooms closed: a file that can't be taken away afterwards is said, and ends nothing.
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { keepUnsaved, takeUpUnsaved } from '../../src/shell/disk/unsaved.ts';
import { stocked } from '../support/night.ts';

it('a file that stays is said at each start; its taps are recorded once', async ({ skip }) => {
  const night = await stocked();
  const file = join(night.folder, 'unsaved.jsonl');
  await night.ok('pour 2 rye-lamp');
  night.store((store) => {
    const [poured] = store.log(1);
    if (poured === undefined) throw new Error('nothing poured');
    const id = poured.event.id.replace(/.$/, (last) => (last === '1' ? '2' : '1')) as typeof poured.event.id;
    const tap = { ...poured.event, id, seq: poured.event.seq + 1 };
    expect(keepUnsaved([file], [tap])).toBe(file);
    if (spawnSync('chattr', ['+i', file]).status !== 0) skip('no file can be made to stay here');
    try {
      for (const said of [/Saved now.*can't be removed/, /can't be removed/])
        expect(takeUpUnsaved(store, [file])?.text).toMatch(said);
      expect(store.books().shift?.drinks.get('rye-lamp' as never)?.count).toBe(4);
    } finally {
      execFileSync('chattr', ['-i', file]);
    }
    takeUpUnsaved(store, [file]);
    expect(existsSync(file)).toBe(false);
    expect(store.books().shift?.drinks.get('rye-lamp' as never)?.count).toBe(4);
  });
});
