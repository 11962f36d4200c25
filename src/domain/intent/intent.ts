// What is to be recorded, decided on the newest books inside the transaction that records it.
import type { Books } from '../ledger/books.ts';
import type { EventDraft } from '../ledger/event.ts';
import { done, type Result } from '../value/problem.ts';

export type Intent = (books: Books, now: string) => Result<readonly EventDraft[]>;

/** What several things want, as one: all of it, or the first refusal. */
export function intendEach<T>(
  books: Books,
  things: readonly T[],
  intend: (books: Books, thing: T) => Result<readonly EventDraft[]>,
): Result<EventDraft[]> {
  const drafts: EventDraft[] = [];
  for (const thing of things) {
    const one = intend(books, thing);
    if (!one.ok) return one;
    drafts.push(...one.value);
  }
  return done(drafts);
}
