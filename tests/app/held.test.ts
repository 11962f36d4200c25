// What can't be written is held, shown, tried again in order, and never recorded twice; what is refused is never glued to the next.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { createApp } from '../../src/app/run.ts';
import { intendHandover } from '../../src/domain/intent/intend-shift.ts';
import type { Event } from '../../src/domain/ledger/event.ts';
import type { PersonId } from '../../src/domain/value/ids.ts';
import { type Problem, refuse } from '../../src/domain/value/problem.ts';
import { writeEvent } from '../../src/exchange/file/event-lines.ts';
import { writeText } from '../../src/shell/disk/files.ts';
import type { Store } from '../../src/store/store.ts';
import { openNight, stocked } from '../support/night.ts';
import { type Rooms, roomsOn } from '../support/rooms.ts';

const codes: Readonly<Record<string, string>> = {
  'disk-full': 'The disk is full; nothing was recorded. Free some space and try again.',
  busy: 'Another program holds the books. Try again in a moment.',
  'not-synced': 'The disk would not confirm what was written, so it may or may not be saved.',
  'file-gone': 'The books were moved or replaced.',
};

type Fault = { code: string | null; stores: boolean };

/** The store of a night that fails as it is told to; `stores` when the write went through and only its answer was lost. */
function failing(store: Store, fault: Fault): Store {
  const problem = (code: string): Problem => ({ code, exit: 73, message: codes[code] ?? code });
  return {
    ...store,
    record: (...words) => {
      if (fault.code === null) return store.record(...words);
      if (fault.stores) store.record(...words);
      return { ok: false, problems: [problem(fault.code)] };
    },
  };
}

async function inRooms(work: (at: Rooms, fault: Fault, store: Store) => void): Promise<void> {
  const night = await stocked();
  night.store((store) => {
    const fault: Fault = { code: null, stores: false };
    const failed = failing(store, fault);
    const app = createApp(failed, night.world.now, { columns: 80, rows: 24 }, () => undefined, {
      writeOut: (file, events) =>
        file.startsWith('/nowhere/')
          ? refuse('cannot-write', `${file} can't be written.`, 73)
          : writeText(file, [...events].map(writeEvent).join('')),
    });
    work(roomsOn(app), fault, store);
  });
}

const counts = (store: Store): number[] =>
  [...store.allEvents()].flatMap((event: Event) => (event.kind === 'drink-poured' ? [event.count] : []));

it.each(['disk-full', 'busy'])(
  '%s: taps are held in order, shown apart, and saved when it is over',
  async (code) => {
    await inRooms((at, fault, store) => {
      at.press('1 rye', 'enter');
      fault.code = code;
      at.press('3 rye', 'enter', '4 rye', 'enter', '5 lan', 'enter');
      expect(counts(store)).toEqual([1]);
      expect(at.rows()[0]).toContain('NOT SAVED: 3 taps');
      expect(at.screen()).toContain('Not saved yet: Poured 5 Lantern Sour');
      // They were poured, so what is left counts them.
      expect(at.screen()).toContain('4 Rye Lamp');
      at.app.dispatch({ type: 'retry' });
      expect(at.rows()[0]).toContain('NOT SAVED: 3 taps');
      fault.code = null;
      at.app.dispatch({ type: 'retry' });
      expect(counts(store)).toEqual([1, 3, 4, 5]);
      expect(at.rows()[0]).not.toContain('NOT SAVED');
      expect(at.screen()).toContain('Everything is saved again.');
    });
  },
);

it('Enter tries again, and nothing new overtakes what waits', async () => {
  await inRooms((at, fault, store) => {
    fault.code = 'disk-full';
    at.press('3 rye', 'enter');
    fault.code = null;
    at.press('4 rye', 'enter');
    expect(counts(store)).toEqual([3, 4]);
    fault.code = 'disk-full';
    at.press('5 rye', 'enter');
    fault.code = null;
    at.press('enter');
    expect(counts(store)).toEqual([3, 4, 5]);
  });
});

