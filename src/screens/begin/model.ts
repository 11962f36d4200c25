// What the Begin room is at: the question that is shown, what is typed, and the rows that can be marked.
import { memoBy } from '../../domain/value/memo.ts';
import type { Scene } from '../room.ts';
import { type ListName, type Tick, ticksOf } from './lists.ts';
import { openStep, optionsOf, type StepName } from './steps.ts';

export type BeginState = {
  /** The question that is shown; null: the first that is open. */
  readonly at: StepName | null;
  readonly text: string;
  /** The marked row; of the lists to tick, the first is "go on". */
  readonly cursor: number;
  /** What was ticked last: a price or a name typed next is its own. */
  readonly last: string | null;
  /** What stands in the field was refused: what is typed next begins anew. */
  readonly isSpent: boolean;
};
export const start: BeginState = { at: null, text: '', cursor: 0, last: null, isSpent: false };

export const stepOf = ({ books }: Scene, { at }: BeginState): StepName => at ?? openStep(books);
export const listOf = (step: StepName): ListName | null =>
  step === 'stock' || step === 'cards' ? step : null;

/** A price or a name of the one ticked last, not a filter. */
export const isOwn = (text: string): boolean => /^[=\d\p{Sc}]/u.test(text);
export const filterOf = ({ text }: BeginState): string => (isOwn(text) ? '' : text);

export const goesOn = {
  stock: 'That is all: go on to what you pour',
  cards: 'That is all: go on',
} as const;
const lastRows = ['Count now, shelf by shelf', 'Later: to the Pour room'] as const;

export type Row = { readonly tick: Tick | null; readonly says: string };

export const rowsOf = memoBy(
  ({ books, machine }: Scene, state: BeginState, step: StepName) => [books, machine, state, step],
  ({ books, machine }, state, step): readonly Row[] => {
    const list = listOf(step);
    if (list !== null)
      return [
        { tick: null, says: goesOn[list] },
        ...ticksOf(books, list, filterOf(state)).map((tick) => ({ tick, says: tick.name })),
      ];
    if (step === 'count') return lastRows.map((says) => ({ tick: null, says }));
    return optionsOf(books, step, state.text, machine.zone).map(({ says }) => ({ tick: null, says }));
  },
);

export const NOTHING_CALLED = 'Nothing is called so; ^N writes it as your own.';
