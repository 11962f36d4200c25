// The rules of the moment: which one may be written, in which shift, and how much of it at once. One place for what is typed,
// tapped, imported or brought by another station.

import type { Item } from '../catalogue/item.ts';
import { type Books, isOfShift, isOpen } from '../ledger/books.ts';
import { besideKinds, type Event, type EventKey } from '../ledger/event.ts';
import type { When } from '../search/pour-text.ts';
import { exactText, LARGEST_AMOUNT } from '../value/amount.ts';
import {
  clockText,
  dateText,
  dayClockText,
  epochOf,
  instantOf,
  instantOfWall,
  isSkipped,
  lastWall,
  wallTime,
} from '../value/clock-date.ts';
import type { EventId, ItemId, PersonId } from '../value/ids.ts';
import { done, type Problem, type Result, refuse } from '../value/problem.ts';

export type Moment = {
  /** When it happened, for a late entry; else the store says now. */
  readonly at?: string;
  readonly by: PersonId | null;
};

/** So far two clocks may differ without a word. */
export const SKEW_MS = 60_000;
/** Between stations of a house more than this is told of. */
export const SKEW_SAID_MS = 2000;
/** A clock that differs by more than this is wrong, or was: it is asked about. */
export const JUMP_MS = 3_600_000;

/** What speaks against the clock: the last entry lies well ahead of it; null when nothing does. */
export function clockBehind({ last, house }: Books, now: string): string | null {
  const ahead = last === null ? 0 : epochOf(last.at) - epochOf(now);
  if (last === null || ahead <= JUMP_MS) return null;
  const said = (at: string): string => `${clockText(at, house.zone)} on ${wallTime(at, house.zone).date}`;
  return `The last entry was made at ${said(last.at)}, ${spanText(ahead)} ahead of this clock (${said(now)}).`;
}

/** A span of time as one says it: "3 h", "2 days". */
export function spanText(ms: number): string {
  const hours = Math.round(Math.abs(ms) / 3_600_000);
  return hours < 48 ? `${hours} h` : `${Math.round(hours / 24)} days`;
}

/** What an event is held against: item, shift, seal and clock in hand. */
export type Ground = {
  readonly now: string;
  readonly sealedUntil: string | null;
  /** The last seal in words, for the refusal. */
  readonly sealed: string;
  /** When an item was written first; null when it never was. */
  readonly knownSince: (item: ItemId) => string | null;
  /** A shift that counts; null when there is none of that id. */
  readonly shift: (id: EventId) => { readonly openedAt: string } | null;
};

/** Whether an event may stand at its moment; the first thing that is wrong, or null. */
export function admit(
  event: Pick<Event, 'kind' | 'at' | 'shift'>,
  items: readonly ItemId[],
  ground: Ground,
): Problem | null {
  const { now, sealedUntil } = ground;
  if (epochOf(event.at) > epochOf(now) + SKEW_MS)
    return problem(
      'future',
      'That moment lies in the future. Give an --at up to now, or leave it out.',
      'That moment lies in the future. Give one up to now.',
    );
  if (besideKinds.has(event.kind)) return null;
  if (sealedUntil !== null && epochOf(sealedUntil) - epochOf(now) > JUMP_MS)
    return problem(
      'seal-ahead',
      `The last seal was made at ${sealedUntil}, ahead of this clock by more than an hour. If that clock was wrong, take the seal back with ullage undo (ullage log names it) and seal again; else put this clock right.`,
      `The last seal was made at ${sealedUntil}, ahead of this clock by more than an hour. If that clock was wrong, take the seal back in the Log room and seal again; else put this clock right.`,
    );
  if (sealedUntil !== null && event.at <= sealedUntil)
    return problem(
      'sealed',
      `That moment lies before the last seal (${ground.sealed}), and what is sealed stays. Record it as of now, or correct the report with ullage correct.`,
      `That moment lies before the last seal (${ground.sealed}), and what is sealed stays. Record it as of now, or ^E in the Close room corrects the report.`,
    );
  return standsOn(event, items, ground);
}

/** Whether what it names is there at its moment: items, and its shift. */
export function standsOn(
  event: Pick<Event, 'kind' | 'at' | 'shift'>,
  items: readonly ItemId[],
  ground: Pick<Ground, 'knownSince' | 'shift'>,
): Problem | null {
  if (besideKinds.has(event.kind)) return null;
  for (const item of items) {
    const since = ground.knownSince(item);
    if (since === null) return problem('unknown-item', `The item "${item}" is not stocked. Write it first.`);
    if (event.at < since)
      return problem(
        'before-item',
        `The item "${item}" was written only at ${since}, so nothing of it can have moved before. Give a moment from then on.`,
      );
  }
  if (event.shift !== null && event.kind !== 'shift-sealed') {
    const shift = ground.shift(event.shift);
    if (shift === null)
      return problem('no-shift', 'The shift it was recorded in is not there. Open one first.');
    if (event.at < shift.openedAt) return beforeShift();
  }
  return null;
}

