// The picture of the whole state, as lines. Pure; the frame only paints it.

import { askedLines, helpLines } from '../screens/frame/dialog-view.ts';
import { footerLine } from '../screens/frame/footer.ts';
import { lookLines } from '../screens/frame/looks.ts';
import { bodySize, pageLines, tooSmallLines, welcomeLines } from '../screens/frame/page.ts';
import type { Line } from '../screens/parts/line.ts';
import { line } from '../screens/parts/line.ts';
import type { Binding, Dialog } from '../screens/room.ts';
import { sharedKeys } from './keymap.ts';
import { helpRows } from './question/dialog.ts';
import { questionOf } from './question/questions.ts';
import { roomNamed, rooms } from './rooms.ts';
import { type AppState, isEmptyHouse, isTooSmall, sceneOf, smallest } from './state.ts';

const titles = rooms.map(({ name, title }) => ({ name, title }));

/** Exactly `size.rows` lines, each exactly `size.columns` wide. */
export function picture(state: AppState): Line[] {
  const { size, books, now, room, message } = state;
  if (isTooSmall(size)) return tooSmallLines(size, smallest);
  const body = bodyOf(state);
  return pageLines({ books, now, size, room, titles, body, message, footer: footerOf(state) });
}

function bodyOf(state: AppState): readonly Line[] {
  const size = bodySize(state.size, state.message);
  if (state.dialog !== null) return dialogLines(state, state.dialog, size.columns, size.rows);
  if (isEmptyHouse(state.books) && state.room !== 'log') return welcomeLines();
  return roomNamed(state.room).view(sceneOf(state), state.inRoom[state.room], size);
}

function footerOf(state: AppState): Line {
  if (state.dialog !== null)
    return line(
      state.dialog.kind === 'look'
        ? '↑↓ look   Enter or Esc back   ^C leave'
        : 'Enter answers   ↑↓ choose   Esc back   ^C leave',
    );
  const shared = sharedKeys.map(
    (binding) => ({ ...binding, run: () => ({ state: null }) }) as unknown as Binding<unknown>,
  );
  return footerLine(
    [...roomNamed(state.room).bindings, ...shared],
    '^C leave',
    sceneOf(state),
    state.inRoom[state.room],
  );
}

function dialogLines(state: AppState, dialog: Dialog, columns: number, rows: number): Line[] {
  if (dialog.kind === 'help')
    return helpLines(helpRows(state, dialog.filter), dialog.cursor, dialog.filter, columns, rows);
  if (dialog.kind === 'look') return lookLines(state.books, dialog, columns, rows);
  return askedLines(questionOf(state, dialog), columns, rows);
}
