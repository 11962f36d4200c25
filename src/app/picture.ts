// The picture of the whole state, as lines. Pure; the frame only paints it.

import { footerLine } from '../screens/frame/footer.ts';
import { bodySize, pageLines, tooSmallLines, welcomeLines } from '../screens/frame/page.ts';
import { apartText } from '../screens/frame/standing.ts';
import type { Line } from '../screens/parts/line.ts';
import { line } from '../screens/parts/line.ts';
import { sharedKeys } from './keymap.ts';
import { askLines, isRead } from './question/table.ts';
import { isThere, roomNamed, rooms } from './rooms.ts';
import { type AppState, isEmptyHouse, isTooSmall, sceneOf, smallest } from './state.ts';
import { heldText } from './tap/held.ts';

/** Exactly `size.rows` lines, each exactly `size.columns` wide. */
export function picture(state: AppState): Line[] {
  const { size, books, now, room, message, held, house } = state;
  const titles = rooms.filter((one) => one.name === room || isThere(one, books));
  const unsaved = held.length === 0 ? '' : heldText(held.length);
  if (isTooSmall(size)) return tooSmallLines(size, smallest, unsaved);
  const body = bodyOf(state);
  return pageLines({
    books,
    now,
    size,
    room,
    titles,
    body,
    message,
    footer: footerOf(state),
    unsaved,
    apart: apartText(house, books.shift),
  });
}

function bodyOf(state: AppState): readonly Line[] {
  const size = bodySize(state.size, state.message);
  if (state.dialog !== null) return askLines(state, state.dialog, size);
  if (isEmptyHouse(state.books) && roomNamed(state.room).speaksEmpty !== true) return welcomeLines();
  return roomNamed(state.room).view(sceneOf(state), state.inRoom[state.room], size);
}

function footerOf(state: AppState): Line {
  if (state.dialog?.kind === 'write')
    return line('Enter next line, twice at the end writes   Esc aside   ^C leave');
  if (state.dialog?.kind === 'many') return line('Esc keeps all   Backspace takes back   ^C leave');
  if (state.dialog !== null)
    return line(
      isRead(state.dialog)
        ? '↑↓ look   Enter or Esc back   ^C leave'
        : 'Enter answers   ↑↓ choose   Esc back   ^C leave',
    );
  const own = roomNamed(state.room).bindings;
  return footerLine([...own, ...sharedKeys], '^C leave', sceneOf(state), state.inRoom[state.room]);
}
