// What a shift adds up to: drinks by spec and purpose, money, what drew on which item.

import { wallHour } from '../value/clock-date.ts';
import type { Drawer, SpecId } from '../value/ids.ts';
import { isOfShift, type PourNote, type ShiftBooks, type Tally } from './books.ts';
import { type Draw, type EventOf, type PourPurpose, purposes } from './event.ts';

/** How many of tonight's last pours the books keep at hand; the log has them all. */
const RECENT_POURS = 24;

export const noTally: Tally = {
  count: 0,
  as: { sale: 0, comp: 0, staff: 0, remake: 0, training: 0 },
  soldMinor: 0,
  costAs: { sale: 0, comp: 0, staff: 0, remake: 0, training: 0 },
};

/** What a tally took at cost, whatever it was poured as. */
export const costOfTally = (tally: Tally): number =>
  purposes.reduce((sum, purpose) => sum + tally.costAs[purpose], 0);

/** A shift as it is when it opens. */
export const newShift = (event: EventOf<'shift-opened'>): ShiftBooks => ({
  id: event.id,
  date: event.date,
  openedAt: event.at,
  sealedAt: null,
  sealedBy: null,
  pouring: event.by,
  hands: [{ at: event.at, by: event.by, station: event.station }],
  station: event.station,
  also: [],
  drinks: new Map(),
  straight: noTally,
  lostMillis: 0,
  drawnBy: new Map(),
  prepped: new Map(),
  recent: [],
  byHour: new Map(),
  periods: [],
});

export type Poured = EventOf<'drink-poured'> | EventOf<'measure-poured'>;

const costOfPour = (event: Poured): number =>
  event.draws.reduce((sum, draw) => sum + (draw.costMillis ?? 0), 0);
const soldBy = (event: Poured): number => (event.as === 'sale' ? (event.priceMinor ?? 0) * event.count : 0);

/** A tally with one more pour in it. */
export function addToTally(tally: Tally, event: Poured): Tally {
  const { as, count } = event;
  return {
    count: tally.count + count,
    as: { ...tally.as, [as]: tally.as[as] + count },
    soldMinor: tally.soldMinor + soldBy(event),
    costAs: { ...tally.costAs, [as]: tally.costAs[as] + costOfPour(event) },
  };
}

/** A map that may be changed: a copy, unless the fold says that it is its own already. */
export type Mine = <K, V>(map: ReadonlyMap<K, V>) => Map<K, V>;
const copyOf: Mine = (map) => new Map(map);

/** Counts by the hour with one more pour in them: the hour is the one on the house's wall. */
export function addHour(
  byHour: ReadonlyMap<string, number>,
  event: Poured,
  zone: string,
  mine: Mine = copyOf,
): ReadonlyMap<string, number> {
  const hour = String(wallHour(event.at, zone)).padStart(2, '0');
  return mine(byHour).set(hour, (byHour.get(hour) ?? 0) + event.count);
}

/** The shift with one more pour in it; a pour of another shift leaves it as it is. */
export function withPour(
  shift: ShiftBooks,
  event: Poured,
  spec: SpecId | null,
  text: string,
  zone: string,
  mine: Mine = copyOf,
): ShiftBooks {
  if (!isOfShift(shift, event.shift)) return shift;
  const drinks = mine(shift.drinks);
  if (spec !== null) drinks.set(spec, addToTally(drinks.get(spec) ?? noTally, event));
  const pour: PourNote = {
    event: event.id,
    at: event.at,
    by: event.by,
    station: event.station,
    text,
    spec,
    count: event.count,
    as: event.as,
    changes: event.kind === 'drink-poured' ? event.changes : [],
    straight: straightOf(event),
    round: event.round ?? null,
  };
  return {
    ...shift,
    drinks,
    straight: spec === null ? addToTally(shift.straight, event) : shift.straight,
    byHour: addHour(shift.byHour, event, zone, mine),
    drawnBy: addDraws(shift.drawnBy, event.draws, spec ?? '', mine),
    recent: [...shift.recent.slice(1 - RECENT_POURS), pour],
  };
}

function straightOf(event: Poured): PourNote['straight'] {
  const [draw] = event.draws;
  if (event.kind !== 'measure-poured' || draw === undefined) return null;
  return { item: draw.item, amount: draw.amount / event.count };
}

function addDraws(
  drawnBy: ShiftBooks['drawnBy'],
  draws: readonly Draw[],
  name: Drawer,
  mine: Mine,
): ShiftBooks['drawnBy'] {
  const next = mine(drawnBy);
  for (const draw of draws) {
    const inner = mine(next.get(draw.item) ?? new Map<Drawer, number>());
    inner.set(name, (inner.get(name) ?? 0) + draw.amount);
    next.set(draw.item, inner);
  }
  return next;
}

const subtract = (
  a: Readonly<Record<PourPurpose, number>>,
  b: Readonly<Record<PourPurpose, number>>,
): Record<PourPurpose, number> =>
  Object.fromEntries(purposes.map((as) => [as, a[as] - b[as]])) as Record<PourPurpose, number>;

/** What was poured after `before` was: running totals of two moments. */
export const subtractTallies = (tally: Tally, before: Tally): Tally => ({
  count: tally.count - before.count,
  as: subtract(tally.as, before.as),
  soldMinor: tally.soldMinor - before.soldMinor,
  costAs: subtract(tally.costAs, before.costAs),
});
