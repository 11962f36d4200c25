// Keys nobody meant: one held down, a paste without a mark, the same pour over and over; and a clock that jumped.
import { expect, it } from 'vitest';
import { keyReader, keysOf } from '../../src/app/keys.ts';
import { createApp } from '../../src/app/run.ts';
import type { Store } from '../../src/store/store.ts';
import { type Night, sealed, stocked } from '../support/night.ts';
import { type Rooms, roomsOn } from '../support/rooms.ts';

const poured = (store: Store): number[] =>
  store
    .log(500)
    .flatMap(({ event, takenBack }) => (event.kind === 'drink-poured' && !takenBack ? [event.count] : []))
    .reverse();

/** Rooms whose keys come at moments. */
async function timed(
  work: (at: Rooms, tap: (key: string, after: number) => void, store: Store) => void,
): Promise<void> {
  const night = await stocked();
  night.store((store) => {
    const app = createApp(store, night.world.now, { columns: 80, rows: 24 }, () => undefined);
    let ms = 1000;
    const tap = (key: string, after: number): void => {
      ms += after;
      app.dispatch({ type: 'key', key, ms });
    };
    work(roomsOn(app), tap, store);
  });
}

it('^R held for two seconds pours once, and is said', async () => {
  await timed((at, tap, store) => {
    at.press('3 rye', 'enter');
    for (let count = 0; count < 62; count += 1) tap('ctrl-r', 32);
    expect(poured(store)).toEqual([3, 3]);
  });
});

it('^R held the way a keyboard repeats it pours once: what it did before it could be told from a finger is taken back', async () => {
  await timed((at, tap, store) => {
    at.press('3 rye, 1 lan', 'enter');
    tap('ctrl-r', 2000);
    tap('ctrl-r', 500);
    for (let count = 0; count < 40; count += 1) tap('ctrl-r', 33);
    expect(poured(store)).toEqual([3, 1, 3, 1]);
    expect(at.screen()).toContain('^R was held down. Took back 2 at once; the Log keeps them.');
    tap('ctrl-u', 900);
    expect(poured(store)).toEqual([3, 1]);
    tap('ctrl-u', 900);
    expect(poured(store)).toEqual([]);
  });
});

it('Enter held with nothing to stop it pours once, too', async () => {
  await timed((at, tap, store) => {
    at.press('2 rye');
    for (const after of [2000, 500, 33, 33, 33, 33]) tap('enter', after);
    expect(poured(store)).toEqual([2]);
  });
});

it('^R pressed on purpose pours each time, and ^U takes back one', async () => {
  await timed((at, tap, store) => {
    at.press('3 rye', 'enter');
    for (const after of [700, 250, 180]) tap('ctrl-r', after);
    expect(poured(store)).toEqual([3, 3, 3, 3]);
    tap('ctrl-u', 400);
    expect(poured(store)).toEqual([3, 3, 3]);
  });
});

it('ten of the same within two seconds are asked about, once', async () => {
  await timed((at, tap, store) => {
    const pour = (apart: number): void => {
      for (const key of ['r', 'y', 'e', 'enter']) tap(key, apart / 4);
    };
    for (let count = 0; count < 10; count += 1) pour(150);
    expect(at.screen()).toContain('Ten times in two seconds: Poured 1 Rye Lamp. Keep them all?');
    // Nothing is poured over the question.
    for (let count = 0; count < 5; count += 1) pour(150);
    expect(poured(store)).toHaveLength(10);
    tap('backspace', 400);
    expect(poured(store)).toHaveLength(1);
    for (let count = 0; count < 12; count += 1) pour(100);
    tap('esc', 400);
    for (let count = 0; count < 12; count += 1) pour(100);
    expect(at.screen()).not.toContain('Keep them all?');
    expect(poured(store).length).toBeGreaterThan(20);
  });
});

it('a quick bar is not asked: nine in two seconds, or ten in three', async () => {
  await timed((at, tap, store) => {
    for (let count = 0; count < 15; count += 1) for (const key of ['r', 'y', 'e', 'enter']) tap(key, 62);
    expect(poured(store)).toHaveLength(15);
    expect(at.screen()).not.toContain('Keep them all?');
  });
});

