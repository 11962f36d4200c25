// What is half written: nothing that comes between takes it, and it goes on where it was left.
import { expect, it } from 'vitest';
import { createApp } from '../../src/app/run.ts';
import { halfWritten } from '../../src/app/state.ts';
import type { DialogOf } from '../../src/screens/dialog.ts';
import { type Night, stocked } from '../support/night.ts';
import { type Rooms, roomsAt, roomsOn } from '../support/rooms.ts';

const within = roomsAt({ columns: 100, rows: 30 });
const lines = ['40 ml rye', 'enter', 'do: stir', 'enter'] as const;

const textOf = (at: Rooms): string => halfWritten(at.state())?.text ?? '';

async function withDraft(
  night: Night,
  kept: DialogOf<'write'> | null,
  work: (at: Rooms) => void,
): Promise<void> {
  night.store((store) => {
    // A clock that is never set and stands still: the other one jumps when it goes on.
    const setting = { draft: { kept }, steady: () => 0 };
    work(roomsOn(createApp(store, night.world.now, { columns: 100, rows: 30 }, () => undefined, setting)));
  });
}

it.each(['esc', 'enter'])(
  'a clock that is doubted (%s: it is wrong) gives the card back, whole',
  async (key) => {
    const night = await stocked();
    within(night, (at, store) => {
      at.press('grey heron', 'ctrl-n', ...lines);
      const before = textOf(at);
      night.later(-48 * 60);
      at.press('enter');
      expect(at.state().dialog?.kind).toBe('clock');
      expect(textOf(at)).toBe(before);
      at.press(key);
      expect(at.state().dialog?.kind).toBe('write');
      expect(textOf(at)).toBe(before);
      expect(at.state().message?.text).toContain('Nothing was recorded');
      night.later(48 * 60);
      at.press('enter');
      expect(store.books().specs.has('grey-heron' as never)).toBe(true);
      expect([at.state().dialog, halfWritten(at.state())]).toEqual([null, null]);
    });
  },
);

it('a clock that is right after all: written, poured, and nothing is left half written', async () => {
  const night = await stocked();
  await withDraft(night, null, (at) => {
    night.later(180);
    at.press('grey heron', 'ctrl-n', ...lines, 'enter', 'down', 'enter');
    expect(at.state().books.specs.has('grey-heron' as never)).toBe(true);
    expect([at.state().dialog, halfWritten(at.state())]).toEqual([null, null]);
  });
});

it('a moment the books refuse leaves the card open', async () => {
  const night = await stocked();
  within(night, (at) => {
    night.later(-48 * 60);
    at.press('grey heron', 'ctrl-n', ...lines, 'enter', 'down', 'enter');
    expect(at.state().message?.text).toContain('nothing of it can have moved before');
    expect(textOf(at)).toBe('# Grey Heron\n40 ml rye\ndo: stir\n');
  });
});

it('a question that comes in front of a card puts it aside; ^N goes on with it', async () => {
  const night = await stocked();
  within(night, (at) => {
    at.press('grey heron', 'ctrl-n', '40 ml rye');
    const before = textOf(at);
    at.app.dispatch({ type: 'ask', dialog: { kind: 'note', title: 'A list', lines: ['read'] } });
    at.press('esc');
    expect(at.state().dialog).toBeNull();
    at.press('ctrl-n');
    expect([at.state().dialog?.kind, textOf(at)]).toEqual(['write', before]);
  });
});

it('what the books refuse is mended where it stands, never begun anew', async () => {
  const night = await stocked();
  within(night, (at) => {
    at.press('grey heron', 'ctrl-n', ...lines);
    at.app.dispatch({
      type: 'refused',
      problems: [{ code: 'read-only', exit: 73, message: 'These books can only be read.' }],
    });
    at.press('n');
    expect(textOf(at)).toMatch(/^# Grey Heron\n40 ml rye\ndo: stir\nn$/);
  });
});

it('^C says whether what is half written stays', async () => {
  const night = await stocked();
  within(night, (at) => {
    at.press('grey heron', 'ctrl-n', 'ctrl-c');
    expect(at.state().message?.text).toContain('Something is half written and goes when you leave');
  });
  await withDraft(night, null, (at) => {
    at.press('grey heron', 'ctrl-n', 'ctrl-c');
    expect(at.state().message?.text).toContain('half written and stays for the next start');
  });
});

it.each(['spec', 'item', 'person', 'supplier', 'place', 'setting'] as const)(
  'a half written %s of something that is no longer there opens and says so',
  async (what) => {
    const night = await stocked();
    for (const text of ['# Grey Heron\n40 ml rye\n', 'name: Fino\n', ''])
      await withDraft(
        night,
        { kind: 'write', what, text, at: 0, column: null, was: 'gone', pours: null },
        (at) => {
          at.press('ctrl-n');
          expect(at.state().dialog?.kind).toBe('write');
          expect(at.screen()).toContain(text.split('\n')[0] ?? '');
        },
      );
  },
);
