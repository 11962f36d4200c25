// The footer: the keys that matter here, from the same table that runs them.

import { type Line, line, piece, widthOf } from '../parts/line.ts';
import type { Binding, Scene } from '../room.ts';

const names: Readonly<Record<string, string>> = {
  enter: 'Enter',
  esc: 'Esc',
  tab: 'Tab',
  'shift-tab': 'Shift-Tab',
  up: '↑',
  down: '↓',
  left: '←',
  right: '→',
  pgup: 'PgUp',
  pgdn: 'PgDn',
  home: 'Home',
  end: 'End',
  backspace: 'Backspace',
};

export const keyName = (key: string): string =>
  names[key] ?? (key.startsWith('ctrl-') ? `^${key.slice(5).toUpperCase()}` : key);

/** Below this width keys that are off make way for those that are not; the help has them all. */
const NARROW = 76;

/** As much of a binding as the footer reads. */
type Shown<S> = Pick<Binding<S>, 'keys' | 'short' | 'when'>;

/** As many keys as fit, in the order given; the last ones fall away first, but never the way out. */
export function footerLine<S>(bindings: readonly Shown<S>[], leave: string, scene: Scene, state: S): Line {
  const { columns } = scene.size;
  const parts: Line[number][] = [];
  let used = widthOf(leave) + 2;
  for (const binding of bindings) {
    if (binding.short === '') continue;
    const off = binding.when !== undefined && binding.when(scene, state) !== true;
    if (off && columns < NARROW) continue;
    const key = binding.keys.length > 1 && binding.keys[0] === 'up' ? '↑↓' : keyName(binding.keys[0] ?? '');
    const wide = widthOf(`${key} ${binding.short}   `) + (off ? 2 : 0);
    if (used + wide > columns) continue;
    used += wide;
    parts.push(piece(key, 'strong'), piece(off ? ` (${binding.short})   ` : ` ${binding.short}   `));
  }
  return [...parts, ...line(leave)];
}
