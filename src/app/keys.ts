// Raw input to keys. Ink hands over one chunk per read, and a chunk may hold many keys ("12\r"): it is split here, so
// that what happens depends on the bytes alone and never on how they were cut.
import type { Key as InkKey } from 'ink';

/** A printable character as itself, or a name: enter, tab, shift-tab, esc, backspace, up, ctrl-u … */
export type Key = string;

const named: readonly (readonly [keyof InkKey, Key])[] = [
  ['upArrow', 'up'],
  ['downArrow', 'down'],
  ['leftArrow', 'left'],
  ['rightArrow', 'right'],
  ['pageUp', 'pgup'],
  ['pageDown', 'pgdn'],
  ['home', 'home'],
  ['end', 'end'],
  ['backspace', 'backspace'],
  ['delete', 'delete'],
];

/** All keys of one chunk, in order. Unknown sequences give none. */
export function keysOf(input: string, key: Partial<InkKey>): Key[] {
  for (const [flag, name] of named) if (key[flag] === true) return [name];
  if (key.tab === true) return [key.shift === true ? 'shift-tab' : 'tab'];
  if (key.return === true) return ['enter'];
  if (key.escape === true) return input === '' || input === '\u001b' ? ['esc'] : ['esc', ...split(input)];
  if (key.ctrl === true) return /^[a-z]$/i.test(input) ? [`ctrl-${input.toLowerCase()}`] : [];
  const keys = split(input);
  return key.meta === true ? ['esc', ...keys] : keys;
}

const split = (input: string): Key[] => [...input].flatMap(keyOfChar);

function keyOfChar(char: string): Key[] {
  const code = char.codePointAt(0) ?? 0;
  if (char === '\r' || char === '\n') return ['enter'];
  if (char === '\t') return ['tab'];
  if (code === 0x7f || code === 0x08) return ['backspace'];
  if (code === 0x1b) return ['esc'];
  if (code >= 1 && code <= 26) return [`ctrl-${String.fromCharCode(code + 96)}`];
  return code < 32 || (code >= 0x80 && code < 0xa0) ? [] : [char];
}

/** Whether a key is a character to be typed. */
export const isText = (key: Key): boolean => [...key].length === 1;

/** What a paste becomes in a field: one line, no control characters, bounded. */
export const pastedText = (text: string): string =>
  text
    .replace(/[\r\n\t]+/g, ' ')
    .replace(/\p{Cc}/gu, '')
    .slice(0, 200);

/** Nobody types so much ahead; a paste that the terminal does not mark as one comes like this. */
const LONGEST_TYPED = 1024;
/** A piece that may be part of one waits a moment for the rest; what fingers type never does. */
const MAY_BE_PASTE = 64;
const WAIT_MS = 20;
/** What comes so soon after a paste still belongs to it. */
const PASTE_GAP_MS = 150;

export type ReadKeys = { readonly keys: readonly Key[]; readonly ms: number; readonly dropped: number };

export type Timing = {
  readonly now: () => number;
  readonly later: (work: () => void, ms: number) => void;
};

/**
 * Keys as they come, with when. Pieces that follow one another at once are one: of what can only be a paste the first line is taken,
 * and nothing after it.
 */
export function keyReader(
  { now, later }: Timing,
  take: (read: ReadKeys) => void,
): (input: string, key: Partial<InkKey>) => void {
  let waiting: { keys: Key[]; length: number; pieces: number } | null = null;
  let pasteUntil = Number.NEGATIVE_INFINITY;

  const flush = (): void => {
    if (waiting === null) return;
    const { keys, length } = waiting;
    waiting = null;
    const ms = now();
    if (length <= LONGEST_TYPED) {
      take({ keys, ms, dropped: 0 });
      return;
    }
    pasteUntil = ms + PASTE_GAP_MS;
    const end = keys.indexOf('enter');
    const taken = end === -1 ? keys : keys.slice(0, end + 1);
    take({ keys: taken, ms, dropped: keys.length - taken.length });
  };
  const wait = (pieces: number): void =>
    later(() => {
      // As long as more comes it is not over.
      if (waiting !== null && waiting.pieces !== pieces) wait(waiting.pieces);
      else flush();
    }, WAIT_MS);

  return (input, key) => {
    const ms = now();
    const keys = keysOf(input, key);
    if (ms < pasteUntil) {
      pasteUntil = ms + PASTE_GAP_MS;
      take({ keys: [], ms, dropped: keys.length });
    } else if (waiting !== null) {
      waiting.keys.push(...keys);
      waiting.length += input.length;
      waiting.pieces += 1;
    } else if (input.length <= MAY_BE_PASTE) take({ keys, ms, dropped: 0 });
    else {
      waiting = { keys, length: input.length, pieces: 1 };
      wait(1);
    }
  };
}
