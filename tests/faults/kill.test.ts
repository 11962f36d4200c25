// No accepted tap is ever lost: what the screen said was poured is in the books after a kill at any moment.
import { expect, it } from 'vitest';
import { furnished } from '../support/night.ts';
import { startProgram } from '../support/pty.ts';

it('kill -9 while tapping: every pour that was shown is on disk, at most one more', async () => {
  for (let round = 0; round < 6; round += 1) {
    const night = await furnished(new Date(Date.now() - 600_000).toISOString());
    await night.ok('open --by Ines');
    const at = startProgram(['--data', night.folder], { env: { XDG_CONFIG_HOME: night.folder } });
    await at.sees('Ines pouring');
    const wanted = 3 + round * 4;
    for (let tap = 1; tap <= wanted; tap += 1) {
      // More than ten are asked about once, and Enter again pours them.
      at.type(`${tap} rye\r${tap > 10 ? '\r' : ''}`);
      await at.sees(`✓ Poured ${tap} Rye Lamp`);
    }
    at.type('99 rye\r\r99 rye\r\r');
    at.kill('SIGKILL');
    await at.exit;
    const counts = night.store((store) => {
      expect(store.check(['store', 'chain', 'replay', 'conservation'])).toEqual([]);
      return [...store.allEvents()].flatMap((event) => (event.kind === 'drink-poured' ? [event.count] : []));
    });
    expect(counts.filter((count) => count !== 99)).toEqual(
      Array.from({ length: wanted }, (_, index) => index + 1),
    );
    expect(counts.length - wanted).toBeLessThanOrEqual(2);
  }
});