it('of a paste that comes as keys the first line is taken and nothing after it, in however many pieces', () => {
  let now = 0;
  const due: { at: number; work: () => void }[] = [];
  const taken: string[] = [];
  let dropped = 0;
  const read = keyReader({ now: () => now, later: (work, ms) => due.push({ at: now + ms, work }) }, (one) => {
    taken.push(...one.keys);
    dropped += one.dropped;
  });
  const pass = (ms: number): void => {
    for (const end = now + ms; now < end; now += 1)
      for (const one of due.splice(0))
        if (one.at <= now) one.work();
        else due.push(one);
  };
  for (const size of [5000, 1000, 300, 100]) {
    taken.length = 0;
    const text = '9 rye\r'.repeat(714);
    for (let at = 0; at < text.length; at += size) {
      read(text.slice(at, at + size), {});
      pass(5);
    }
    pass(400);
    expect([size, taken.join('')]).toEqual([size, '9 ryeenter']);
  }
  expect(dropped).toBeGreaterThan(1000);
  // Typed ahead while a disk was slow: every key counts, in order, and single keys at once.
  taken.length = 0;
  read('9 rye\r32 rye\r33 lantern\r2 lan: -egg white\r'.repeat(7), {});
  read('x', {});
  pass(60);
  expect(taken.filter((key) => key === 'enter')).toHaveLength(28);
  expect(taken.at(-1)).toBe('x');
  read('y', {});
  expect(taken.at(-1)).toBe('y');
});

/** Rooms whose keys come in reads. */
const inReads = (work: (at: Rooms, read: (text: string) => void, store: Store) => void): Promise<void> =>
  timed((at, _, store) => {
    let ms = 50_000;
    const read = (text: string): void => {
      ms += 1000;
      for (const key of keysOf(text, {})) at.app.dispatch({ type: 'key', key, ms });
      at.app.dispatch({ type: 'read-over', ms });
    };
    work(at, read, store);
  });

it('five or more pours that came in one read all stand, are said, and one key takes back all but the first', () =>
  inReads((at, read, store) => {
    read('2 rye\r3 lan\r4 rye\r5 lan\r');
    expect(at.screen()).not.toContain('came at once');
    read('6 rye\r7 lan\r8 rye\r9 lan\r1 rye\r');
    expect(poured(store)).toEqual([2, 3, 4, 5, 6, 7, 8, 9, 1]);
    expect(at.screen()).toContain('✓ Poured 1 Rye Lamp');
    expect(at.screen()).toContain('5 came at once; Backspace leaves the first.');
    read('\u007f');
    expect(poured(store)).toEqual([2, 3, 4, 5, 6]);
    expect(at.screen()).toContain('Took back 4 at once; the Log keeps them.');
    read('\u007f');
    expect(poured(store)).toEqual([2, 3, 4, 5, 6]);
    expect(store.check([])).toEqual([]);
  }));

it('what was typed ahead is in nobody’s way: the next key goes on, and nothing of it goes back by a slip', () =>
  inReads((at, read, store) => {
    const ahead = '1 rye\r2 lan\r3 rye\r4 lan\r5 rye\r';
    read(ahead);
    read('6 lan\r');
    read('\u007f');
    expect(poured(store)).toEqual([1, 2, 3, 4, 5, 6]);
    // Half a line after them is what Backspace mends, and then it means nothing.
    read(`${ahead}7 lax`);
    read('\u007f');
    read('\u007f\u007f\u007f\u007f\u007f\u007f\u007f');
    expect(poured(store)).toEqual([1, 2, 3, 4, 5, 6, 1, 2, 3, 4, 5]);
    // So is a line that was refused.
    read(`${ahead}no such thing\r`);
    read('\u007f');
    expect(poured(store)).toHaveLength(16);
    expect(at.screen()).toContain('no such thing');
  }));

type Clocks = { readonly jump: (hours: number) => void };

async function withClock(
  night: Night,
  work: (at: Rooms, clocks: Clocks, store: Store) => void,
): Promise<void> {
  night.store((store) => {
    let steady = 0;
    const app = createApp(store, night.world.now, { columns: 80, rows: 24 }, () => undefined, {
      steady: () => steady,
    });
    const jump = (hours: number): void => {
      night.later(hours * 60);
      steady += 1000;
    };
    work(roomsOn(app), { jump }, store);
  });
}

