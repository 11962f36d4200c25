// The fold: events in, books out. Pure; the only place that says what an event does.
import { exactText } from './amount.ts';
import {
  addFlows,
  type Books,
  type CountMark,
  type Flows,
  hasFlow,
  isOpen,
  netFlow,
  noFlows,
  type Period,
  type Stock,
  stockKey,
} from './books.ts';
import { addTo, type Containers, containersTotal, drawFrom, openNext, takeOut } from './containers.ts';
import { compareEvents, type Draw, type Event, type EventOf } from './event.ts';
import { houseOf } from './house.ts';
import type { EventId, ItemId } from './ids.ts';
import { newShift, withPour } from './tally.ts';

type Mutable<T> = { -readonly [K in keyof T]: T[K] };
/** Books being folded: records are replaced and never changed; a map is copied before the first change of it. */
type Draft = Mutable<Books> & { readonly owned: Set<MapName> };
type MapName = 'settings' | 'items' | 'specs' | 'people' | 'stock' | 'habit';
type MapOf<N extends MapName> = Books[N] extends ReadonlyMap<infer K, infer V> ? Map<K, V> : never;

/** The draft's own copy of a map: what nobody changed keeps its identity, so that indexes made from it stay good. */
function own<N extends MapName>(draft: Draft, name: N): MapOf<N> {
  if (!draft.owned.has(name)) {
    draft.owned.add(name);
    draft[name] = new Map(draft[name] as ReadonlyMap<never, never>) as never;
  }
  return draft[name] as unknown as MapOf<N>;
}

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
  const draft: Draft = { ...start, owned: new Set() };
  for (const event of events) {
    applyEvent(draft, event);
    draft.last = { at: event.at, station: event.station, seq: event.seq };
    onFolded?.(event, () => snapshot(draft));
  }
  return snapshot(draft);
}

/** The books as they are now; the draft goes on with copies. */
function snapshot(draft: Draft): Books {
  const { owned, ...books } = draft;
  owned.clear();
  return books;
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
      draft.shift = { ...newShift(event), periods: draft.between };
      draft.between = [];
      return;
    case 'shift-sealed':
      if (draft.shift?.id === event.of)
        draft.shift = { ...draft.shift, sealedAt: event.at, sealedBy: event.by };
      draft.sealedUntil = event.at;
      return;
    case 'handed-over':
      if (isOpen(draft.shift)) draft.shift = { ...draft.shift, pouring: event.to };
      return;
    default:
      applyStock(draft, event);
  }
}

function applyStock(draft: Draft, event: Event): void {
  switch (event.kind) {
    case 'drink-poured':
      for (const draw of event.draws) pourDraw(draft, draw, event);
      own(draft, 'habit').set(event.spec, (draft.habit.get(event.spec) ?? 0) + event.count);
      if (draft.shift !== null)
        draft.shift = withPour(
          draft.shift,
          event,
          event.spec,
          `${event.count > 1 ? `${event.count} ` : ''}${event.name}`,
        );
      return;
    case 'measure-poured':
      for (const draw of event.draws) pourDraw(draft, draw, event);
      if (draft.shift !== null) draft.shift = withPour(draft.shift, event, null, straightText(draft, event));
      return;
    case 'stock-lost':
      flow(draft, event.item, event.place, { lost: event.amount }, (held, size) =>
        drawFrom(held, event.amount, size),
      );
      return;
    case 'delivery-received':
      receive(draft, event);
      return;
    case 'stock-moved':
      flow(draft, event.item, event.from, { movedOut: event.amount }, (held, size) =>
        takeOut(held, event.amount, size),
      );
      flow(draft, event.item, event.to, { movedIn: event.amount }, (held, size) =>
        addTo(held, event.amount, size),
      );
      return;
    case 'bottle-opened':
      flow(draft, event.item, event.place, {}, (held, size) => openNext(held, size) ?? held);
      return;
    case 'stock-counted':
      count(draft, event);
      return;
    default:
      return; // a take-back acts by what it leaves out
  }
}

