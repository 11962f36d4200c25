// The Pour room's state: what is typed, what it means, which choice is marked.

import { specsInUse } from '../../domain/catalogue/catalogue.ts';
import type { Spec } from '../../domain/catalogue/spec.ts';
import { type Choice, choicesOf } from '../../domain/drink/pour-choice.ts';
import { asRound, intendPour, intendStraight } from '../../domain/intent/intend-pour.ts';
import { type Intent, intendEach } from '../../domain/intent/intent.ts';
import { momentOf } from '../../domain/intent/moment.ts';
import { type Books, type PourNote, usableByItem } from '../../domain/ledger/books.ts';
import type { Event, EventDraft, PourPurpose } from '../../domain/ledger/event.ts';
import { quickLetters } from '../../domain/search/letters.ts';
import { type PourPart, readRound } from '../../domain/search/pour-text.ts';
import type { SpecId } from '../../domain/value/ids.ts';
import { memoBy } from '../../domain/value/memo.ts';
import { done, type Result } from '../../domain/value/problem.ts';
import { foldText } from '../../domain/value/text.ts';
import type { Scene } from '../room.ts';

export type PourState = {
  readonly query: string;
  /** Which result is marked; −1 is none, so that Enter on an empty line pours nothing. */
  readonly cursor: number;
  readonly as: PourPurpose;
  /** Which page of a card that is longer than its place: 0 is the first. */
  readonly page: number;
  /** What was typed and not poured: out of the field, so that the next drink is not glued to it. */
  readonly aside: Aside | null;
  /** What letters poured before at this window: should they mean another drink now, that is said. */
  readonly before: ReadonlyMap<string, SpecId>;
};

export type Aside = {
  readonly text: string;
  /** Nothing was typed since: Enter means it once more. */
  readonly isFresh: boolean;
};

export const pourStart: PourState = {
  query: '',
  cursor: -1,
  as: 'sale',
  page: 0,
  aside: null,
  before: new Map(),
};

/** Out of the field, and next to it. */
export const putAside = (state: PourState, text: string): PourState => ({
  ...state,
  query: '',
  cursor: -1,
  aside: text === '' ? state.aside : { text, isFresh: true },
});

/** Back in the field, to be mended. */
export const takenUp = (state: PourState): PourState =>
  state.aside === null ? state : { ...state, query: state.aside.text, cursor: 0, aside: null };

/** What Enter means: what is typed, else what was put aside just now. */
export const meantOf = (state: PourState): PourState =>
  state.query === '' && state.aside?.isFresh === true ? { ...state, query: state.aside.text } : state;

/** Each drink poured tonight counts for so many of those of the last weeks. */
const TONIGHT = 3;

/** What a part may mean, likeliest first: the drink its one letter stands for, a match, then what is poured tonight and lately. */
export function choicesOfPart(books: Books, part: PourPart): Choice[] {
  const choices = choicesOf(part, books, {
    weight: ({ id }) => (books.habit.get(id) ?? 0) + TONIGHT * (books.shift?.drinks.get(id)?.count ?? 0),
    expected: () => usableByItem(books),
  });
  const meant = part.measure === null ? lettersNow(books).get(foldText(part.text)) : undefined;
  const spec = meant === undefined ? undefined : books.specs.get(meant);
  if (spec === undefined) return choices;
  const rest = choices.filter((choice) => choice.kind !== 'spec' || choice.spec.id !== spec.id);
  return [{ kind: 'spec', spec, changes: part.changes, isNear: false }, ...rest];
}

/**
 * The letters of this shift, by what was poured before it: what is poured tonight moves none of them. The first letter a house
 * ever sees is by the order of its cards.
 */
export const lettersNow = memoBy(
  ({ specs, shift }: Books) => [specs, shift?.id],
  ({ specs, habit, shift }) => {
    const before = ({ id }: Spec): number => (habit.get(id) ?? 0) - (shift?.drinks.get(id)?.count ?? 0);
    return quickLetters(specsInUse({ specs }).sort((a, b) => before(b) - before(a)));
  },
);

/** The letter that stands for a drink in this shift, if one does. */
export const letterOf = memoBy(
  (books: Books) => [lettersNow(books)],
  (books) => new Map([...lettersNow(books)].map(([letter, id]) => [id, letter])),
);

const partsOnce = memoBy(
  (books: Books, query: string) => [books, query],
  (books, query) => readRound(query, books),
);

/** The parts of what is typed. */
export const partsOf = (books: Books, { query }: Pick<PourState, 'query'>): readonly PourPart[] =>
  partsOnce(books, query);

const choicesOnce = memoBy(
  (books: Books, query: string) => [books, query],
  (books, query) => choicesOfPart(books, partsOnce(books, query).at(-1) as PourPart),
);

