// What a tick of the mise en place, or an edit of its list, would record.
import type { Books } from '../ledger/books.ts';
import type { EventDraft } from '../ledger/event.ts';
import { LONGEST_LINE, miseLines } from '../service/mise.ts';
import type { PersonId } from '../value/ids.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { firstUnsafe, foldText } from '../value/text.ts';

function checkLine(text: string): Result<string> {
  const line = text.trim().replace(/\s+/g, ' ');
  if (line !== '' && line.length <= LONGEST_LINE && firstUnsafe(line) === null && foldText(line) !== '')
    return done(line);
  return refuse('bad-line', 'A line is 1 to 80 plain characters, as "bar towels". Write it so.');
}

/** Ticks a line, or takes the tick away; a line nobody knows is refused with the nearest way. */
export function intendTick(
  books: Books,
  wish: { readonly line: string; readonly done: boolean; readonly by: PersonId | null },
): Result<EventDraft[]> {
  const known = miseLines(books).find((line) => foldText(line.text) === foldText(wish.line));
  if (known === undefined)
    return refuse(
      'unknown-line',
      `Nothing on the list is called "${wish.line.slice(0, 60)}". Add it with ullage ready add, or see the list with ullage ready.`,
      65,
      `Nothing on the list is called "${wish.line.slice(0, 60)}". ^N adds what is typed.`,
    );
  if ((known.done !== null) === wish.done) return done([]);
  return done([{ kind: 'mise-ticked', shift: null, by: wish.by, line: known.text, done: wish.done }]);
}

/** Adds a line by hand, or leaves one out that the specs call for. */
export function intendMiseEdit(
  books: Books,
  wish: { readonly line: string; readonly kept: boolean; readonly by: PersonId | null },
): Result<EventDraft[]> {
  const line = checkLine(wish.line);
  if (!line.ok) return line;
  const stands = miseLines(books).some(({ text }) => foldText(text) === foldText(line.value));
  if (stands === wish.kept) return done([]);
  return done([{ kind: 'mise-edited', shift: null, by: wish.by, line: line.value, kept: wish.kept }]);
}
