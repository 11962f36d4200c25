// What a shift adds up to: drinks by spec and purpose, money, what drew on which item.
import type { PourNote, ShiftBooks, Tally } from './books.ts';
import type { Draw, EventOf, PourPurpose } from './event.ts';
import type { SpecId } from './ids.ts';

/** How many of tonight's last pours the books keep at hand; the log has them all. */
const RECENT_POURS = 24;

export const noTally: Tally = {
  count: 0,
  as: { sale: 0, comp: 0, staff: 0, remake: 0, training: 0 },
  soldMinor: 0,
  costMillis: 0,
};

/** A shift as it is when it opens. */
export const newShift = (event: EventOf<'shift-opened'>): ShiftBooks => ({
  id: event.id,
  date: event.date,
  openedAt: event.at,
  sealedAt: null,
  sealedBy: null,
  pouring: event.by,
  drinks: new Map(),
  straight: noTally,
  soldMinor: 0,
  costMillis: 0,
  drawnBy: new Map(),
  recent: [],
  periods: [],
});

function addToTally(
  tally: Tally,
  count: number,
  as: PourPurpose,
  soldMinor: number,
  costMillis: number,
): Tally {
  return {
    count: tally.count + count,
    as: { ...tally.as, [as]: tally.as[as] + count },
    soldMinor: tally.soldMinor + soldMinor,
    costMillis: tally.costMillis + costMillis,
  };
}

type Poured = EventOf<'drink-poured'> | EventOf<'measure-poured'>;

/** The shift with one more pour in it; a pour of another shift leaves it as it is. */
export function withPour(shift: ShiftBooks, event: Poured, spec: SpecId | null, text: string): ShiftBooks {
  if (event.shift !== shift.id) return shift;
  const price = event.kind === 'drink-poured' ? (event.priceMinor ?? 0) : 0;
  const sold = event.as === 'sale' ? price * event.count : 0;
  const cost = event.draws.reduce((sum, draw) => sum + (draw.costMillis ?? 0), 0);
  const drinks = new Map(shift.drinks);
  const tally = (before: Tally): Tally => addToTally(before, event.count, event.as, sold, cost);
  if (spec !== null) drinks.set(spec, tally(drinks.get(spec) ?? noTally));
  const pour: PourNote = {
    event: event.id,
    at: event.at,
    by: event.by,
    text,
    spec,
    count: event.count,
    as: event.as,
  };
  return {
    ...shift,
    drinks,
    straight: spec === null ? tally(shift.straight) : shift.straight,
    soldMinor: shift.soldMinor + sold,
    costMillis: shift.costMillis + cost,
    drawnBy: addDraws(shift.drawnBy, event.draws, spec ?? ''),
    recent: [...shift.recent.slice(1 - RECENT_POURS), pour],
  };
}

function addDraws(
  drawnBy: ShiftBooks['drawnBy'],
  draws: readonly Draw[],
  name: string,
): ShiftBooks['drawnBy'] {
  const next = new Map(drawnBy);
  for (const draw of draws) {
    const inner = new Map(next.get(draw.item) ?? []);
    inner.set(name, (inner.get(name) ?? 0) + draw.amount);
    next.set(draw.item, inner);
  }
  return next;
}

/** Tallies of several shifts as one. */
export function addTallies(all: readonly ReadonlyMap<SpecId, Tally>[]): Map<SpecId, Tally> {
  const sum = new Map<SpecId, Tally>();
  for (const drinks of all)
    for (const [spec, tally] of drinks) sum.set(spec, sumOf(sum.get(spec) ?? noTally, tally));
  return sum;
}

const sumOf = (a: Tally, b: Tally): Tally => ({
  count: a.count + b.count,
  as: {
    sale: a.as.sale + b.as.sale,
    comp: a.as.comp + b.as.comp,
    staff: a.as.staff + b.as.staff,
    remake: a.as.remake + b.as.remake,
    training: a.as.training + b.as.training,
  },
  soldMinor: a.soldMinor + b.soldMinor,
  costMillis: a.costMillis + b.costMillis,
});
