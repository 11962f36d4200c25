// Types of what screens ask the shell for; data only.
import type { Books } from '../domain/ledger/books.ts';
import type { Event, EventDraft } from '../domain/ledger/event.ts';
import type { Result } from '../domain/value/problem.ts';

export type Intent = (books: Books, now: string) => Result<readonly EventDraft[]>;
export type LoggedEvent = { readonly event: Event; readonly takenBack: boolean };
