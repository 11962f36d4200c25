// One item over its counts: what went missing between two of them, who poured and which cards, and how exactly it is known.
// Tonight's closing count is tomorrow's opening count, so neighbouring stretches share a reading: over several nights only
// the first and the last reading count (they telescope).

import type { House } from '../catalogue/house.ts';
import type { Item } from '../catalogue/item.ts';
import { pourVariance } from '../count/variance.ts';
import type { CountMark, Period, ShiftBooks } from '../ledger/books.ts';
import { addAmounts, netFlow } from '../ledger/stock/flows.ts';
import type { Drawer, PersonId, Pourer } from '../value/ids.ts';
import { leastVariance } from './fit/least-variance.ts';

/** One item between two counts, all its places together. Amounts in thousandths of the unit, variances in their squares. */
export type Stretch = {
  readonly shift: string;
  readonly date: string;
  readonly missing: number;
  readonly poured: number;
  /** How many glasses were poured. */
  readonly pours: number;
  /** Who counted at its beginning and at its end; null when nobody is known. */
  readonly fromBy: PersonId | null;
  readonly toBy: PersonId | null;
  readonly fromVariance: number;
  readonly toVariance: number;
  /** What is this stretch's own: scatter of its pours, and of a density. */
  readonly ownVariance: number;
  /** It starts at the very count the stretch before ended with. */
  readonly follows: boolean;
  readonly by: ReadonlyMap<Pourer, number>;
  readonly bySpec: ReadonlyMap<Drawer, number>;
};

/** The stretches of one item over shifts, oldest first. Places counted in a shift are added up. */
export function stretchesOf(shifts: readonly ShiftBooks[], item: Item, house: House): Stretch[] {
  const stretches: Stretch[] = [];
  let ended = new Set<string>();
  for (const shift of shifts) {
    const periods = shift.periods.filter((period) => period.item === item.id);
    if (periods.length === 0) continue;
    // A reading that can't be so says nothing of anybody; the next one goes on from the last that can.
    if (periods.some(({ from, to }) => from.improbable === true || to.improbable === true)) continue;
    const follows = periods.every(
      (period) =>
        ended.has(period.from.event) || periods.some((other) => other.to.event === period.from.event),
    );
    stretches.push({
      ...sumUp(periods, item, house),
      fromBy: counterOf(periods.map(({ from }) => from)),
      toBy: counterOf(periods.map(({ to }) => to)),
      shift: shift.id,
      date: shift.date,
      follows,
    });
    ended = new Set(periods.map((period) => period.to.event));
  }
  return stretches;
}

type Sum = Omit<Stretch, 'shift' | 'date' | 'follows' | 'fromBy' | 'toBy'>;

/** Who counted, when one person counted all the places. */
function counterOf(marks: readonly CountMark[]): PersonId | null {
  const names = new Set(marks.map(({ by }) => by));
  return names.size === 1 ? ([...names][0] ?? null) : null;
}

function sumUp(periods: readonly Period[], item: Item, house: House): Sum {
  const total: { -readonly [K in keyof Sum]: Sum[K] } = {
    missing: 0,
    poured: 0,
    pours: 0,
    fromVariance: 0,
    toVariance: 0,
    ownVariance: 0,
    by: new Map(),
    bySpec: new Map(),
  };
  for (const { from, to, flows } of periods) {
    total.missing += from.amount + netFlow(flows) - to.amount;
    total.poured += flows.poured;
    total.pours += flows.pours;
    // A reading inside the shift is an end of one stretch and a start of the next: it cancels.
    if (!periods.some((other) => other.to.event === from.event))
      total.fromVariance += leastVariance(from, item, house);
    if (!periods.some((other) => other.from.event === to.event))
      total.toVariance += leastVariance(to, item, house);
    total.ownVariance +=
      flows.pours * pourVariance(item, house) + (from.densityDeviation - to.densityDeviation) ** 2;
    total.by = addAmounts(total.by, flows.by);
    total.bySpec = addAmounts(total.bySpec, flows.bySpec);
  }
  return total;
}

/** Nights before any trend is named: our decision, after a simulation (`npm run bench -- drift`). */
export const ENOUGH_COUNTS = 8;

export type Telescoped = {
  readonly missing: number;
  readonly poured: number /** k = 2 */;
  readonly uncertainty: number;
  readonly nights: number;
};

/** Several stretches as one: readings in between cancel where one follows the other. */
export function telescope(stretches: readonly Stretch[]): Telescoped {
  let [missing, poured, variance] = [0, 0, 0];
  stretches.forEach((stretch, index) => {
    missing += stretch.missing;
    poured += stretch.poured;
    variance += stretch.ownVariance;
    if (index === 0 || !stretch.follows) variance += stretch.fromVariance;
    if (stretches[index + 1]?.follows !== true) variance += stretch.toVariance;
  });
  return { missing, poured, uncertainty: 2 * Math.sqrt(variance), nights: stretches.length };
}
