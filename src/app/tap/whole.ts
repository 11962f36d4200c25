// Several things written into the Book as one, as from a spreadsheet: one key takes all of them back.
import { catalogueKinds, type Event } from '../../domain/ledger/event.ts';

/** Nothing of the night is among them. */
export const isWhole = (events: readonly Event[]): boolean =>
  events.length > 1 && events.every(({ kind }) => catalogueKinds.includes(kind));
