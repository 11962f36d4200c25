// What a night can't be without: counted every night, and in one of the ten drinks that are poured most. Of these more is kept spare.
import type { Books, ShiftBooks } from '../ledger/books.ts';
import type { ItemId, SpecId } from '../value/ids.ts';

const MOST_POURED = 10;
/** So many nights in a row are "every night". */
const NIGHTS = 3;

/** Spare of a house pour in standard deviations: nineteen nights in twenty. */
export const HOUSE_Z = 1.65;

export function housePours({ habit, specs }: Books, shifts: readonly ShiftBooks[]): ReadonlySet<ItemId> {
  const nights = shifts.filter(({ sealedAt }) => sealedAt !== null).slice(-NIGHTS);
  if (nights.length < NIGHTS) return new Set();
  const most = [...habit].sort(([, a], [, b]) => b - a).slice(0, MOST_POURED);
  const needed = most.flatMap(([id]) => specs.get(id as SpecId)?.measures.map(({ item }) => item) ?? []);
  return new Set(
    needed.filter((id) => nights.every(({ periods }) => periods.some(({ item }) => item === id))),
  );
}
