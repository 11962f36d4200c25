// What is read and not answered: a note, and looks that follow from the books; and the one that asks "are you sure?".
import { askedLines, lastTop, noteLines } from '../../screens/frame/dialog-view.ts';
import { lookLines, lookRows } from '../../screens/frame/looks.ts';
import { bodySize } from '../../screens/frame/page.ts';
import type { Key } from '../keys.ts';
import type { AppState } from '../state.ts';
import { type Answer, close, isMove, moved, noField, only, type Question } from './question.ts';

/** Enter goes on; any other key goes on and is the room's again. */
const goOn = (state: AppState, key: Key): Answer => ({
  state: close(state),
  effects: [],
  ...(key === 'enter' ? {} : { press: key }),
});

export const note: Question<'note'> = {
  ask: (_, { title, lines, top = 0 }, size) => noteLines(title, lines, top, size),
  ...noField,
  isRead: true,
  key: (state, dialog, key) => {
    if (!isMove(key)) return goOn(state, key);
    const top = moved(
      key,
      dialog.top ?? 0,
      lastTop(dialog.title, dialog.lines, bodySize(state.size, state.message)) + 1,
      5,
    );
    return only({ ...state, dialog: { ...dialog, top } });
  },
};

export const look: Question<'look'> = {
  ask: ({ books }, dialog, { columns, rows }) => lookLines(books, dialog, columns, rows),
  ...noField,
  isRead: true,
  key: (state, dialog, key) => {
    if (!isMove(key)) return goOn(state, key);
    const cursor = moved(key, dialog.cursor, lookRows(state.books, dialog), 8);
    return only({ ...state, dialog: { ...dialog, cursor } });
  },
};

export const sure: Question<'sure'> = {
  ask: (_, { question }, size) =>
    askedLines(
      { title: question, options: [], cursor: 0, foot: 'y takes it back, n or Esc leaves it.' },
      size,
    ),
  ...noField,
  key: (state, { target }, key) => {
    if (key === 'y') return { state: close(state), effects: [{ type: 'take-back', target }] };
    return key === 'n' ? only(close(state)) : only(state);
  },
};

export const many: Question<'many'> = {
  ask: (_, { text }, size) =>
    askedLines(
      {
        title: text,
        options: [],
        cursor: -1,
        foot: 'Esc keeps all. Backspace leaves the first. Nothing is poured meanwhile.',
      },
      size,
    ),
  ...noField,
  // No letter and no Enter answers: more of the same may be typed ahead.
  key: (state, { ids }, key) =>
    key === 'backspace'
      ? { state: close(state), effects: [{ type: 'take-back-all', targets: ids }] }
      : only(state),
};
