// A disk that is full at a station, and one that is full at the server: a page goes in whole or not at all, what was confirmed stays, and
// once there is room both hold the same.
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import type { EventDraft } from '../../src/domain/ledger/event.ts';
import { prepareServer } from '../../src/store/server/admin.ts';
import { makeHouse, must, type TestHouse, type TestStation } from '../support/house.ts';
import { tempFolder } from '../support/night.ts';
import { startServer, type TestServer, withServer } from '../support/server.ts';

/** A disk of so much; null where mounting is not allowed. */
function smallDisk(size: string): string | null {
  const folder = mkdtempSync(join(tmpdir(), 'ullage-small-'));
  const isMounted =
    spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${size},mode=777`, 'tmpfs', folder]).status === 0;
  onTestFinished(() => {
    if (isMounted) execFileSync('umount', ['-l', folder]);
    rmSync(folder, { recursive: true, force: true });
  });
  return isMounted ? folder : null;
}

const line = (n: number): EventDraft => ({
  kind: 'note-written',
  shift: null,
  by: null,
  item: null,
  text: `${n} ${'a long line '.repeat(20)}`,
});
const record = (one: TestStation, many: number): void => {
  for (let n = 0; n < many; n += 1) must(one.store().record(() => ({ ok: true, value: [line(n)] })));
};
const numbers = (one: TestStation): string[] =>
  must(one.books().heads()).map(({ station, seq }) => `${station} ${seq}`);

withServer('a full disk', () => {
  it('at a station: nothing of a page is kept, and it comes once there is room', async ({ skip }) => {
    const small = smallDisk('900k');
    if (small === null) return skip('mounting is not allowed here');
    const server = await startServer();
    onTestFinished(() => server.end());
    must(await server.asAdmin(prepareServer));
    const house = await makeHouse(server, tempFolder(), ['bar']);
    onTestFinished(() => house.close());
    const [bar] = house.stations as [TestStation];
    record(bar, 900);
    await bar.exchange();
    const far = await makeHouseStation(server, house, small);
    const filler = join(small, 'filler');
    const outcome = await far.exchange(undefined, 100);
    // The disk takes some pages and then none: what it took is whole.
    expect([outcome.problem?.code, outcome.problem?.exit]).toEqual(['disk-full', 73]);
    expect(outcome.taken % 100).toBe(0);
    const [held] = must(far.books().heads());
    expect(held?.seq ?? 0).toBe(outcome.taken);
    writeFileSync(filler, '');
    execFileSync('mount', ['-o', 'remount,size=40m', small]);
    const rest = await far.exchange(undefined, 100);
    expect([rest.problem, rest.taken + outcome.taken]).toEqual([null, 900]);
    expect(numbers(far)).toEqual(numbers(bar));
  });

  it('at the server: the station keeps what it has, and sends it once there is room', async ({ skip }) => {
    const small = smallDisk('120m');
    if (small === null) return skip('mounting is not allowed here');
    const server = await startServer(['max_wal_size=32MB', 'min_wal_size=32MB', 'wal_recycle=off'], small);
    onTestFinished(() => server.end());
    must(await server.asAdmin(prepareServer));
    const house = await makeHouse(server, tempFolder(), ['bar', 'yard']);
    onTestFinished(() => house.close());
    const [bar, yard] = house.stations as [TestStation, TestStation];
    record(bar, 50);
    expect((await bar.exchange()).problem).toBeNull();
    const filler = join(small, 'filler');
    spawnSync('sh', ['-c', `head -c 200m /dev/zero > ${filler} 2>/dev/null`]);
    record(bar, 3000);
    const full = await bar.exchange();
    expect(full.problem?.exit).toBe(69);
    rmSync(filler);
    // It may have stopped for want of room: then whoever keeps it starts it again.
    await server.revive();
    await bar.relink();
    await yard.relink();
    expect((await bar.exchange()).problem).toBeNull();
    expect((await yard.exchange()).problem).toBeNull();
    expect(numbers(yard)).toEqual(['bar 3050']);
  });
});

/** One more station of a house, on a disk of its own. */
async function makeHouseStation(server: TestServer, house: TestHouse, disk: string): Promise<TestStation> {
  const folder = join(disk, 'books');
  mkdirSync(folder);
  const station = await house.add('far', folder);
  expect(server.port).toBeGreaterThan(0);
  return station;
}
