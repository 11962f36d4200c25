// A list with a field above it: typing filters, arrows move. Levels, Book and Log share it.

import { cut, type Line, line, piece } from './parts/line.ts';
import { moveCursor } from './parts/list.ts';
import type { Binding, Room, Scene, Step } from './room.ts';
import { stay } from './room.ts';

export type FilterState = { readonly query: string; readonly cursor: number };
export const filterStart: FilterState = { query: '', cursor: 0 };

export const filterType = <S extends FilterState>(_: Scene, state: S, text: string): Step<S> =>
  stay({ ...state, query: (state.query + text).replace(/^\s+/, '').slice(0, 64), cursor: 0 });

export const filterErase = <S extends FilterState>(_: Scene, state: S): Step<S> =>
  stay({ ...state, query: [...state.query].slice(0, -1).join(''), cursor: 0 });

export const filterBack = <S extends FilterState>(_: Scene, state: S): Step<S> | null =>
  state.query === '' ? null : stay({ ...state, query: '', cursor: 0 });

const labels = {
  up: 'marks the row above',
  down: 'marks the row below',
  pgup: 'a page up',
  pgdn: 'a page down',
  home: 'the first row',
  end: 'the last row',
} as const;

/** The keys that move through a list, the same in every room. */
export function listKeys<S extends { readonly cursor: number }>(
  total: (scene: Scene, state: S) => number,
  page = 6,
): Binding<S>[] {
  return (Object.keys(labels) as (keyof typeof labels)[]).map((key) => ({
    id: `choose-${key}`,
    keys: [key],
    label: labels[key],
    short: '',
    run: (scene, state) => {
      const count = total(scene, state);
      return stay(
        count === 0
          ? state
          : { ...state, cursor: moveCursor(key, state.cursor, count, Math.max(1, scene.size.rows - page)) },
      );
    },
  }));
}

/** The field line: what is typed, or what may be typed. */
export const fieldLine = (query: string, hint: string, width: number): Line => [
  ...line(piece('▸ ', 'strong'), cut(query, width - 4), piece(' ', 'chosen'), '  '),
  ...(query === '' ? line(cut(hint, Math.max(0, width - 6))) : []),
];

export type FilterRoom = Pick<Room<FilterState>, 'start' | 'type' | 'erase' | 'back'>;
export const filterRoom: FilterRoom = {
  start: filterStart,
  type: filterType,
  erase: filterErase,
  back: filterBack,
};