function straightText(draft: Draft, event: EventOf<'measure-poured'>): string {
  const [draw] = event.draws;
  const item = draw === undefined ? undefined : draft.items.get(draw.item);
  if (draw === undefined || item === undefined) return 'a straight measure';
  const times = event.count > 1 ? `${event.count} × ` : '';
  return `${times}${exactText(draw.amount / event.count)} ${item.unit === 'each' ? '' : `${item.unit} `}${item.name}`;
}

function receive(draft: Draft, event: EventOf<'delivery-received'>): void {
  flow(draft, event.item, event.place, { received: event.amount }, (held, size) =>
    addTo(held, event.amount, size),
  );
  const item = draft.items.get(event.item);
  if (item !== undefined && event.costMinor !== null)
    own(draft, 'items').set(item.id, { ...item, costMinor: event.costMinor });
}

function pourDraw(
  draft: Draft,
  draw: Draw,
  event: EventOf<'drink-poured'> | EventOf<'measure-poured'>,
): void {
  const { amount } = draw;
  const spec = event.kind === 'drink-poured' ? event.spec : '';
  // Each glass is a pour of its own, with a scatter of its own.
  const added = {
    poured: amount,
    pours: event.count,
    by: { [event.by ?? '']: amount },
    bySpec: { [spec]: amount },
  };
  flow(draft, draw.item, draw.place, added, (held, size) => drawFrom(held, amount, size));
}

const newStock = (item: ItemId, place: string): Stock => ({
  item,
  place,
  amount: 0,
  sealed: 0,
  open: [],
  counted: null,
  period: null,
  flows: noFlows,
});

function flow(
  draft: Draft,
  item: ItemId,
  place: string,
  added: Partial<Flows>,
  change: (held: Containers, size: number) => Containers,
): void {
  const key = stockKey(item, place);
  const stock = draft.stock.get(key) ?? newStock(item, place);
  const size = draft.items.get(item)?.size ?? 1_000_000;
  const { sealed, open } = change(stock, size);
  const flows = addFlows(stock.flows, added);
  const amount = stock.amount + netFlow(flows) - netFlow(stock.flows);
  // A container whose size was changed later could leave a difference; the amount is what the events say.
  const drift = amount - containersTotal({ sealed, open }, size);
  const mended = drift === 0 ? open : [...open.slice(0, -1), (open.at(-1) ?? 0) + drift];
  own(draft, 'stock').set(key, { ...stock, amount, sealed, open: mended, flows });
}

function count(draft: Draft, event: EventOf<'stock-counted'>): void {
  const key = stockKey(event.item, event.place);
  const stock = draft.stock.get(key) ?? newStock(event.item, event.place);
  const mark: CountMark = {
    event: event.id,
    at: event.at,
    by: event.by,
    shift: event.shift,
    reading: event.reading,
    method: event.method,
    amount: event.amount,
    deviation: event.deviation,
    densityDeviation: event.densityDeviation,
  };
  const replaces = event.again && stock.counted !== null && !hasFlow(stock.flows);
  const period = replaces ? secondReading(stock, mark) : periodUpTo(stock, mark);
  if (period !== null) notePeriod(draft, period, replaces ? stock.period : null);
  own(draft, 'stock').set(key, {
    ...stock,
    amount: event.amount,
    sealed: event.sealed,
    open: event.open.filter((level) => level > 0),
    counted: mark,
    period,
    flows: noFlows,
  });
}

const periodUpTo = (stock: Stock, to: CountMark): Period | null =>
  stock.counted === null
    ? null
    : { item: stock.item, place: stock.place, from: stock.counted, to, flows: stock.flows };

const secondReading = (stock: Stock, to: CountMark): Period | null =>
  stock.period === null ? null : { ...stock.period, to };

function notePeriod(draft: Draft, period: Period, replaced: Period | null): void {
  const replace = (periods: readonly Period[]) => [
    ...periods.filter((known) => known.to.event !== replaced?.to.event),
    period,
  ];
  if (isOpen(draft.shift)) draft.shift = { ...draft.shift, periods: replace(draft.shift.periods) };
  else draft.between = replace(draft.between);
}
