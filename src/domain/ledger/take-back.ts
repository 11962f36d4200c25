// Which events count, when events take back events, to any depth: the one rule, for the fold, the store and what comes in.
import type { EventId } from '../value/ids.ts';
import type { Event, EventOf } from './event.ts';

export type TakeBack = Pick<EventOf<'event-taken-back'>, 'id' | 'target'>;

export const isTakeBack = (event: Event): event is EventOf<'event-taken-back'> =>
  event.kind === 'event-taken-back';

/**
 * Events that do not count because a take-back that counts names them. Taking a take-back back restores its target, unless
 * another one names it too. Order of arrival does not matter; only which event names which. A circle of take-backs, which
 * no honest book has, decides nothing.
 */
export function takenBack(backs: Iterable<TakeBack>): Set<EventId> {
  const targets = new Map<EventId, EventId>();
  for (const { id, target } of backs) targets.set(id, target);
  const undecided = new Map<EventId, number>();
  for (const target of targets.values()) undecided.set(target, (undecided.get(target) ?? 0) + 1);
  const dead = new Set<EventId>();
  // Nobody names these, so they count; what they name is decided when all that name it are.
  const decided = [...targets.keys()].filter((id) => !undecided.has(id));
  for (let back = decided.pop(); back !== undefined; back = decided.pop()) {
    const target = targets.get(back);
    if (target === undefined) continue;
    if (!dead.has(back)) dead.add(target);
    const left = (undecided.get(target) ?? 1) - 1;
    undecided.set(target, left);
    if (left === 0) decided.push(target);
  }
  return dead;
}

/** How the log is asked for what hangs together with one event. */
export type TakeBackLog = {
  /** What a take-back names; null when the event is none, or not known. */
  readonly targetOf: (id: EventId) => EventId | null;
  /** The take-backs that name an event, whether they count or not. */
  readonly backsOf: (id: EventId) => readonly EventId[];
};

/** Everything that one more take-back of an event can touch: down what it names, and up all that names any of it. */
export function takeBacksAround(id: EventId, log: TakeBackLog): TakeBack[] {
  const seen = new Set<EventId>([id]);
  const open: EventId[] = [id];
  const found: TakeBack[] = [];
  for (let one = open.pop(); one !== undefined; one = open.pop()) {
    const target = log.targetOf(one);
    if (target !== null) found.push({ id: one, target });
    for (const next of [...(target === null ? [] : [target]), ...log.backsOf(one)]) {
      if (seen.has(next)) continue;
      seen.add(next);
      open.push(next);
    }
  }
  return found;
}

export type Turned = {
  /** What would no longer count. */
  readonly dies: readonly EventId[];
  /** What would count again. */
  readonly lives: readonly EventId[];
};

/** What one more take-back of an event turns, by the same rule as the fold. */
export function turnedBy(more: TakeBack, log: TakeBackLog): Turned {
  const around = takeBacksAround(more.target, log);
  const before = takenBack(around);
  const after = takenBack([...around, more]);
  return {
    dies: [...after].filter((id) => !before.has(id)),
    lives: [...before].filter((id) => !after.has(id)),
  };
}
