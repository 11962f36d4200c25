// What is not saved, on leaving: where everything the rooms hold is written when the books themselves can't be.
import type { DialogOf } from '../../screens/dialog.ts';
import { askedLines } from '../../screens/frame/dialog-view.ts';
import type { AppState } from '../state.ts';
import {
  type Answer,
  close,
  field,
  isMove,
  moved,
  noField,
  only,
  type Question,
  refused,
} from './question.ts';

const options = [
  'write everything to a file',
  'stay; what is held is tried again',
  'leave; they are kept in a file and taken in at the next start',
] as const;

const countText = ({ held }: AppState): string =>
  held.length === 1 ? '1 tap is not saved' : `${held.length} taps are not saved`;

export const unsaved: Question<'unsaved'> = {
  ask: (state, { cursor }, size) =>
    askedLines(
      {
        title: `${countText(state)}. What now?`,
        options,
        cursor,
        foot: '↑↓ choose, Enter answers, Esc stays.',
      },
      size,
    ),
  ...noField,
  key: (state, dialog, key) => {
    if (isMove(key)) {
      const cursor = moved(key, dialog.cursor, options.length, options.length);
      return only({ ...state, dialog: { ...dialog, cursor } });
    }
    return key === 'enter' ? answer(state, dialog.cursor) : only(state);
  },
};

function answer(state: AppState, cursor: number): Answer {
  if (cursor === 0)
    return only({ ...state, dialog: { kind: 'file', text: `ullage-${state.now.slice(0, 10)}.jsonl` } });
  return cursor === 1 ? only(close(state)) : { state: close(state), effects: [{ type: 'leave' }] };
}

export const file: Question<'file'> = {
  ask: (state, { text }, size) =>
    askedLines(
      {
        title: `${countText(state)}. All events of the books and these go to which file? One on another disk is best.`,
        field: { text, hint: '' },
        options: [],
        cursor: -1,
        foot: 'Enter writes it, Esc goes back. Nothing that is held is given up.',
      },
      size,
    ),
  ...field<DialogOf<'file'>>(200),
  waits: true,
  key: (state, { text }, key) => {
    if (key !== 'enter') return null;
    const name = text.trim();
    return name === ''
      ? refused(state, 'Type the name of a file.')
      : { state, effects: [{ type: 'write-out', file: name }] };
  },
};
