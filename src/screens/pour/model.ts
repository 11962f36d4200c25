// The Pour room's state: what is typed, what it means, which choice is marked.

import type { Item } from '../../domain/catalogue/item.ts';
import type { Spec } from '../../domain/catalogue/spec.ts';
import { amountOf, splitQuantity } from '../../domain/catalogue/units.ts';
import { passes, splitFilters } from '../../domain/drink/spec-filter.ts';
import { intendPour, intendStraight } from '../../domain/intent/intend-pour.ts';
import { type Intent, intendEach } from '../../domain/intent/intent.ts';
import { type Books, expectedByItem } from '../../domain/ledger/books.ts';
import type { EventDraft, PourPurpose } from '../../domain/ledger/event.ts';
import { itemIndex, specIndex } from '../../domain/search/house-search.ts';
import { searchIndex } from '../../domain/search/search.ts';
import { epochOf, instantOf } from '../../domain/value/clock-date.ts';
import { memoBy } from '../../domain/value/memo.ts';
import { done, type Result } from '../../domain/value/problem.ts';

export type PourState = {
  readonly query: string;
  /** Which result is marked; −1 is none, so that Enter on an empty line pours nothing. */
  readonly cursor: number;
  readonly as: PourPurpose;
};

export const pourStart: PourState = { query: '', cursor: -1, as: 'sale' };

export type Choice =
  | { readonly kind: 'spec'; readonly spec: Spec }
  | { readonly kind: 'straight'; readonly item: Item; readonly amount: number; readonly text: string };

export type Part = {
  readonly count: number;
  readonly text: string;
  /** Typed after a colon: `lan: -egg white +10ml lemon juice`, `lan: double`. */
  readonly changes: readonly string[];
  /** Typed at the end: `lan 10 ago` was poured ten minutes ago. */
  readonly minutesAgo: number;
};

/** "2 lan, 1 bra" -> two parts; digits before the letters are how many, a colon begins changes, "10 ago" a late entry. */
export function partsOf(query: string): Part[] {
  // A comma too many names no drink: what is empty is not poured.
  const typed = query.split(',').filter((part) => part.trim() !== '');
  return (typed.length === 0 ? [''] : typed).map((part) => {
    const late = /\s(\d{1,3})\s*(?:m|min|minutes)?\s+ago\s*$/i.exec(part);
    const [head = '', ...tail] = (late === null ? part : part.slice(0, late.index)).split(':');
    const match = /^\s*(\d{1,3})(?!\d|[.,/]|\s*(?:ml|cl|oz)\b)\s*(.*)$/u.exec(head);
    return {
      count: match === null ? 1 : Number(match[1]),
      text: (match === null ? head : (match[2] ?? '')).trim(),
      changes: changesOf(tail.join(':')),
      minutesAgo: late === null ? 0 : Number(late[1]),
    };
  });
}

/** "-egg white +10ml lemon juice double" -> its changes; each begins with a sign, or is a word of its own. */
function changesOf(text: string): string[] {
  return text
    .split(/\s+(?=[-+])|(?<=^|\s)(?=(?:double|half)\b)|(?<=\b(?:double|half))\s+/i)
    .map((change) => change.trim())
    .filter((change) => change !== '');
}

const straightPattern = /^[\d.,/¼½¾⅓⅔]+\s*(?:ml|cl|oz)\s+\S/u;

/** What a part may mean, likeliest first: a match, then what is poured tonight and lately. */
export function choicesFor(books: Books, text: string): Choice[] {
  if (straightPattern.test(text)) return straightChoices(books, text);
  const tonight = books.shift?.drinks;
  const weight = (spec: Spec): number =>
    (books.habit.get(spec.id) ?? 0) + 3 * (tonight?.get(spec.id)?.count ?? 0);
  const { rest, filters } = splitFilters(text);
  const found = searchIndex(specIndex(books), rest, weight);
  const expected = filters.length === 0 ? null : expectedByItem(books);
  const kept = expected === null ? found : found.filter((spec) => passes(spec, filters, books, expected));
  return kept.map((spec) => ({ kind: 'spec', spec }));
}

function straightChoices(books: Books, text: string): Choice[] {
  const split = splitQuantity(text, books.house);
  const amount = split === null ? null : amountOf(split.quantity, split.unit, books.house);
  if (split === null || amount === null || amount.unit !== 'ml') return [];
  return searchIndex(itemIndex(books), split.rest, () => 0)
    .filter((item) => item.unit === 'ml')
    .map((item) => ({ kind: 'straight', item, amount: amount.amount, text: `${split.text} ${split.unit}` }));
}

const choicesOnce = memoBy((books: Books, text: string) => [books, text], choicesFor);

/** Choices of the part being typed; kept until the books or the text change, because every frame asks. */
export function currentChoices(books: Books, state: PourState): readonly Choice[] {
  return choicesOnce(books, partsOf(state.query).at(-1)?.text ?? '');
}

export const chosen = (books: Books, state: PourState): Choice | null =>
  currentChoices(books, state)[Math.max(0, state.cursor)] ?? null;

export type Wanted = Part & { readonly choice: Choice | null };

/** Every part of the round with what it would pour. */
export function roundOf(books: Books, state: PourState): Wanted[] {
  const parts = partsOf(state.query);
  return parts.map((part, index) => {
    const isLast = index === parts.length - 1;
    return { ...part, choice: isLast ? chosen(books, state) : (choicesFor(books, part.text)[0] ?? null) };
  });
}

/** All drinks of a round in one transaction: all are recorded, or none. */
export function pourIntent(wanted: readonly Wanted[], as: PourPurpose): Intent {
  return (books, now) =>
    intendEach(books, wanted, (_, part) =>
      part.choice === null ? done([]) : intendChoice(books, part, part.choice, as, now),
    );
}

function intendChoice(
  books: Books,
  part: Part,
  choice: Choice,
  as: PourPurpose,
  now: string,
): Result<EventDraft[]> {
  const { count, changes, minutesAgo } = part;
  const moment = {
    by: null,
    ...(minutesAgo === 0 ? {} : { at: instantOf(epochOf(now) - minutesAgo * 60_000) }),
  };
  if (choice.kind === 'straight')
    return intendStraight(books, { ...moment, item: choice.item, amount: choice.amount, count, as });
  // The newest card counts, should another station have changed it since the list was drawn.
  const spec = books.specs.get(choice.spec.id) ?? choice.spec;
  return intendPour(books, { ...moment, spec, count, as, changes });
}
