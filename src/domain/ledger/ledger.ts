// The fold: events in, books out. Pure; the only place that says what an event does.

import { houseOf } from '../catalogue/house.ts';
import type { EventId } from '../value/ids.ts';
import { foldText } from '../value/text.ts';
import type { Books } from './books.ts';
import { isOpen } from './books.ts';
import { compareEvents, type Event } from './event.ts';
import { addPair, noPairs } from './eye-record.ts';
import { booksOf, type Draft, draftOf, own } from './folding.ts';
import { applyStock } from './ledger-stock.ts';
import { newShift } from './tally.ts';

/** What a night's habit counts for after the next night: half after about a week. */
const HABIT_FADE = 0.9;

/**
 * Events that do not count because a live take-back names them. Taking a take-back back restores its target.
 * Order of arrival does not matter; only which event names which.
 */
export function takenBack(events: Iterable<Event>): Set<EventId> {
  const byTarget = new Map<EventId, EventId[]>();
  for (const event of events) {
    if (event.kind !== 'event-taken-back') continue;
    byTarget.set(event.target, [...(byTarget.get(event.target) ?? []), event.id]);
  }
  const dead = new Set<EventId>();
  const known = new Map<EventId, boolean>();
  const isDead = (id: EventId): boolean => {
    const before = known.get(id);
    if (before !== undefined) return before;
    known.set(id, false); // a take-back can not name itself; this only stops a hostile circle
    const result = (byTarget.get(id) ?? []).some((back) => !isDead(back));
    known.set(id, result);
    return result;
  };
  for (const id of byTarget.keys()) if (isDead(id)) dead.add(id);
  return dead;
}

/** Folds a whole set of events, in any order, onto books that hold everything before them. */
export function foldEvents(start: Books, events: Iterable<Event>): Books {
  const all = [...events];
  const dead = takenBack(all);
  return foldInOrder(start, all.filter((event) => !dead.has(event.id)).sort(compareEvents));
}

/** Folds events that are in order and count, as the store hands them out. */
export function foldInOrder(
  start: Books,
  events: Iterable<Event>,
  onFolded?: (event: Event, books: () => Books) => void,
): Books {
  const draft = draftOf(start);
  for (const event of events) {
    applyEvent(draft, event);
    draft.last = { at: event.at, station: event.station, seq: event.seq };
    onFolded?.(event, () => booksOf(draft));
  }
  return booksOf(draft);
}

function applyEvent(draft: Draft, event: Event): void {
  switch (event.kind) {
    case 'house-set':
      own(draft, 'settings').set(event.key, event.value);
      draft.house = houseOf(draft.settings);
      return;
    case 'item-written':
      own(draft, 'items').set(event.item.id, event.item);
      return;
    case 'spec-written':
      own(draft, 'specs').set(event.spec.id, event.spec);
      return;
    case 'person-added':
      own(draft, 'people').set(event.person, { id: event.person, name: event.name, here: true });
      return;
    case 'person-left': {
      const person = draft.people.get(event.person);
      if (person !== undefined) own(draft, 'people').set(event.person, { ...person, here: false });
      return;
    }
    case 'shift-opened':
      for (const [spec, weight] of draft.habit) own(draft, 'habit').set(spec, weight * HABIT_FADE);
      draft.shift = { ...newShift(event), periods: draft.between, lostMillis: draft.lostBetween };
      draft.between = [];
      draft.lostBetween = 0;
      return;
    case 'shift-sealed':
      if (draft.shift?.id === event.of)
        draft.shift = { ...draft.shift, sealedAt: event.at, sealedBy: event.by };
      draft.sealedUntil = event.at;
      if (draft.miseTicks.size > 0) own(draft, 'miseTicks').clear();
      return;
    case 'handed-over':
      if (isOpen(draft.shift)) draft.shift = { ...draft.shift, pouring: event.to };
      return;
    case 'till-name-matched':
      own(draft, 'tillNames').set(foldText(event.drink), event.spec);
      return;
    case 'readings-compared': {
      const who = event.by ?? '';
      own(draft, 'eyes').set(who, addPair(draft.eyes.get(who) ?? noPairs, event));
      return;
    }
    case 'mise-edited':
      own(draft, 'miseEdits').set(foldText(event.line), event.kept ? event.line : null);
      return;
    case 'mise-ticked':
      if (event.done) own(draft, 'miseTicks').set(foldText(event.line), event.at);
      else own(draft, 'miseTicks').delete(foldText(event.line));
      return;
    default:
      applyStock(draft, event);
  }
}