it('a write that went through unheard is not made a second time', async () => {
  await inRooms((at, fault, store) => {
    Object.assign(fault, { code: 'busy', stores: true });
    at.press('3 rye, 2 lan', 'enter');
    expect(counts(store)).toEqual([3, 2]);
    Object.assign(fault, { code: null, stores: false });
    at.app.dispatch({ type: 'retry' });
    expect(counts(store)).toEqual([3, 2]);
    expect(at.rows()[0]).not.toContain('NOT SAVED');
    expect(store.check([])).toEqual([]);
  });
});

it('is held at the moment it was tapped', async () => {
  const night = await stocked();
  night.later(30);
  night.store((store) => {
    const fault: Fault = { code: 'busy', stores: false };
    const app = createApp(failing(store, fault), night.world.now, { columns: 80, rows: 24 }, () => undefined);
    const at = roomsOn(app);
    const tapped = new Date(night.world.now()).toISOString();
    at.press('2 rye 10 ago', 'enter', '3 rye', 'enter');
    night.later(45);
    fault.code = null;
    app.dispatch({ type: 'retry' });
    const events = [...store.allEvents()].filter(({ kind }) => kind === 'drink-poured');
    expect(events.map((event) => [event.kind === 'drink-poured' && event.count, event.at])).toEqual([
      [2, new Date(Date.parse(tapped) - 600_000).toISOString()],
      [3, tapped],
    ]);
  });
});

it('^U takes out the last one that is not saved, and nothing that is', async () => {
  await inRooms((at, fault, store) => {
    at.press('1 rye', 'enter');
    fault.code = 'disk-full';
    at.press('3 rye', 'enter', '4 rye', 'enter', 'ctrl-u');
    expect(at.screen()).toContain('Taken out, it was not saved yet: Poured 4 Rye Lamp');
    expect(at.rows()[0]).toContain('NOT SAVED: 1 tap');
    fault.code = null;
    at.app.dispatch({ type: 'retry' });
    expect(counts(store)).toEqual([1, 3]);
  });
});

it.each(['not-synced', 'file-gone'])(
  '%s: nothing more is taken, and everything the rooms hold can be written to a file that imports',
  async (code) => {
    const other = openNight('2026-11-21T03:00:00.000Z', 'other');
    const file = join(other.folder, 'held.jsonl');
    await inRooms((at, fault, store) => {
      at.press('1 rye', 'enter');
      fault.code = code;
      at.press('3 rye', 'enter', '4 rye', 'enter');
      expect(at.rows()[0]).toContain('NOT SAVED: 1 tap');
      expect(at.screen()).toContain('not poured: 4 rye');
      at.press('ctrl-c');
      expect(at.screen()).toContain('1 tap is not saved. What now?');
      at.press('enter');
      for (const _ of 'ullage-2026-11-20.jsonl') at.press('backspace');
      at.press('/nowhere/x', 'enter');
      expect(at.screen()).toContain("can't be written");
      // What was refused makes way for the next name.
      at.press(file, 'enter');
      expect(at.screen()).toContain(`Wrote all events of the books and 1 that is not saved to`);
      expect(at.rows()[0]).toContain('NOT SAVED: 1 tap');
      expect(counts(store)).toEqual([1]);
    });
    expect(readFileSync(file, 'utf8').trim().split('\n').length).toBeGreaterThan(10);
    await other.ok('import', file);
    other.store((store) => expect(counts(store)).toEqual([1, 3]));
    expect(await other.ok('check')).toBe('');
  },
);

it('leaving with something unsaved asks, stays on Esc, and a second ^C leaves', async () => {
  await inRooms((at, fault) => {
    fault.code = 'disk-full';
    at.press('3 rye', 'enter', 'ctrl-c');
    expect(at.screen()).toContain('^C again leaves; what is not saved');
    at.press('esc');
    expect(at.screen()).not.toContain('What now?');
    at.press('ctrl-c', 'down', 'enter');
    expect(at.state().held).toHaveLength(1);
  });
});

