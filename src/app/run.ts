// The running program behind the rooms: holds the state, carries out effects at once, tells the screen.
import { instantOf } from '../domain/clock-date.ts';
import { driftReport } from '../domain/drift-report.ts';
import type { EventId } from '../domain/ids.ts';
import { intendTakeBack } from '../domain/intend-house.ts';
import type { Effect, Size } from '../screens/room.ts';
import { lastToTakeBack } from '../store/last.ts';
import type { LoggedEvent, Store } from '../store/store.ts';
import { type Action, type AppState, startState } from './state.ts';
import { update } from './update.ts';

export type App = {
  readonly state: () => AppState;
  readonly dispatch: (action: Action) => void;
  readonly subscribe: (listener: () => void) => () => void;
};

const LOG_LENGTH = 500;
/** Shifts the Drift room looks back upon. */
const SEASON = 90;

/** An effect is done before the next action is looked at, so fast keys find the books as the key before left them. */
export function createApp(store: Store, clock: () => number, size: Size, leave: () => void): App {
  let state = startState(store.books(), instantOf(clock()), size);
  const listeners = new Set<() => void>();

  const dispatch = (action: Action): void => {
    const next = update(state, action);
    const changed = next.state !== state;
    state = next.state;
    for (const effect of next.effects) perform(effect);
    if (changed || next.effects.length > 0) for (const listener of listeners) listener();
  };

  const perform = (effect: Effect): void => {
    if (effect.type === 'leave') leave();
    else if (effect.type === 'load-drift')
      dispatch({ type: 'drift', drift: driftReport(store.books(), store.shiftBooks(SEASON)) });
    else if (effect.type === 'load-log') dispatch({ type: 'log', log: store.log(LOG_LENGTH) });
    else dispatch(effect.type === 'record' ? record(effect) : takeBack(effect.target));
  };

  const record = ({ intent, from }: Extract<Effect, { type: 'record' }>): Action => {
    const result = store.record(intent);
    if (!result.ok) return { type: 'refused', problems: result.problems };
    return { type: 'recorded', events: result.value, books: store.books(), from, now: instantOf(clock()) };
  };

  const takeBack = (id: EventId | null): Action => {
    let target: LoggedEvent | null = null;
    const result = store.record((books) => {
      target = id === null ? lastToTakeBack(store, books) : store.eventById(id);
      return intendTakeBack(books, target?.event ?? null, target?.takenBack ?? false);
    });
    if (!result.ok) return { type: 'refused', problems: result.problems };
    return { type: 'took-back', event: (target as unknown as LoggedEvent).event, books: store.books() };
  };

  return {
    state: () => state,
    dispatch,
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
