// The Pour room, put together.
import type { Books } from '../../domain/ledger/books.ts';
import { type Room, stay } from '../room.ts';
import { pourKeys } from './keys.ts';
import { type PourState, partsOf, pourStart } from './model.ts';
import { pourView } from './view.ts';

const LONGEST_QUERY = 120;

/** A number names no drink: until letters follow, nothing is marked and Enter pours nothing. */
const markFor = (books: Books, query: string): number =>
  (partsOf(books, { query }).at(-1)?.text ?? '') === '' ? -1 : 0;

export const pourRoom: Room<PourState> = {
  name: 'pour',
  title: 'Pour',
  answers: 'what goes in this drink, and what did we pour?',
  start: pourStart,
  bindings: pourKeys,
  type: ({ books }, state, text) => {
    const query = (state.query + text).replace(/^\s+/, '').slice(0, LONGEST_QUERY);
    return stay({ ...state, query, cursor: markFor(books, query) });
  },
  erase: ({ books }, state) => {
    const query = [...state.query].slice(0, -1).join('');
    return stay({ ...state, query, cursor: markFor(books, query) });
  },
  back: (_, state) =>
    state.query === '' && state.cursor < 0 && state.as === 'sale' ? null : stay(pourStart),
  recorded: () => stay(pourStart),
  view: pourView,
};
