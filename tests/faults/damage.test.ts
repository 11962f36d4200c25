// Bytes changed at random in the file of the books: what answers is sound books, or one sentence; never a crash, never silence over
// other figures.
import { copyFileSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { BOOKS_FILE } from '../../src/store/file/open/names.ts';
import { sealed } from '../support/night.ts';

const damage = fc.record({
  where: fc.double({ min: 0, max: 1, noNaN: true }),
  how: fc.constantFrom('bit', 'zeros', 'noise', 'cut', 'page', 'log'),
  more: fc.uint8Array({ minLength: 64, maxLength: 64 }),
});
const looks = ['report --json', 'levels --json', 'log', 'export events', 'drift', 'costs', 'items'];

it('each is answered by sound books or by one sentence', { timeout: 600_000 }, async () => {
  const night = await sealed();
  const file = join(night.folder, BOOKS_FILE);
  await night.ok('open');
  await night.ok('pour 2 rye-lamp');
  const db = new DatabaseSync(file);
  db.exec('PRAGMA wal_checkpoint(TRUNCATE)');
  db.close();
  const whole = join(night.folder, 'whole');
  copyFileSync(file, whole);
  const said = new Map<string, string>();
  for (const line of looks) said.set(line, await night.ok(line));
  const outcomes = { sound: 0, told: 0 };
  await fc.assert(
    fc.asyncProperty(damage, async ({ where, how, more }) => {
      for (const ending of ['-wal', '-shm', '.restored']) rmSync(file + ending, { force: true });
      copyFileSync(whole, file);
      const bytes = readFileSync(file);
      const at = Math.floor(where * (bytes.length - 1));
      if (how === 'bit') bytes[at] = (bytes[at] ?? 0) ^ (1 << ((more[0] ?? 0) % 8));
      if (how === 'zeros') bytes.fill(0, at, Math.min(bytes.length, at + (more[1] ?? 0)));
      if (how === 'noise') bytes.set(more.subarray(0, Math.min(64, bytes.length - at)), at);
      if (how === 'page') bytes.copy(bytes, at - (at % 4096), 4096, 8192);
      writeFileSync(file, bytes);
      if (how === 'cut') truncateSync(file, at);
      if (how === 'log') writeFileSync(`${file}-wal`, Buffer.concat([more, more, bytes.subarray(at)]));

      const check = await night.run('check');
      expect([0, 1, 65, 78]).toContain(check.exit);
      if (check.exit > 1) expect(check.err).toMatch(/^[^\n]+\.( Beside it stands [^\n]+\.)?\n$/);
      const isSound = check.exit === 0;
      if (isSound) outcomes.sound += 1;
      else outcomes.told += 1;
      for (const line of looks) {
        const { exit, out, err } = await night.run(line);
        expect([line, [0, 65, 78].includes(exit)]).toEqual([line, true]);
        if (exit !== 0) expect([isSound, err]).toEqual([false, expect.stringMatching(/\.\n$/)]);
        else if (isSound) expect([line, out]).toEqual([line, said.get(line)]);
      }
      const poured = await night.run('pour 1 rye-lamp');
      expect([0, 65, 73, 78]).toContain(poured.exit);
    }),
    { numRuns: Number(process.env.ULLAGE_RUNS ?? 60) },
  );
  expect(outcomes.told).toBeGreaterThan(5);
});
