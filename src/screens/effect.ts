// Types of what screens ask the shell for; data only.
import type { Books } from '../domain/books.ts';
import type { Event, EventDraft } from '../domain/event.ts';
import type { Result } from '../domain/problem.ts';

export type Intent = (books: Books, now: string) => Result<readonly EventDraft[]>;
export type LoggedEvent = { readonly event: Event; readonly takenBack: boolean };
