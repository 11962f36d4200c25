// How this station stands apart from the others of its house, in a few words for the head line: nothing while in step.
import { SKEW_SAID_MS } from '../../domain/intent/moment.ts';
import { isOpen, type ShiftBooks } from '../../domain/ledger/books.ts';
import type { HouseStanding } from '../room.ts';

export function apartText(house: HouseStanding | null, shift: ShiftBooks | null = null): string {
  if (house === null) return '';
  const { isInStep, waiting, skewMs } = house;
  const seconds = Math.round(Math.abs(skewMs) / 1000);
  return [
    isInStep ? '' : `kept here: ${waiting}`,
    // Each station has a hand of its own, and pours in nobody's until it is said.
    isOpen(shift) && shift.pouring === null ? 'nobody pouring' : '',
    Math.abs(skewMs) <= SKEW_SAID_MS ? '' : `${seconds} s ${skewMs > 0 ? 'ahead' : 'behind'}`,
  ]
    .filter((part) => part !== '')
    .join('  ');
}
