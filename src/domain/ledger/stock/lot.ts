// A lot: so much of an item that was made or came at once, with its date.
import type { Thousandths } from '../../value/amount.ts';
import type { EventId, ItemId, PersonId } from '../../value/ids.ts';

export type Lot = {
  /** The event that made or brought it. */
  readonly id: EventId;
  readonly item: ItemId;
  readonly place: string;
  readonly madeAt: string;
  readonly by: PersonId | null;
  /** The last moment it may be used; null where it has no date. */
  readonly discardAt: string | null;
  readonly amount: Thousandths;
  readonly left: Thousandths;
  /** What all of it cost, thousandths of a minor unit; null where a part of that is not known. */
  readonly costMillis: number | null;
  readonly isMade: boolean;
};

/** A lot past its date at a moment. */
export const isLate = ({ discardAt }: Pick<Lot, 'discardAt'>, at: string): boolean =>
  discardAt !== null && discardAt <= at;
