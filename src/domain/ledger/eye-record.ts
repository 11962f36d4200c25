// What the fold keeps of bottles that were read by eye and then weighed; what is concluded from it stands in count/.
import type { EventOf } from './event.ts';

/** Differences eye − scale as millionths of a container: exact integers, so the order of folding does not matter. */
export type EyeRecord = { readonly pairs: number; readonly sum: number; readonly squares: number };

export const noPairs: EyeRecord = { pairs: 0, sum: 0, squares: 0 };

export function addPair(record: EyeRecord, { eye, weighed, size }: EventOf<'readings-compared'>): EyeRecord {
  const off = Math.round(((eye - weighed) / size) * 1_000_000);
  return { pairs: record.pairs + 1, sum: record.sum + off, squares: record.squares + off * off };
}
