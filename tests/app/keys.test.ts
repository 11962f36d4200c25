// What happens depends on the bytes, not on how a terminal cut them.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { keysOf, pastedText } from '../../src/app/keys.ts';
import { furnished } from '../support/night.ts';
import { openRooms } from '../support/rooms.ts';

describe('one chunk, many keys', () => {
  it.each<[string, string[]]>([
    ['12\r', ['1', '2', 'enter']],
    ['\r\r', ['enter', 'enter']],
    ['jjj', ['j', 'j', 'j']],
    ['a\n', ['a', 'enter']],
    ['\t\t', ['tab', 'tab']],
    ['\u007f\u007f', ['backspace', 'backspace']],
    ['a\u0015', ['a', 'ctrl-u']],
    ['梅½', ['梅', '½']],
  ])('%j', (input, keys) => expect(keysOf(input, {})).toEqual(keys));

  it('reads the flags Ink sets', () => {
    expect(keysOf('', { upArrow: true })).toEqual(['up']);
    expect(keysOf('u', { ctrl: true })).toEqual(['ctrl-u']);
    expect(keysOf('', { tab: true, shift: true })).toEqual(['shift-tab']);
    expect(keysOf('', { escape: true })).toEqual(['esc']);
    expect(keysOf('q', { meta: true })).toEqual(['esc', 'q']);
  });
});

const bytes = fc
  .array(
    fc.constantFrom(
      'l',
      'a',
      'n',
      '2',
      ',',
      ' ',
      '\r',
      '\n',
      '\t',
      '\u007f',
      '\u0015',
      '\u0012',
      '\u000f',
      '1',
      'r',
      '?',
    ),
    { maxLength: 60 },
  )
  .map((list) => list.join(''));

/** The night after some chunks: what was recorded, and what the screen says. */
async function after(chunks: readonly string[]): Promise<string> {
  const night = await furnished();
  return night.store((store) => {
    const rooms = openRooms(store, night.world.now);
    rooms.press('ctrl-o', 'enter');
    for (const chunk of chunks) for (const key of keysOf(chunk, {})) rooms.app.dispatch({ type: 'key', key });
    const recorded = [...store.allEvents()].map(({ kind }) => kind);
    return JSON.stringify([recorded, rooms.screen()]);
  });
}

it('any split of the same bytes gives the same books and the same screen', async () => {
  await fc.assert(
    fc.asyncProperty(bytes, fc.array(fc.nat(60), { maxLength: 8 }), async (text, cuts) => {
      const marks = [...new Set([0, ...cuts.map((cut) => Math.min(cut, text.length)), text.length])].sort(
        (a, b) => a - b,
      );
      const chunks = marks.slice(1).map((mark, index) => text.slice(marks[index], mark));
      expect(await after(chunks)).toBe(await after([text]));
    }),
    { numRuns: 25 },
  );
});

it('two hundred keys in one write are two hundred keys', async () => {
  const night = await furnished();
  night.store((store) => {
    const rooms = openRooms(store, night.world.now);
    rooms.press('ctrl-o', 'enter');
    for (const key of keysOf('lan\r'.repeat(50), {})) rooms.app.dispatch({ type: 'key', key });
    expect(store.books().shift?.drinks.get('lantern-sour' as never)?.count).toBe(50);
  });
});

it('a paste types and never runs anything', async () => {
  const night = await furnished();
  night.store((store) => {
    const rooms = openRooms(store, night.world.now);
    rooms.press('ctrl-o', 'enter');
    const before = [...store.allEvents()].length;
    for (let room = 0; room < 6; room += 1) {
      rooms.app.dispatch({ type: 'paste', text: 'lan\rlan\r\u0015\u0003\tseal\r\u001b[201~y' });
      rooms.press('esc', 'esc', 'tab');
    }
    expect([...store.allEvents()]).toHaveLength(before);
    rooms.app.dispatch({ type: 'paste', text: 'lan\nsour\u0007' });
    expect(pastedText('lan\nsour\u0007')).toBe('lan sour');
  });
});
