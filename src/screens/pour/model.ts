// The Pour room's state: what is typed, what it means, which choice is marked.
import type { Books } from '../../domain/books.ts';
import type { EventDraft, PourPurpose } from '../../domain/event.ts';
import { itemIndex, searchIndex, specIndex } from '../../domain/house-search.ts';
import { intendPour, intendStraight } from '../../domain/intend-pour.ts';
import type { Item } from '../../domain/item.ts';
import { done, type Result } from '../../domain/problem.ts';
import type { Spec } from '../../domain/spec.ts';
import { amountOf, splitQuantity } from '../../domain/units.ts';
import type { Intent } from '../effect.ts';

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

export type Part = { readonly count: number; readonly text: string };

/** "2 lan, 1 bra" -> two parts; digits before the letters are how many. */
export function partsOf(query: string): Part[] {
  return query.split(',').map((part) => {
    const match = /^\s*(\d{1,3})(?!\d|[.,/]|\s*(?:ml|cl|oz)\b)\s*(.*)$/u.exec(part);
    return match === null
      ? { count: 1, text: part.trim() }
      : { count: Number(match[1]), text: (match[2] ?? '').trim() };
  });
}

const straightPattern = /^[\d.,/¼½¾⅓⅔]+\s*(?:ml|cl|oz)\s+\S/u;

/** What a part may mean, likeliest first: a match, then what is poured tonight and lately. */
export function choicesFor(books: Books, text: string): Choice[] {
  if (straightPattern.test(text)) return straightChoices(books, text);
  const tonight = books.shift?.drinks;
  const weight = (spec: Spec): number =>
    (books.habit.get(spec.id) ?? 0) + 3 * (tonight?.get(spec.id)?.count ?? 0);
  return searchIndex(specIndex(books), text, weight).map((spec) => ({ kind: 'spec', spec }));
}

function straightChoices(books: Books, text: string): Choice[] {
  const split = splitQuantity(text, books.house);
  const amount = split === null ? null : amountOf(split.quantity, split.unit, books.house);
  if (split === null || amount === null || amount.unit !== 'ml') return [];
  return searchIndex(itemIndex(books), split.rest, () => 0)
    .filter((item) => item.unit === 'ml')
    .map((item) => ({ kind: 'straight', item, amount: amount.amount, text: `${split.text} ${split.unit}` }));
}

type Cached = { readonly books: Books; readonly text: string; readonly choices: Choice[] };
let last: Cached | null = null;

/** Choices of the part being typed; kept until the books or the text change, because every frame asks. */
export function currentChoices(books: Books, state: PourState): readonly Choice[] {
  const text = partsOf(state.query).at(-1)?.text ?? '';
  if (last !== null && last.books === books && last.text === text) return last.choices;
  last = { books, text, choices: choicesFor(books, text) };
  return last.choices;
}

export const chosen = (books: Books, state: PourState): Choice | null =>
  currentChoices(books, state)[Math.max(0, state.cursor)] ?? null;

export type Wanted = { readonly count: number; readonly choice: Choice | null; readonly text: string };

/** Every part of the round with what it would pour. */
export function roundOf(books: Books, state: PourState): Wanted[] {
  const parts = partsOf(state.query);
  return parts.map(({ count, text }, index) => {
    const isLast = index === parts.length - 1;
    return { count, text, choice: isLast ? chosen(books, state) : (choicesFor(books, text)[0] ?? null) };
  });
}

/** All drinks of a round in one transaction: all are recorded, or none. */
export function pourIntent(wanted: readonly Wanted[], as: PourPurpose): Intent {
  return (books) => {
    const drafts: EventDraft[] = [];
    for (const { count, choice } of wanted) {
      if (choice === null) continue;
      const one = intendChoice(books, choice, count, as);
      if (!one.ok) return one;
      drafts.push(...one.value);
    }
    return done(drafts);
  };
}

function intendChoice(books: Books, choice: Choice, count: number, as: PourPurpose): Result<EventDraft[]> {
  if (choice.kind === 'straight')
    return intendStraight(books, { by: null, item: choice.item, amount: choice.amount, count, as });
  // The newest card counts, should another station have changed it since the list was drawn.
  const spec = books.specs.get(choice.spec.id) ?? choice.spec;
  return intendPour(books, { by: null, spec, count, as, changes: [] });
}
