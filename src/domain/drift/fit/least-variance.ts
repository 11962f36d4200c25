// The least a reading can be uncertain by, however it was recorded: books written before keep `2.0` as exact, and it never was.

import type { House } from '../../catalogue/house.ts';
import type { Item } from '../../catalogue/item.ts';
import type { CountMark } from '../../ledger/books.ts';

/** Said to hold nothing open (`2+0`): exact but for the last drops and a generous fill, a hundredth of a container (our decision). */
const NOTHING_OPEN = 0.01;

/**
 * Variance of a reading in (thousandths)². By tenths never less than resolution / (2√3) of a container (QUAM appendix E.1) for
 * each open one, of which there is at least one unless the reading says there is none.
 */
export function leastVariance(mark: CountMark, item: Item, house: House): number {
  const recorded = mark.deviation ** 2;
  if (item.unit !== 'ml' || item.count === 'pieces') return recorded;
  if (mark.method !== 'tenths') return recorded;
  if (/^\d+\s*\+\s*0+$/.test(mark.reading)) return (NOTHING_OPEN * item.size) ** 2;
  if (mark.reading === 'empty') return 0;
  const open = mark.reading.split('+').filter((part) => !/^\s*\d+\s*$/.test(part)).length;
  const tenth = (item.size * house.tenthsWidth) / (2 * Math.sqrt(3));
  return Math.max(recorded, Math.max(1, open) * Math.min(tenth, item.size * 0.1) ** 2);
}
