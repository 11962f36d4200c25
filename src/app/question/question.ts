// What a question is: how it is drawn, what typing does to it, and what its keys answer. One record a kind, in table.ts.
import type { Intent } from '../../domain/intent/intent.ts';
import type { Dialog, DialogKind, DialogOf } from '../../screens/dialog.ts';
import type { Line } from '../../screens/parts/line.ts';
import { moveCursor } from '../../screens/parts/list.ts';
import type { Size } from '../../screens/room.ts';
import type { Key } from '../keys.ts';
import type { AppState, Update } from '../state.ts';

/** What an answer does; some answer with a key that is to be pressed in the room behind. */
export type Answer = Update & { readonly press?: Key };

export type Question<K extends DialogKind> = {
  readonly ask: (state: AppState, dialog: DialogOf<K>, size: Size) => readonly Line[];
  /** Text typed or pasted; null where there is no field. */
  readonly type: ((dialog: DialogOf<K>, text: string) => Dialog) | null;
  readonly erase: ((dialog: DialogOf<K>) => Dialog) | null;
  /** What a key does; null when it is only text. */
  readonly key: (state: AppState, dialog: DialogOf<K>, key: Key) => Answer | null;
  /** It stays open until what it asked for is on disk. */
  readonly waits?: true;
  /** What Esc leaves behind, where it is more than closing. */
  readonly esc?: (state: AppState, dialog: DialogOf<K>) => AppState;
  /** It is read, not answered: the footer says so. */
  readonly isRead?: true;
};

export const only = (state: AppState): Update => ({ state, effects: [] });
export const close = (state: AppState): AppState => ({ ...state, dialog: null });
export const refused = (state: AppState, text: string): Update =>
  only({ ...state, message: { text, tone: 'refused' } });

/** Closes the question and asks for what it was about. */
export const wants = (state: AppState, intent: Intent): Update => ({
  state: close(state),
  effects: [{ type: 'record', intent, from: 'frame' }],
});

/** Asks for it and stays open until it is on disk, so that what was typed can be mended. */
export const asks = (state: AppState, intent: Intent): Update => ({
  state,
  effects: [{ type: 'record', intent, from: 'frame' }],
});

type Move = 'up' | 'down' | 'pgup' | 'pgdn' | 'home' | 'end';
const moves: readonly string[] = ['up', 'down', 'pgup', 'pgdn', 'home', 'end'] satisfies Move[];
export const isMove = (key: Key): key is Move => moves.includes(key);

/** The mark moved by an arrow among so many; `page` rows at a time by the paging keys. */
export const moved = (key: Move, at: number, many: number, page: number): number =>
  moveCursor(key, at, Math.max(1, many), page);

/** A text field of a question: what typing adds, at most so much, and what Backspace takes. */
export function field<D extends { readonly text: string }>(
  longest: number,
  also: (dialog: D) => Partial<D> = () => ({}),
): { type: (dialog: D, text: string) => D; erase: (dialog: D) => D } {
  return {
    type: (dialog, text) => ({
      ...dialog,
      ...also(dialog),
      text: (dialog.text + text).slice(0, longest),
    }),
    erase: (dialog) => ({ ...dialog, ...also(dialog), text: dialog.text.slice(0, -1) }),
  };
}

/** The keys that only choose and answer have no field. */
export const noField = { type: null, erase: null } as const;
