// What is to be recorded, decided on the newest books inside the transaction that records it.
import type { Books } from '../ledger/books.ts';
import type { EventDraft } from '../ledger/event.ts';
import type { Result } from '../value/problem.ts';

export type Intent = (books: Books, now: string) => Result<readonly EventDraft[]>;
