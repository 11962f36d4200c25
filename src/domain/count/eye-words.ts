// What the drill learned, as a sentence.

import { type Books, personName } from '../ledger/books.ts';
import type { PersonId } from '../value/ids.ts';
import { assumedShare, ENOUGH_PAIRS, type EyeError, shareInterval } from './eye-error.ts';

export const percent = (share: number): string => `${(share * 100).toFixed(1)} %`;

/** How exact an eye is, and by what right. */
export function eyeSentence(error: EyeError, by: PersonId | null, books: Books): string {
  const name = personName(books, by) ?? 'nobody named';
  if (error.from === 'assumed')
    return `${name}: ${error.pairs} of ${ENOUGH_PAIRS} pairs. Until then a reading by eye counts as ±${percent(assumedShare(books.house))} of a bottle (one standard deviation, assumed).`;
  const [low, high] = shareInterval(error);
  const whose = error.from === 'own' ? name : `${name}, by the pairs of the whole house`;
  return `${whose}: ${error.pairs} pairs, one reading is off by ${percent(error.share)} of a bottle (${percent(low)} to ${percent(high)}), on average ${percent(Math.abs(error.bias ?? 0))} too ${(error.bias ?? 0) < 0 ? 'low' : 'high'}.`;
}