const problem = (code: string, message: string, inRooms?: string): Problem => ({
  code,
  message,
  exit: 65,
  ...(inRooms === undefined ? {} : { inRooms }),
});

const beforeShift = (open = ''): Problem =>
  problem(
    'before-shift',
    `No shift was open at that moment${open}. Give a later moment (--at, or fewer minutes ago), or none for now.`,
    `No shift was open at that moment${open}. Give a moment since then, or fewer minutes ago.`,
  );

/** ": Fri 20 Nov 23:50, and this one opened Fri 20 Nov 18:00". */
function whenText(at: string, openedAt: string, zone: string): string {
  return `: it is read as ${dayClockText(at, zone)}, and this one opened ${dayClockText(openedAt, zone)}`;
}

/** The last seal of the books in words. */
export const sealText = ({ shift }: Books): string =>
  shift === null
    ? 'a shift'
    : shift.sealedAt === null
      ? `of the shift before that of ${dateText(shift.date)}`
      : `the shift of ${dateText(shift.date)}`;

/** What the books of now hold an event against. */
export const groundOf = (books: Books, now: string): Ground => ({
  now,
  sealedUntil: books.sealedUntil,
  sealed: sealText(books),
  knownSince: (item) => books.knownSince.get(item) ?? null,
  shift: (id) => (books.shift !== null && isOfShift(books.shift, id) ? books.shift : null),
});

/**
 * The moment of what happens now. It never runs behind what this station recorded or has seen of others a moment ago, so that
 * cause stands before effect when a clock is set back or lags a little (a hybrid logical clock: Kulkarni et al., 2014, bounded
 * by `SKEW_MS`); and what is sealed stays closed when a clock is behind the seal.
 */
export function momentNow(now: string, lastSeen: string, sealedUntil: string | null): string {
  const isClose = lastSeen > now && epochOf(lastSeen) - epochOf(now) <= SKEW_MS;
  const at = isClose ? lastSeen : now;
  // A seal far ahead was made by a clock that ran away: it is refused for that, not followed.
  const isShut = sealedUntil !== null && at <= sealedUntil && epochOf(sealedUntil) - epochOf(at) <= JUMP_MS;
  return isShut ? instantOf(epochOf(sealedUntil) + 1) : at;
}

/** The first moment at which a station's event comes after a key in the order of the fold; before any, the empty text. */
export const momentAfter = (key: EventKey | null, station: string): string =>
  key === null ? '' : key.station > station ? instantOf(epochOf(key.at) + 1) : key.at;

/** When a pour happened, as it was said; undefined for now. */
export function momentOf(when: When | null, now: string, zone: string): Result<string | undefined> {
  if (when === null) return done(undefined);
  if ('ago' in when) return done(instantOf(epochOf(now) - when.ago * 60_000));
  const today = wallTime(now, zone).date;
  if (isSkipped(today, when.clock, zone) && instantOfWall(`${today} ${when.clock}`, zone) !== null)
    return refuse(
      'skipped-time',
      `The clocks were put forward that night and never showed ${when.clock}. Write a time before or after, or how long ago, as 40 ago.`,
    );
  const at = lastWall(when.clock, now, zone);
  return at === null
    ? refuse(
        'no-such-time',
        `The clock did not show ${when.clock} today or yesterday. Write how long ago, as 40 ago.`,
      )
    : done(at);
}

export const noShift = (): Result<never> =>
  refuse(
    'no-shift',
    'No shift is open. Open one with ullage open, or Ctrl-O in the rooms.',
    65,
    'No shift is open. Press ^O to open one.',
  );

/** The shift a moment belongs to; refused when none is open then. */
export function openShift(books: Books, at?: string): Result<{ readonly id: EventId }> {
  if (!isOpen(books.shift)) return noShift();
  if (at !== undefined && at < books.shift.openedAt)
    return {
      ok: false,
      problems: [beforeShift(whenText(at, books.shift.openedAt, books.house.zone))],
    };
  return done({ id: books.shift.id });
}

/** Who was pouring at a moment of the open shift; null between shifts. */
function handAt({ shift }: Books, at: string | undefined): PersonId | null {
  if (!isOpen(shift)) return null;
  if (at === undefined) return shift.pouring;
  return (shift.hands.findLast((hand) => hand.at <= at) ?? shift.hands[0])?.by ?? null;
}

/** Shared fields; who poured defaults to who was pouring in the open shift at that moment. */
export function moment(wish: Moment, shift: EventId | null, books: Books) {
  const by = wish.by ?? handAt(books, wish.at);
  return { shift, by, ...(wish.at === undefined ? {} : { at: wish.at }) };
}

/** The shift an event of the stock is noted under: the open one, when the moment lies in it. */
export const shiftAt = (books: Books, at?: string): EventId | null =>
  isOpen(books.shift) && (at === undefined || at >= books.shift.openedAt) ? books.shift.id : null;

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
