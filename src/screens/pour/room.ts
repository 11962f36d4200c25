// The Pour room, put together.
import { type Room, stay } from '../room.ts';
import { pourKeys } from './keys.ts';
import { markFor, type PourState, pourStart, putAside, remembered, shortened } from './model.ts';
import { pourView } from './view.ts';

const LONGEST_QUERY = 120;

export const pourRoom: Room<PourState> = {
  name: 'pour',
  title: 'Pour',
  answers: 'what goes in this drink, and what did we pour?',
  start: pourStart,
  bindings: pourKeys,
  type: ({ books }, state, text) => {
    const query = (state.query + text).replace(/^\s+/, '').slice(0, LONGEST_QUERY);
    const aside = state.aside && { ...state.aside, isFresh: false };
    return stay({ ...state, query, cursor: markFor(books, query), page: 0, aside });
  },
  erase: ({ books }, state) => stay(shortened(books, state)),
  back: (_, state) =>
    state.query === '' && state.cursor < 0 && state.as === 'sale' && state.aside === null
      ? null
      : stay({ ...pourStart, before: state.before }),
  recorded: ({ books }, state, events) => {
    const aside = state.aside?.isFresh === true ? null : state.aside;
    return stay({ ...pourStart, aside, before: remembered(books, state, events) });
  },
  refused: (_, state, typed) => putAside(state, typed ?? state.query),
  view: pourView,
};