/** A number names no drink: until letters follow, nothing is marked and Enter pours nothing. */
export const markFor = (books: Books, query: string): number =>
  (partsOf(books, { query }).at(-1)?.text ?? '') === '' ? -1 : 0;

/** One letter fewer. */
export function shortened(books: Books, state: PourState): PourState {
  const query = [...state.query].slice(0, -1).join('');
  return { ...state, query, cursor: markFor(books, query), page: 0 };
}

/** Choices of the part being typed; kept until the books or the text change, because every frame asks. */
export const currentChoices = (books: Books, { query }: Pick<PourState, 'query'>): readonly Choice[] =>
  choicesOnce(books, query);

export const chosen = (books: Books, state: PourState): Choice | null =>
  currentChoices(books, state)[Math.max(0, state.cursor)] ?? null;

/** So many are remembered: more than a night has habits. */
const MOST_BEFORE = 60;

/** What was typed and what it poured, remembered for the next time the same is typed. */
export function remembered(books: Books, state: PourState, events: readonly Event[]): PourState['before'] {
  const parts = partsOf(books, meantOf(state));
  if (parts.length !== events.length) return state.before;
  const before = new Map(state.before);
  parts.forEach(({ text }, index) => {
    const event = events[index];
    if (event?.kind !== 'drink-poured' || text === '') return;
    before.delete(text);
    before.set(text, event.spec);
  });
  return new Map([...before].slice(-MOST_BEFORE));
}

/** What the same letters poured last, when they mean another drink now; null when they mean the same, or nothing yet. */
export function meantBefore(books: Books, state: PourState): { text: string; spec: Spec } | null {
  for (const { text, choice } of roundOf(books, state)) {
    const last = state.before.get(text);
    const spec = last === undefined ? undefined : books.specs.get(last);
    if (spec !== undefined && choice?.kind === 'spec' && choice.spec.id !== spec.id) return { text, spec };
  }
  return null;
}

export type Wanted = PourPart & { readonly choice: Choice | null };

/** Every part of the round with what it would pour. A part without a name pours nothing, unless something is marked for it. */
export function roundOf(books: Books, state: PourState): Wanted[] {
  const parts = partsOf(books, state);
  return parts.map((part, index) => {
    if (index === parts.length - 1) return { ...part, choice: chosen(books, state) };
    return { ...part, choice: part.text === '' ? null : (choicesOfPart(books, part)[0] ?? null) };
  });
}

/** All drinks of a round in one transaction: all are recorded, or none; they are taken back together, too. */
export function pourIntent(wanted: readonly Wanted[], as: PourPurpose): Intent {
  return (books, now) => {
    const drafts = intendEach(books, wanted, (_, part) =>
      part.choice === null ? done([]) : intendChoice(books, part, part.choice, as, now),
    );
    return drafts.ok ? done(asRound(drafts.value)) : drafts;
  };
}

function intendChoice(
  books: Books,
  { count, when }: PourPart,
  choice: Choice,
  as: PourPurpose,
  now: string,
): Result<EventDraft[]> {
  const at = momentOf(when, now, books.house.zone);
  if (!at.ok) return at;
  const moment = { by: null, ...(at.value === undefined ? {} : { at: at.value }) };
  if (choice.kind === 'straight')
    return intendStraight(books, { ...moment, item: choice.item, amount: choice.amount, count, as });
  // The newest card counts, should another station have changed it since the list was drawn.
  const spec = books.specs.get(choice.spec.id) ?? choice.spec;
  return intendPour(books, { ...moment, spec, count, as, changes: choice.changes });
}

/** The last round as it was poured, changes and straight measures among it; empty when there was none tonight. */
export function lastRound({
  books,
  house,
}: Pick<Scene, 'books' | 'house'>): { readonly wanted: Wanted[]; readonly as: PourPurpose } | null {
  // Another station's last drink is not what this hand means.
  const recent = (books.shift?.recent ?? []).filter(
    ({ station }) => house === null || station === house.station,
  );
  const last = recent.at(-1);
  if (last === undefined) return null;
  const notes = last.round === null ? [last] : recent.slice(-last.round.at);
  const wanted = notes.flatMap((note): Wanted[] => {
    const choice = choiceOfNote(books, note);
    const part = { count: note.count, text: note.text, measure: null, changes: note.changes, when: null };
    return choice === null ? [] : [{ ...part, choice }];
  });
  return { wanted, as: last.as };
}

function choiceOfNote(books: Books, { spec, changes, straight, text }: PourNote): Choice | null {
  const card = spec === null ? undefined : books.specs.get(spec);
  if (card !== undefined) return { kind: 'spec', spec: card, changes, isNear: false };
  const item = straight === null ? undefined : books.items.get(straight.item);
  if (straight === null || item === undefined) return null;
  return { kind: 'straight', item, amount: straight.amount, text, isNear: false };
}
