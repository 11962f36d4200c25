// What all recording commands share: decide on the newest books, append, say in the past what happened.

import type { Moment } from '../../domain/intent/moment.ts';
import type { Books } from '../../domain/ledger/books.ts';
import { describeEvent } from '../../domain/ledger/describe.ts';
import type { Event, EventDraft } from '../../domain/ledger/event.ts';
import type { Result } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import { byOf, type Context, type Outcome, refused, say, sayJson, withStore } from './command.ts';

/** Records what `decide` wants, with `--at` and `--by` filled in; prints the event or a sentence. */
export function recordWith(
  context: Context,
  decide: (books: Books, moment: Moment, now: string) => Result<readonly EventDraft[]>,
  after?: (events: readonly Event[], books: Books) => string,
): Promise<Outcome> {
  const { at } = context;
  return withStore(context, (store) => {
    const recorded = store.record((books, now) => {
      const by = byOf(context, books);
      if (!by.ok) return by;
      return decide(books, { by: by.value, ...(at === undefined ? {} : { at }) }, now);
    }, at);
    if (!recorded.ok) return refused(recorded.problems);
    if (context.json) return sayJson(recorded.value.length === 1 ? recorded.value[0] : recorded.value);
    const books = store.books();
    const lines = recorded.value.map((event) => clean(describeEvent(event, books)));
    const more = after?.(recorded.value, books) ?? '';
    return say(
      `${lines.length === 0 ? 'Nothing to change.' : lines.join('\n')}${more === '' ? '' : `\n${more}`}`,
    );
  });
}
