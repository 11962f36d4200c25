// A card that is half written when the rooms close goes on at the next start; once it is written nothing is left of it.
import { readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { furnished } from '../support/night.ts';
import { keys, type Pty, startProgram } from '../support/pty.ts';

const open = async (barred = false) => {
  const night = await furnished(new Date(Date.now() - 600_000).toISOString());
  await night.ok('open --by Ines');
  const notes = join(night.folder, 'notes');
  // A file where the folder should be: no disk takes it.
  if (barred) writeFileSync(notes, '');
  const start = async (): Promise<Pty> => {
    const env = { XDG_CONFIG_HOME: night.folder, XDG_STATE_HOME: notes };
    const at = startProgram(['--data', night.folder], { env });
    await at.sees('Ines pouring');
    return at;
  };
  const kept = (): string[] =>
    readdirSync(join(notes, 'ullage')).filter((name) => name.startsWith('half-written'));
  return { night, start, kept };
};

const begin = async (at: Pty): Promise<void> => {
  at.type(`grey heron${keys.ctrl('n')}`);
  await at.sees('A new drink');
  at.type('40 ml rye');
  await at.sees('measured at');
};

it.each(['^C ^C', 'a closed window'])('left by %s', async (how) => {
  const { night, start, kept } = await open();
  const first = await start();
  await begin(first);
  if (how === '^C ^C') {
    first.type(keys.ctrl('c'));
    await first.sees('stays for the next start');
    first.type(keys.ctrl('c'));
  } else first.hangUp();
  await first.exit;
  expect(kept()).toHaveLength(1);

  const second = await start();
  await second.sees('Half written when the rooms closed: Grey Heron.');
  second.type(keys.ctrl('n'));
  await second.sees('40 ml rye');
  second.type('\r\r');
  await second.sees('Wrote spec Grey Heron');
  second.type(keys.ctrl('c') + keys.ctrl('c'));
  await second.exit;
  expect(kept()).toEqual([]);
  // It is written, and not poured: the round it was for is long served.
  const log = await night.ok('log');
  expect(log).toContain('Wrote spec Grey Heron');
  expect(log).not.toContain('Poured 1 Grey Heron');
});

it('where no disk takes it, the lines are left on the screen', async () => {
  const { start } = await open(true);
  const at = await start();
  await begin(at);
  at.type(keys.ctrl('c') + keys.ctrl('c'));
  await at.sees('Half written and not kept:');
  await at.sees('# Grey Heron');
  await at.sees('40 ml rye');
  expect((await at.exit).exitCode).toBe(73);
});
