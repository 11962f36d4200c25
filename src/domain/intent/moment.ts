// The rules of the moment: when something may be said to have happened, in which shift, and how much of it at once.
import type { Item } from '../catalogue/item.ts';
import { type Books, isOpen } from '../ledger/books.ts';
import { exactText, LARGEST_AMOUNT } from '../value/amount.ts';
import { dateText } from '../value/clock-date.ts';
import type { PersonId } from '../value/ids.ts';
import { done, type Result, refuse } from '../value/problem.ts';

export type Moment = {
  /** When it happened, for a late entry; else the store says now. */
  readonly at?: string;
  readonly by: PersonId | null;
};

/** The shift a moment belongs to; refused when none is open then. */
export function openShift(books: Books, at?: string): Result<{ id: NonNullable<Books['shift']>['id'] }> {
  if (!isOpen(books.shift))
    return refuse('no-shift', 'No shift is open. Open one with ullage open, or Ctrl-O in the rooms.');
  if (at !== undefined && at < books.shift.openedAt) {
    return refuse(
      'before-shift',
      'No shift was open at that moment. Give a later moment (--at, or fewer minutes ago), or none for now.',
    );
  }
  return done({ id: books.shift.id });
}

/** Shared fields; who poured defaults to who is pouring in the open shift. */
export function moment(wish: Moment, shift: NonNullable<Books['shift']>['id'] | null, books: Books) {
  const by = wish.by ?? (isOpen(books.shift) ? books.shift.pouring : null);
  return { shift, by, ...(wish.at === undefined ? {} : { at: wish.at }) };
}

/** A single event of more than a hundred containers, or 1,000 l, is a slip of the finger. */
export function checkAmount(amount: number, item: Item): Result<null> {
  const most = Math.min(LARGEST_AMOUNT, item.size * 100);
  if (Number.isSafeInteger(amount) && amount >= 1 && amount <= most) return done(null);
  const unit = item.unit === 'each' ? 'pieces' : item.unit;
  return refuse(
    'bad-amount',
    `That is not an amount of ${item.name} one event can have. Give more than 0 and at most ${exactText(most)} ${unit}.`,
  );
}

/** A moment must not lie ahead, nor in what is sealed. */
export function checkMoment(books: Books, at: string, now: string): Result<null> {
  if (at > now)
    return refuse('future', 'That moment lies in the future. Give an --at up to now, or leave it out.');
  if (books.sealedUntil !== null && at <= books.sealedUntil) {
    const last = books.shift === null ? 'a shift' : `the shift of ${dateText(books.shift.date)}`;
    return refuse('sealed', `That moment lies before the last seal (${last}). Record it as of now instead.`);
  }
  return done(null);
}
