// What all recording commands share: decide on the newest books, append, say in the past what happened.

import { clockBehind, type Moment, spanText } from '../../domain/intent/moment.ts';
import { type Books, isOpen } from '../../domain/ledger/books.ts';
import { describeRecorded } from '../../domain/ledger/describe.ts';
import type { Event, EventDraft } from '../../domain/ledger/event.ts';
import { LONG_SHIFT_MS } from '../../domain/ledger/shift-order.ts';
import { dateText, epochOf } from '../../domain/value/clock-date.ts';
import type { Result } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import { byOf, type Context, type Outcome, refused, say, sayJson, withStore } from './command.ts';

/** Records what `decide` wants, with `--at` and `--by` filled in; prints the event or a sentence. `after` sees what was recorded, and what it says is added. */
export function recordWith(
  context: Context,
  decide: (books: Books, moment: Moment, now: string) => Result<readonly EventDraft[]>,
  after?: (events: readonly Event[], books: Books) => string,
): Promise<Outcome> {
  const { at } = context;
  return withStore(context, (store) => {
    const told = { warning: '', now: '' };
    const recorded = store.record((books, now) => {
      told.now = now;
      told.warning = clockWarning(books, now);
      const by = byOf(context, books);
      if (!by.ok) return by;
      return decide(books, { by: by.value, ...(at === undefined ? {} : { at }) }, now);
    }, at);
    if (!recorded.ok) return refused(recorded.problems);
    const { warning } = told;
    const warned = (outcome: Outcome): Outcome => ({ ...outcome, err: `${warning}${outcome.err}` });
    const books = store.books();
    const more = after?.(recorded.value, books) ?? '';
    if (context.json)
      return warned(sayJson(recorded.value.length === 1 ? recorded.value[0] : recorded.value));
    const lines = recorded.value.map((event) => clean(describeRecorded(event, books, told.now)));
    return warned(
      say(`${lines.length === 0 ? 'Nothing to change.' : lines.join('\n')}${more === '' ? '' : `\n${more}`}`),
    );
  });
}

/** A command can't ask, so it says. */
function clockWarning(books: Books, now: string): string {
  const behind = clockBehind(books, now);
  const long = isOpen(books.shift) && epochOf(now) - epochOf(books.shift.openedAt) > LONG_SHIFT_MS;
  return [
    behind === null ? '' : `${behind} If that entry is wrong, take it back: ullage log names it.\n`,
    long
      ? `The shift of ${dateText(books.shift.date)} has been open for ${spanText(epochOf(now) - epochOf(books.shift.openedAt))}. Seal it with ullage close --seal, if that night is over.\n`
      : '',
  ].join('');
}
