// Carrying out what is to be recorded: at once when the books can be written, else it is held and tried again in order.
import type { EventDraft } from '../../domain/ledger/event.ts';
import { instantOf } from '../../domain/value/clock-date.ts';
import type { EventId } from '../../domain/value/ids.ts';
import { done, type Problem, type Result } from '../../domain/value/problem.ts';
import type { Effect } from '../../screens/effect.ts';
import type { Store } from '../../store/store.ts';
import type { Action, AppState } from '../state.ts';
import { type HeldTap, isHeldFor, type Ticket, ticketOf, unsavedEvents } from './held.ts';

export type Wish = Extract<Effect, { type: 'record' }>;

/** A later try does not wait: the hand is on the keys meanwhile. */
const NO_PATIENCE = { patience: 0 } as const;
/** Nor does the first one for long: what waits is shown as not saved. */
const SOME_PATIENCE = { patience: 1500 } as const;

export type Recorder = {
  readonly record: (wish: Wish) => Action;
  /** Tries what is held once more, the oldest first; what happened to each. */
  readonly retry: () => readonly Action[];
};

/** Whose hand it was is fixed when it is tapped, nobody's too, whoever pours when it is saved. */
function inItsHand(
  { events }: HeldTap,
  drafts: Result<readonly EventDraft[]>,
): Result<readonly EventDraft[]> {
  if (!drafts.ok) return drafts;
  return done(
    drafts.value.map((draft, index) => {
      const tapped = events[index];
      return tapped === undefined ? draft : { ...draft, by: tapped.by };
    }),
  );
}

export function recorder(
  store: Store,
  clock: () => number,
  newId: () => EventId,
  state: () => AppState,
): Recorder {
  const record = ({ intent, from, typed = null }: Wish): Action => {
    const { stopped, held } = state();
    if (stopped !== null) return { type: 'refused', problems: [stopped], from, typed };
    const now = instantOf(clock());
    const ticket = ticketOf(intent, now, newId);
    const first = held.find(({ refused }) => refused === null);
    // What waits goes first: nothing overtakes it.
    const result =
      first === undefined ? store.record(intent, undefined, { ...SOME_PATIENCE, idOf: ticket.idOf }) : null;
    if (result?.ok === true) {
      const isSeal = result.value.some(({ kind }) => kind === 'shift-sealed');
      const mark = isSeal ? { mark: store.mark() } : {};
      return { type: 'recorded', events: result.value, books: store.books(), from, now, ...mark };
    }
    const problem = result?.problems[0] ?? state().heldFor;
    if (problem === null || problem === undefined || !isHeldFor(problem))
      return { type: 'refused', problems: result?.problems ?? [], from, typed };
    return hold(ticket, problem, from, typed);
  };

  const hold = (ticket: Ticket, problem: Problem, from: Wish['from'], typed: string | null): Action => {
    const before = state().held.reduce((sum, tap) => sum + tap.events.length, 0);
    const events = unsavedEvents(ticket, state().books, store.station(), before);
    if (!events.ok) return { type: 'refused', problems: events.problems, from, typed };
    return { type: 'held', tap: { ...ticket, events: events.value, typed, refused: null }, problem, from };
  };

  const retry = (): readonly Action[] => {
    const actions: Action[] = [];
    for (const tap of state().held) {
      const action = tryAgain(tap);
      actions.push(action);
      if (action.type === 'still-held') break;
    }
    return actions;
  };

  const tryAgain = (tap: HeldTap): Action => {
    const result = store.record((books) => inItsHand(tap, tap.intent(books, tap.at)), tap.at, {
      ...NO_PATIENCE,
      idOf: tap.idOf,
    });
    if (result.ok) return { type: 'saved', tap, events: result.value, books: store.books() };
    const [problem] = result.problems;
    return problem !== undefined && isHeldFor(problem)
      ? { type: 'still-held', problem }
      : { type: 'not-saved', tap, problems: result.problems };
  };

  return { record, retry };
}
