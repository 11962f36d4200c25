// The help: every key of the room and of the house, filtered by what is typed; Enter runs the marked one.
import { foldText } from '../../domain/value/text.ts';
import { helpLines } from '../../screens/frame/dialog-view.ts';
import { sharedKeys } from '../keymap.ts';
import { roomNamed } from '../rooms.ts';
import type { AppState } from '../state.ts';
import { close, isMove, moved, only, type Question } from './question.ts';

type HelpRow = { readonly keys: readonly string[]; readonly label: string };

/** Rows of the help, filtered by what is typed. */
function helpRows(state: AppState, filter: string): HelpRow[] {
  const wanted = foldText(filter);
  return [...roomNamed(state.room).bindings, ...sharedKeys]
    .map(({ keys, label }) => ({ keys, label }))
    .filter(({ label, keys }) => foldText(`${label} ${keys.join(' ')}`).includes(wanted));
}

export const help: Question<'help'> = {
  ask: (state, { filter, cursor }, { columns, rows }) =>
    helpLines(helpRows(state, filter), cursor, filter, columns, rows),
  type: (dialog, text) => ({ ...dialog, filter: (dialog.filter + text).slice(0, 40), cursor: 0 }),
  erase: (dialog) => ({ ...dialog, filter: dialog.filter.slice(0, -1), cursor: 0 }),
  key: (state, dialog, key) => {
    if (key === '?') return only(close(state));
    const rows = helpRows(state, dialog.filter);
    if (isMove(key)) {
      const cursor = moved(key, dialog.cursor, rows.length, state.size.rows - 8);
      return only({ ...state, dialog: { ...dialog, cursor } });
    }
    if (key !== 'enter') return null;
    const press = rows[dialog.cursor]?.keys[0];
    return { state: close(state), effects: [], ...(press === undefined ? {} : { press }) };
  },
};