it.each([8760, -24])(
  'a clock that goes %d h while the rooms are open is asked about before anything is recorded',
  async (hours) => {
    const night = await stocked();
    await withClock(night, (at, { jump }, store) => {
      at.press('1 rye', 'enter');
      jump(hours);
      at.press('2 rye', 'enter');
      expect(at.screen()).toMatch(/The clock went (365 days ahead|24 h back) while the rooms were open/);
      expect(poured(store)).toEqual([1]);
      at.press('enter');
      expect(poured(store)).toEqual([1]);
      expect(at.screen()).toContain('not poured: 2 rye');
      jump(-hours);
      at.press('enter');
      expect(poured(store)).toEqual([1, 2]);
      jump(3);
      at.press('3 rye', 'enter', 'down', 'enter', '4 rye', 'enter');
      expect(poured(store)).toEqual([1, 2, 3, 4]);
    });
  },
);

it('Esc at a doubted clock puts what was typed aside, so that the next is not glued to it', async () => {
  const night = await stocked();
  await withClock(night, (at, { jump }, store) => {
    jump(2);
    at.press('9 rye', 'enter', 'esc');
    jump(-2);
    at.press('2 lan', 'enter');
    expect(poured(store)).toEqual([2]);
    expect(at.screen()).toContain('not poured: 9 rye');
  });
});

it('an entry well ahead of the clock is said at the start and asked about at the first tap; taken back, it is forgotten', async () => {
  const night = await stocked();
  night.later(60 * 24 * 365);
  await night.ok('pour 9 rye-lamp');
  night.later(-60 * 24 * 365 + 10);
  await withClock(night, (at, _, store) => {
    expect(at.screen()).toContain('365 days ahead of this clock');
    at.press('2 rye', 'enter', 'enter');
    expect(poured(store)).toEqual([9]);
    at.press('ctrl-u');
    at.press('enter');
    expect(poured(store)).toEqual([2]);
    expect(store.check([])).toEqual([]);
  });
  expect((await night.run('pour 1 rye-lamp')).err).toBe('');
});

it('a seal ahead of the clock holds everything up until it is taken back; then the night goes on as it was', async () => {
  const night = await stocked();
  await night.ok('pour 2 rye-lamp');
  night.later(60 * 24 * 365);
  await night.ok('close --seal --at', new Date(night.world.now()).toISOString());
  night.later(-60 * 24 * 365 + 30);
  const refused = await night.run('open');
  expect([refused.exit, refused.out]).toEqual([65, '']);
  expect(refused.err).toContain('ahead of this clock by more than an hour');
  const seal = night.store((store) => store.log(1)[0]?.event.id ?? '');
  await night.ok('undo', seal);
  await night.ok('pour 3 rye-lamp');
  await night.ok('pour 4 rye-lamp 5 ago');
  await night.ok('close --seal');
  expect(await night.ok('check')).toBe('');
});

it('a shift open for more than twenty hours is asked about at the start, and nothing is sealed by itself', async () => {
  const night = await stocked();
  night.later(60 * 80);
  await withClock(night, (at, _, store) => {
    expect(at.screen()).toContain('has been open for 3 days');
    at.press('down', 'enter');
    expect(at.rows()[0]).toContain('[Count]');
    expect(store.books().shift?.sealedAt).toBeNull();
  });
  expect((await night.run('people add Wren')).err).toContain('has been open for 3 days');
  const other = await sealed();
  other.later(60 * 80);
  await withClock(other, (at) => expect(at.screen()).not.toContain('has been open'));
});

it('a time the clock on the wall never showed is said, typed or from the till', async () => {
  const night = await stocked();
  await night.ok('close --seal');
  await night.ok('house zone Europe/London');
  night.at('2027-03-28T00:30:00.000Z');
  await night.ok('open');
  night.at('2027-03-28T02:15:00.000Z');
  const refused = await night.run('pour', '2 rye-lamp at 01:30');
  expect([refused.exit, refused.err]).toEqual([65, expect.stringContaining('never showed 01:30')]);
  await night.ok('pour', '2 rye-lamp at 02:30');
  const { writeFileSync } = await import('node:fs');
  const file = `${night.folder}/till.csv`;
  writeFileSync(file, 'time,drink,quantity\n2027-03-28 01:30,Rye Lamp,1\n2027-03-28 02:30,Rye Lamp,1\n');
  expect((await night.run('import', file)).err).toMatch(/line 2: the clocks were put forward over that time/);
});
