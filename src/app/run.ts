// The running program behind the rooms: holds the state, carries out effects at once, tells the screen.

import { driftReport } from '../domain/drift/drift-report.ts';
import { type Evidence, noEvidence } from '../domain/report/evidence.ts';
import { specIndex } from '../domain/search/house-search.ts';
import { searchIndex } from '../domain/search/search.ts';
import { usualOf } from '../domain/service/usual.ts';
import { instantOf } from '../domain/value/clock-date.ts';
import type { EventId } from '../domain/value/ids.ts';
import type { Effect, Size } from '../screens/room.ts';
import { evidenceOf } from '../store/evidence.ts';
import { oursAt, takeBackOne } from '../store/last.ts';
import { SEASON } from '../store/reports.ts';
import type { Store } from '../store/store.ts';
import { type Action, type AppState, startState } from './state.ts';
import { update } from './update.ts';

export type App = {
  readonly state: () => AppState;
  readonly dispatch: (action: Action) => void;
  readonly subscribe: (listener: () => void) => () => void;
};

const LOG_LENGTH = 500;

/** An effect is done before the next action is looked at, so fast keys find the books as the key before left them. */
export function createApp(
  store: Store,
  clock: () => number,
  size: Size,
  leave: () => void,
  suspend: () => void = () => undefined,
): App {
  let state = startState(store.books(), instantOf(clock()), size);
  const ours = oursAt(store);
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
    else if (effect.type === 'suspend') suspend();
    else if (effect.type === 'record') dispatch(record(effect));
    else if (effect.type === 'take-back') dispatch(takeBack(effect.target));
    else {
      dispatch(lookUp(effect.type));
      // Looking into the store also takes in what another window wrote: the rooms see it in the same moment.
      if (store.books() !== state.books) dispatch({ type: 'books', books: store.books() });
    }
  };

  const lookUp = (what: 'load-log' | 'load-drift' | 'load-evidence' | 'load-usual'): Action => {
    switch (what) {
      case 'load-log':
        return { type: 'log', log: store.log(LOG_LENGTH) };
      case 'load-drift':
        return { type: 'drift', drift: driftReport(store.books(), store.shiftBooks(SEASON)) };
      case 'load-evidence':
        return { type: 'evidence', evidence: evidence() };
      case 'load-usual':
        // The quiet moment after the start also makes the index, so that the first letter is as quick as the next.
        searchIndex(specIndex(state.books), 'warm', () => 0);
        return { type: 'usual', usual: usualOf(store.shiftBooks(SEASON), state.books.shift?.date ?? '') };
    }
  };

  /** Of the shift the books are at, as its seal left it when it is sealed. */
  const evidence = (): Evidence => {
    const { shift } = store.books();
    if (shift === null) return noEvidence;
    const sealed = shift.sealedAt === null ? null : store.booksOfShift(shift.id);
    return { ...evidenceOf(store, store.shifts(SEASON), [shift.id]), sealed };
  };

  const record = ({ intent, from }: Extract<Effect, { type: 'record' }>): Action => {
    const result = store.record(intent);
    if (!result.ok) return { type: 'refused', problems: result.problems };
    ours.note(result.value);
    return { type: 'recorded', events: result.value, books: store.books(), from, now: instantOf(clock()) };
  };

  const takeBack = (id: EventId | null): Action => {
    const result = takeBackOne(store, id, { isOurs: ours.isOurs });
    if (!result.ok) return { type: 'refused', problems: result.problems };
    return { type: 'took-back', events: result.value.took, books: store.books() };
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
