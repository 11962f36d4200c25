// Rows 1 and 9 of the card, in the rooms: killed at random moments, and two rooms and a command on the same books.
import { spawn } from 'node:child_process';
import { expect, it } from 'vitest';
import { furnished, type Night } from '../../support/night.ts';
import { startProgram } from '../../support/pty.ts';
import { makeRandom } from '../../support/random.ts';
import { program } from './program.ts';

const KILLS = Number(process.env.ULLAGE_KILLS ?? 700);
const env = ({ folder }: Night): Record<string, string> => ({
  XDG_CONFIG_HOME: folder,
  XDG_STATE_HOME: folder,
});
const before = (): string => new Date(Date.now() - 600_000).toISOString();

function pouredIn(night: Night): number[] {
  night.at(new Date().toISOString());
  return night.store((store) => {
    expect(store.check([])).toEqual([]);
    return [...store.allEvents()].flatMap((event) => (event.kind === 'drink-poured' ? [event.count] : []));
  });
}

/** Waits until so many are stored, or nothing more comes. */
async function settled(night: Night, wanted: number): Promise<void> {
  const stored = (): number =>
    night.store((store) => [...store.allEvents()].filter(({ kind }) => kind === 'drink-poured').length);
  for (let last = -1, now = stored(); now < wanted && now !== last; now = stored()) {
    last = now;
    await new Promise((resolve) => setTimeout(resolve, 4000));
  }
}

async function killOnce(random: () => number): Promise<{ shown: number; stored: number; lost: number }> {
  const night = await furnished(before());
  await night.ok('open --by Ines');
  const at = startProgram(['--data', night.folder], { env: env(night) });
  await at.sees('Ines pouring');
  // Different numbers, so that nobody asks about ten of the same; more than ten are asked about, and Enter again pours them.
  let keys = '';
  for (let tap = 1; tap <= 60; tap += 1) keys += `${tap} rye\r${tap > 10 ? '\r' : ''}`;
  const end = Math.floor(random() * keys.length);
  for (let sent = 0; sent < end; ) {
    const piece = 1 + Math.floor(random() * 12);
    at.type(keys.slice(sent, Math.min(end, sent + piece)));
    sent += piece;
    if (random() < 0.3) await new Promise((resolve) => setTimeout(resolve, Math.floor(random() * 12)));
  }
  // Some are killed in the middle of the keys, some when all of them are on the screen.
  await new Promise((resolve) => setTimeout(resolve, Math.floor(random() * 250)));
  const shown = Number(/✓ Poured (\d+) Rye Lamp/.exec(at.screen().join('\n'))?.[1] ?? 0);
  at.kill('SIGKILL');
  await at.exit;
  const stored = pouredIn(night);
  const lost = stored.length < shown || stored.some((count, index) => count !== index + 1) ? 1 : 0;
  return { shown, stored: stored.length, lost };
}

it(`killed ${KILLS} times at random: no tap that was shown is lost`, async () => {
  const random = makeRandom(20_261_127).uniform;
  const sum = { shown: 0, stored: 0, lost: 0 };
  for (let kill = 0; kill < KILLS; kill += 1) {
    const one = await killOnce(random);
    sum.shown += one.shown;
    sum.stored += one.stored;
    sum.lost += one.lost;
  }
  process.stdout.write(
    `\nkills of the rooms: ${KILLS}, ${sum.shown} taps shown, ${sum.stored} stored, ${sum.lost} lost\n`,
  );
  expect(sum.lost).toBe(0);
  expect(sum.shown).toBeGreaterThan(KILLS);
});

it('two rooms and a command, a thousand taps: all stored, each once, numbered without a gap', async () => {
  const night = await furnished(before());
  await night.ok('open --by Ines');
  const rooms = [0, 1].map(() => startProgram(['--data', night.folder], { env: env(night) }));
  for (const room of rooms) await room.sees('Ines pouring');
  const command = (count: number): Promise<number | null> =>
    new Promise((resolve) => {
      const words = [program, '--data', night.folder, 'pour', `${count} gin-straight`];
      spawn(process.execPath, words, { stdio: 'ignore', env: { ...process.env, ...env(night) } }).on(
        'exit',
        resolve,
      );
    });
  const tap = async (index: number): Promise<void> => {
    const room = rooms[index];
    for (let count = 1; count <= 450; count += 1) {
      room?.type(`${1 + (count % 9)} ${index === 0 ? 'rye' : 'lan'}\r`);
      await new Promise((resolve) => setTimeout(resolve, 25));
    }
  };
  const commands = async (): Promise<void> => {
    for (let count = 1; count <= 100; count += 1) expect(await command(1 + (count % 90))).toBe(0);
  };
  await Promise.all([tap(0), tap(1), commands()]);
  await settled(night, 1000);
  const events = night.store((store) => [...store.allEvents()].filter(({ kind }) => kind === 'drink-poured'));
  const numbers = night.store((store) =>
    [...store.allEvents()].map(({ station, seq }) => `${station} ${seq}`),
  );
  process.stdout.write(`\ntwo rooms and a command: ${events.length} of 1000 stored\n`);
  expect(events).toHaveLength(1000);
  expect(new Set(numbers).size).toBe(numbers.length);
});
