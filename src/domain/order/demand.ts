// What of each item leaves on which weekday: from what really left between counts where it was counted, else from what was tapped and lost.
// The level by exponential smoothing of the series without its weekdays, the spread from what that missed. Hyndman & Athanasopoulos,
// Forecasting: Principles and Practice, 2nd ed. 2018, 7.1; weekday indices as in common practice (no source).
import type { ShiftBooks } from '../ledger/books.ts';
import { addAmounts, netFlow } from '../ledger/stock/flows.ts';
import { residualDeviation, smoothed, weekdayIndices } from '../standard/stock-up.ts';
import { addDays } from '../value/clock-date.ts';
import type { ItemId } from '../value/ids.ts';
import { weekdayOf } from './calendar.ts';

/** So much of each item left in one night, thousandths of its unit. */
export type NightUse = { readonly date: string; readonly used: ReadonlyMap<ItemId, number> };

const ALPHA = 0.1;
/** Fewer nights than two weeks say nothing of a weekday. */
export const ENOUGH_NIGHTS = 12;

/**
 * What left in each sealed night. What a count found missing left in the nights since the count before, as these were tapped. What went
 * into makings is a use of what is bought (`all`), and none of what is made (`poured`): that follows from what is to be made. What was
 * thrown away past its date was wanted by nobody.
 */
export function nightUses(shifts: readonly ShiftBooks[], what: 'all' | 'poured' = 'all'): NightUse[] {
  const nights = shifts.filter(({ sealedAt }) => sealedAt !== null);
  const uses = nights.map(({ date, drawnBy, prepped }) => {
    const tapped = new Map([...drawnBy].map(([item, by]) => [item, sumOf(by.values())]));
    return { date, used: what === 'all' ? addAmounts(tapped, prepped) : tapped };
  });
  nights.forEach((night, at) => {
    for (const { item, from, to, flows } of night.periods) {
      // An improbable reading says nothing of what left.
      if (to.improbable === true || from.improbable === true) continue;
      const lost = flows.lost - (flows.why.expired ?? 0);
      const beyond = from.amount + netFlow(flows) + lost - to.amount;
      const first = nights.findIndex(({ sealedAt }) => (sealedAt ?? '') > from.at);
      spread(uses.slice(Math.max(0, first), at + 1), item, beyond);
    }
  });
  return uses;
}

const sumOf = (amounts: Iterable<number>): number => [...amounts].reduce((sum, amount) => sum + amount, 0);

/** What is beyond the taps goes to the nights in the measure of their taps; to the last where none was tapped. */
function spread(
  nights: readonly { readonly used: Map<ItemId, number> }[],
  item: ItemId,
  beyond: number,
): void {
  const total = nights.reduce((sum, { used }) => sum + (used.get(item) ?? 0), 0);
  const last = nights.at(-1);
  if (last === undefined || beyond === 0) return;
  for (const night of nights) {
    const own = night.used.get(item) ?? 0;
    const share = total > 0 ? own / total : night === last ? 1 : 0;
    // Less than nothing never left.
    night.used.set(item, Math.max(0, own + beyond * share));
  }
}

export type Demand = {
  readonly nights: number;
  /** What a day takes on average of all weekdays at the level of now. */
  readonly meanPerDay: number;
  readonly deviationPerDay: number;
  /** What a date is expected to take. */
  readonly on: (date: string) => number;
};

/** A known day: its night takes so many times the usual. */
export type Expected = ReadonlyMap<string, number>;

/** The demand of one item; null with too few nights. Days without a night took nothing: a house may be closed on Mondays. */
export function demandOf(uses: readonly NightUse[], item: ItemId, expected: Expected): Demand | null {
  const [first, last] = [uses[0]?.date, uses.at(-1)?.date];
  if (uses.length < ENOUGH_NIGHTS || first === undefined || last === undefined) return null;
  const byDate = new Map<string, number>();
  for (const { date, used } of uses) byDate.set(date, (byDate.get(date) ?? 0) + (used.get(item) ?? 0));
  const days: { weekday: number; value: number }[] = [];
  for (let date = first; date <= last; date = addDays(date, 1)) {
    // What was known ahead is taken out of what is usual.
    const factor = expected.get(date) ?? 1;
    if (factor > 0) days.push({ weekday: weekdayOf(date), value: (byDate.get(date) ?? 0) / factor });
  }
  const indices = weekdayIndices(days);
  const indexOf = (weekday: number): number => indices[weekday] ?? 1;
  const open = days.filter(({ weekday }) => indexOf(weekday) > 0);
  const plain = open.map(({ weekday, value }) => value / indexOf(weekday));
  const start = plain.reduce((sum, value) => sum + value, 0) / Math.max(1, plain.length);
  const { fitted, level } = smoothed(plain, ALPHA, start);
  const missed = residualDeviation(
    open.map(({ value }) => value),
    open.map(({ weekday }, at) => (fitted[at] ?? 0) * indexOf(weekday)),
  );
  return {
    nights: uses.length,
    meanPerDay: level * (indices.reduce((a, b) => a + b, 0) / 7),
    deviationPerDay: missed ?? 0,
    on: (date) => level * indexOf(weekdayOf(date)) * (expected.get(date) ?? 1),
  };
}
