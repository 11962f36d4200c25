// The picture of the whole state, as lines. Pure; the frame only paints it.

import { businessDate, dateText } from '../domain/clock-date.ts';
import { personName } from '../domain/find.ts';
import { closingReport } from '../domain/report.ts';
import { askedLines, helpLines } from '../screens/dialog-view.ts';
import { bodySize, pageLines, tooSmallLines, welcomeLines } from '../screens/page.ts';
import { footerLine } from '../screens/parts/footer.ts';
import type { Line } from '../screens/parts/line.ts';
import { line } from '../screens/parts/line.ts';
import type { Binding, Dialog } from '../screens/room.ts';
import { amountChoices, helpRows, peopleHere, SEAL_WORD, stockActions } from './dialog.ts';
import { sharedKeys } from './keymap.ts';
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
  if (state.dialog !== null) return line('Enter answers   ↑↓ choose   Esc back   ^C leave');
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
  return askedLines(questionOf(state, dialog), columns, rows);
}

function questionOf(state: AppState, dialog: Exclude<Dialog, { kind: 'help' }>) {
  const { books } = state;
  const choose = '↑↓ choose, Enter answers, Esc goes back.';
  switch (dialog.kind) {
    case 'who': {
      const people = peopleHere(books).map(({ name }) => name);
      const date = dateText(businessDate(state.now, books.house.zone, books.house.cutOffHour));
      const title =
        dialog.why === 'open-shift'
          ? `Open the shift of ${date}. Who is pouring?`
          : `Who is pouring now? So far ${personName(books, books.shift?.pouring ?? null) ?? 'nobody'}.`;
      return {
        title,
        options: people.length === 0 ? ['nobody named'] : people,
        cursor: dialog.cursor,
        foot: choose,
      };
    }
    case 'stock':
      return {
        title: `${itemName(state, dialog.item)} at ${dialog.place}`,
        options: stockActions.map(({ label }) => label),
        cursor: dialog.cursor,
        foot: choose,
      };
    case 'amount': {
      const asks = {
        open: '',
        lose: 'How much was lost, and why?',
        receive: 'How many came in?',
        move: 'How many go, and where to?',
        count: '',
      }[dialog.what];
      const hint = dialog.what === 'lose' ? '50 ml, or 2 for pieces' : 'containers, as 6';
      return {
        title: `${itemName(state, dialog.item)}: ${asks}`,
        field: { text: dialog.text, hint },
        options: amountChoices(books, dialog),
        cursor: dialog.choice,
        foot: `Type the amount. ${choose}`,
      };
    }
    case 'seal':
      return {
        title: `Seal this shift for good? ${notCounted(state)}Later corrections are new events and say so. Type ${SEAL_WORD} and press Enter.`,
        field: { text: dialog.text, hint: '' },
        options: [],
        cursor: 0,
        foot: 'Esc keeps it open.',
      };
    case 'note':
      return {
        title: dialog.title,
        options: dialog.lines,
        cursor: -1,
        foot: 'Enter or Esc goes on, or just type.',
      };
    case 'sure':
      return { title: dialog.question, options: [], cursor: 0, foot: 'y takes it back, n or Esc leaves it.' };
  }
}

/** What a seal would leave uncounted. */
function notCounted({ books }: AppState): string {
  const { counted, notCounted: left } = closingReport(books)?.totals ?? { counted: 0, notCounted: 0 };
  return left === 0 ? '' : `${left} of ${counted + left} items are not counted. `;
}

const itemName = (state: AppState, id: string): string => state.books.items.get(id as never)?.name ?? id;
