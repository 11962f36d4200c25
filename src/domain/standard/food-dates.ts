// Discard dates as information: FDA Food Code 2022, 3-501.17 (wording as in Minnesota Rules 4626.0400). Local rules decide.
import { addDays } from '../value/clock-date.ts';

/** Days food that needs time and temperature control may be held, the day of preparation or opening counted as day one. */
export const HOLDING_DAYS = 7;

export type Held = {
  /** Day it was prepared or opened, as 2025-03-01. */
  readonly since: string;
  /** The maker's use-by, which is never passed. */
  readonly useBy?: string;
};

/** Last day it may be used: seven calendar days with the first one counted, never past the maker's date. */
export function discardDate(held: Held): string {
  const last = addDays(held.since, HOLDING_DAYS - 1);
  return held.useBy !== undefined && held.useBy < last ? held.useBy : last;
}

/** A mixture takes the earliest date of its parts. Null for no parts. */
export const discardDateOfMixture = (parts: readonly Held[]): string | null =>
  parts.map(discardDate).sort()[0] ?? null;
