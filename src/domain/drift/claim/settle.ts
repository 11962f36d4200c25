// Which count would settle a doubt soonest: the bottle, how it should be read, and on which weekday.

import type { Item } from '../../catalogue/item.ts';
import { dateText } from '../../value/clock-date.ts';
import type { ItemId, PersonId } from '../../value/ids.ts';
import type { Stretch } from '../drift.ts';
import { ownVariance, readingVariance } from '../fit/bottle.ts';
import { unmarked } from '../fit/slips.ts';
import type { JudgedItem, JudgedSeason } from './season.ts';

export type Settling = {
  readonly item: ItemId;
  readonly how: 'weigh' | 'measure' | 'count';
  readonly weekday: string;
};

/** A scale where the empty container's weight is known, else by ml; what is read exactly can only be counted more often. */
function howTo(item: Item): Settling['how'] {
  if (item.unit !== 'ml' || item.count !== 'tenths') return 'count';
  return item.tareMilligrams === null ? 'measure' : 'weigh';
}

/** The weekday on which most of it is poured. */
function weekdayOf(stretches: readonly Stretch[], amount: (stretch: Stretch) => number): string {
  const sums = new Map<string, number>();
  for (const stretch of stretches) {
    const day = dateText(stretch.date).slice(0, 3);
    sums.set(day, (sums.get(day) ?? 0) + amount(stretch));
  }
  return [...sums].sort((a, b) => b[1] - a[1])[0]?.[0] ?? '';
}

export const settlesItem = ({ series: { item, stretches } }: JudgedItem): Settling => ({
  item: item.id,
  how: howTo(item),
  weekday: weekdayOf(stretches, ({ poured }) => poured),
});

/** The bottle a person pours most of, for how much an exact reading would tell that a reading by eye hides. */
export function settlesPerson(person: number, { people, items, analysis }: JudgedSeason): Settling | null {
  const name = people[person] as PersonId;
  const worth = items
    .filter(
      ({ series }) =>
        howTo(series.item) !== 'count' && series.stretches.some(({ by }) => (by.get(name) ?? 0) > 0),
    )
    .map((judged) => {
      const { bottle } = judged;
      const scale = analysis.scales[items.indexOf(judged)] as { reading: number; own: number };
      const { widths } = unmarked(bottle);
      let told = 0;
      (bottle.by[person] as Float64Array).forEach((amount, t) => {
        const own = ownVariance(bottle, scale, widths, t);
        const read = readingVariance(bottle, scale, widths, bottle.to[t] as number);
        told += amount ** 2 * (1 / (own + 2) - 1 / (own + 2 * read));
      });
      return { judged, told };
    })
    .sort((a, b) => b.told - a.told)[0];
  if (worth === undefined) return null;
  const { item, stretches } = worth.judged.series;
  return { item: item.id, how: howTo(item), weekday: weekdayOf(stretches, ({ by }) => by.get(name) ?? 0) };
}
