// Books of some moments on the way to now, held in memory: what another station sent of a moment ago is folded from shortly before
// it, not from the last seal on. Books are never changed, so a mark costs what has changed since the one before.
import type { Books } from '../../domain/ledger/books.ts';
import { compareEvents, type EventKey } from '../../domain/ledger/event.ts';

/** So many events lie between two marks. */
export const MARK_EVERY = 100;
/** Further back than this there are checkpoints. */
const MOST_MARKS = 40;

export type Mark = { readonly books: Books; readonly aside: readonly number[] };

export type Marks = {
  /** Notes books that so many events led to. */
  readonly passed: (events: number, books: () => Books, aside: ReadonlySet<number>) => void;
  /** The last mark before a key; those after it are forgotten. */
  readonly before: (key: EventKey) => Mark | null;
  readonly forget: () => void;
};

export function keepMarks(): Marks {
  let marks: Mark[] = [];
  let since = 0;
  return {
    passed: (events, books, aside) => {
      since += events;
      if (since < MARK_EVERY) return;
      since = 0;
      marks = [...marks.slice(1 - MOST_MARKS), { books: books(), aside: [...aside] }];
    },
    before: (key) => {
      marks = marks.filter(({ books }) => books.last !== null && compareEvents(books.last, key) < 0);
      since = 0;
      return marks.at(-1) ?? null;
    },
    forget: () => {
      marks = [];
      since = 0;
    },
  };
}
