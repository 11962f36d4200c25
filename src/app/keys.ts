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
const LONGEST_TYPED = 2048;
/** A long paste comes in pieces, one right after the other. */
const PASTE_GAP_MS = 150;

export type ReadKeys = { readonly keys: readonly Key[]; readonly ms: number; readonly dropped: number };

/** Keys as they come, with when. Of what can only be a paste the first line is taken, and nothing after it. */
export function keyReader(now: () => number): (input: string, key: Partial<InkKey>) => ReadKeys {
  let pasteUntil = Number.NEGATIVE_INFINITY;
  return (input, key) => {
    const ms = now();
    const keys = keysOf(input, key);
    const goesOn = ms < pasteUntil;
    if (!goesOn && input.length <= LONGEST_TYPED) return { keys, ms, dropped: 0 };
    pasteUntil = ms + PASTE_GAP_MS;
    const end = keys.indexOf('enter');
    const taken = goesOn ? [] : end === -1 ? keys : keys.slice(0, end + 1);
    return { keys: taken, ms, dropped: keys.length - taken.length };
  };
}
