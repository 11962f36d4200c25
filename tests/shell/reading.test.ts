// A long file of events, read on a thread of its own: line for line the same as a short one, what is wrong with its line, and nothing
// left behind when it is given up.
import { appendFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { readEvents } from '../../src/exchange/file/event-lines.ts';
import { readLines } from '../../src/shell/disk/files.ts';
import { eventsOf } from '../../src/shell/thread/reading.ts';
import { history } from '../bench/history.ts';
import { must } from '../support/house.ts';
import { openNight, tempFolder } from '../support/night.ts';

const MANY = 20_000;

function longFile(): string {
  const file = join(tempFolder(), 'events.jsonl');
  writeFileSync(file, '');
  let text = '';
  for (const event of history(MANY)) text += `${JSON.stringify(event)}\n`;
  appendFileSync(file, text);
  return file;
}

it('gives what the same lines give when they are read at once, and how far it is', () => {
  const file = longFile();
  const shares: number[] = [];
  const lines = [...must(eventsOf(file, (share) => shares.push(share)))];
  const plain = [...readEvents(must(readLines(file)))];
  expect(lines).toHaveLength(plain.length);
  for (const [at, one] of lines.entries())
    expect(one !== null && 'body' in one ? JSON.parse(one.body) : one).toEqual(plain[at]);
  expect(shares.at(-1)).toBe(1);
  expect(shares.every((share, at) => share >= (shares[at - 1] ?? 0))).toBe(true);
});

it('names the line that is wrong, takes in nothing of it, and can be given up half way', async () => {
  const file = longFile();
  appendFileSync(file, 'no event\n');
  const night = openNight();
  const refused = await night.run('import', file);
  expect([refused.exit, refused.err]).toEqual([
    65,
    expect.stringMatching(/line 2\d{4}: The line is not JSON/),
  ]);
  expect(await night.ok('log')).toContain('Nothing is recorded yet');
  const some: unknown[] = [];
  for (const one of must(eventsOf(file, () => undefined))) {
    some.push(one);
    if (some.length === 700) break;
  }
  expect(some).toHaveLength(700);
  expect(eventsOf(join(file, 'none'), () => undefined)).toMatchObject({ ok: false });
});