it('what was held and is refused after all stays unsaved, each of it, until somebody takes it out', async () => {
  await inRooms((at, fault, store) => {
    fault.code = 'busy';
    at.press('3 rye', 'enter', '4 rye', 'enter', '5 lan', 'enter');
    fault.code = null;
    const shift = at.state().books.shift?.id as never;
    store.record(() => ({ ok: true, value: [{ kind: 'shift-sealed', shift, by: null, of: shift }] }));
    at.app.dispatch({ type: 'retry' });
    expect(at.screen()).toMatch(/Not recorded: Poured 5 Lantern Sour\. No shift is open/);
    expect(at.rows()[0]).toContain('NOT SAVED: 3 taps');
    at.app.dispatch({ type: 'retry' });
    expect(at.rows()[0]).toContain('NOT SAVED: 3 taps');
    // The next night is opened and poured in, and what is refused stands beside it.
    at.press('ctrl-o', 'enter', '4 rye', 'enter');
    expect(counts(store)).toEqual([4]);
    expect(at.rows()[0]).toContain('NOT SAVED: 3 taps');
    at.press('ctrl-c');
    expect(at.screen()).toContain('3 taps are not saved. What now?');
    at.press('esc', 'ctrl-u', 'ctrl-u', 'ctrl-u');
    expect(at.rows()[0]).not.toContain('NOT SAVED');
    expect(counts(store)).toEqual([4]);
  });
});

it('is saved in the hand it was tapped in, whoever pours by then', async () => {
  await inRooms((at, fault, store) => {
    fault.code = 'busy';
    at.press('3 rye', 'enter');
    fault.code = null;
    store.record((books) => intendHandover(books, 'tom' as PersonId));
    at.app.dispatch({ type: 'retry' });
    const poured = [...store.allEvents()].find(({ kind }) => kind === 'drink-poured');
    expect(poured?.by).toBe('ines');
  });
});

it('a shift that is opened while the disk is full is poured in, and both are saved', async () => {
  const night = await stocked();
  await night.ok('close --seal');
  night.later(30);
  night.store((store) => {
    const fault: Fault = { code: 'disk-full', stores: false };
    const at = roomsOn(
      createApp(failing(store, fault), night.world.now, { columns: 80, rows: 24 }, () => undefined),
    );
    at.press('ctrl-o', 'enter', '3 rye', 'enter');
    expect(at.rows()[0]).toContain('NOT SAVED: 2 taps');
    fault.code = null;
    at.app.dispatch({ type: 'retry' });
    expect(counts(store)).toEqual([3]);
    expect(store.check([])).toEqual([]);
  });
});

it('typed ahead of a refusal: each drink stands for itself', async () => {
  await inRooms((at, _, store) => {
    at.press('3 rye', 'enter', '4 zzz', 'enter', '5 rye', 'enter', '6 rye', 'enter');
    expect(counts(store)).toEqual([3, 5, 6]);
    expect(at.screen()).toContain('not poured: 4 zzz  (Backspace takes it up again)');
    // Long after, an empty Enter does not pour it.
    at.press('enter');
    expect(counts(store)).toEqual([3, 5, 6]);
    at.press('backspace', 'backspace', 'backspace', 'backspace', 'rye', 'enter');
    expect(counts(store)).toEqual([3, 5, 6, 4]);
  });
});

it('a reading that is refused bars the next ones: they would be those of other bottles', async () => {
  await inRooms((at, _, store) => {
    at.press('tab', 'tab');
    const before = [...store.allEvents()].length;
    at.press('2.x', 'enter', '1.4', 'enter', '0.3', 'enter');
    expect([...store.allEvents()].length).toBe(before);
    expect(at.screen()).toContain('"2.x" was not recorded, so nothing further is');
    at.press('backspace', 'backspace', '5', 'enter');
    expect([...store.allEvents()].length).toBe(before + 1);
  });
});

it('an answer that is refused makes way for the next one', async () => {
  await inRooms((at, _, store) => {
    at.press('tab', 'enter', 'down', 'enter', '1000 l', 'enter');
    expect(at.screen()).toContain('1000 l');
    at.press('50', 'enter');
    expect([...store.allEvents()].at(-1)).toMatchObject({ kind: 'stock-lost', amount: 50_000 });
  });
});

it('asked on leaving where unsaved taps should go, a card being written is put aside, and goes on', async () => {
  await inRooms((at, fault) => {
    fault.code = 'disk-full';
    at.press('3 rye', 'enter', 'grey heron', 'ctrl-n', '40 ml rye', 'ctrl-c');
    expect(at.state().dialog?.kind).toBe('unsaved');
    at.press('esc', 'ctrl-n');
    expect(at.state().dialog).toMatchObject({ kind: 'write', text: '# Grey Heron\n40 ml rye' });
  });
});
