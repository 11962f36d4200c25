// One shift after the other: what counts opens one, and seals that one, before the next is opened. Where several stations keep one
// house, two that did not hear of each other may open a night twice, and seal it twice: the first of each is what counts.
import type { EventId } from '../value/ids.ts';

/** A shift open for longer than any night lasts was forgotten: it is asked about. */
export const LONG_SHIFT_MS = 20 * 3_600_000;

export type ShiftMark = {
  readonly id: EventId;
  readonly at: string;
  readonly station: string;
  /** The business date it opened; null for a seal. */
  readonly date: string | null;
  /** The shift it seals; null for an opening. */
  readonly of: EventId | null;
  /** Other openings that it seals with it. */
  readonly also: readonly EventId[];
  /** A seal that says how far it saw each station: it may have been made apart from another one. */
  readonly apart: boolean;
};

/** One night as its openings and its seal have it. */
export type NightSpan = {
  /** The name its seal gives it, or its first opening. */
  readonly id: EventId;
  readonly date: string;
  readonly openedAt: string;
  readonly sealedAt: string | null;
  /** The seal that closed it. */
  readonly seal: EventId | null;
  /** All openings of it, the first one first. */
  readonly openings: readonly EventId[];
};

type Walked = { readonly nights: readonly NightSpan[]; readonly broken: Broken | null };
type Broken = { readonly id: EventId; readonly message: string };

/** The nights that marks in order make, and the first mark that does not fit. */
function walk(marks: readonly ShiftMark[]): Walked {
  const nights: NightSpan[] = [];
  let broken: Broken | null = null;
  let opener = '';
  const opened = new Map<EventId, ShiftMark>();
  for (const mark of marks) {
    const last = nights.at(-1);
    const open = last !== undefined && last.sealedAt === null ? last : null;
    if (mark.date !== null) {
      opened.set(mark.id, mark);
      if (open !== null && mark.station !== opener) {
        nights[nights.length - 1] = { ...open, openings: [...open.openings, mark.id] };
        continue;
      }
      if (open !== null)
        broken ??= {
          id: mark.id,
          message: `The shift of ${mark.date} opens while that of ${open.date} is open. Seal that one first, or take one of them back.`,
        };
      opener = mark.station;
      nights.push(newNight(mark, mark.date));
    } else if (open !== null && closedBy(open, mark) !== null) {
      nights[nights.length - 1] = sealed(open, mark, opened);
    } else if (!mark.apart) {
      broken ??= {
        id: mark.id,
        message: `This seals a shift that is not the open one. Import the whole export.`,
      };
      sealOlder(nights, mark);
    }
  }
  return { nights, broken };
}

/** The opening of a night that a seal names; null when it names none of them. */
const closedBy = ({ openings }: NightSpan, { of, also }: ShiftMark): EventId | null =>
  [...(of === null ? [] : [of]), ...also].find((id) => openings.includes(id)) ?? null;

/** A sealed night has the name, the date and the beginning that its seal knew: what opened it earlier elsewhere changes nothing. */
function sealed(night: NightSpan, mark: ShiftMark, opened: ReadonlyMap<EventId, ShiftMark>): NightSpan {
  const id = closedBy(night, mark) ?? night.id;
  const known = mark.apart ? opened.get(id) : undefined;
  return {
    ...night,
    id,
    date: known?.date ?? night.date,
    openedAt: known?.at ?? night.openedAt,
    sealedAt: mark.at,
    seal: mark.id,
  };
}

const newNight = ({ id, at }: ShiftMark, date: string): NightSpan => ({
  id,
  date,
  openedAt: at,
  sealedAt: null,
  seal: null,
  openings: [id],
});

/** Older books may hold a seal of a shift over which another one was opened. */
function sealOlder(nights: NightSpan[], { of, id, at }: ShiftMark): void {
  const index = nights.findIndex((night) => night.id === of);
  const night = nights[index];
  if (night !== undefined) nights[index] = { ...night, sealedAt: at, seal: id };
}

/** The nights of marks that are in order, oldest first. */
export const nightsOf = (marks: readonly ShiftMark[]): readonly NightSpan[] => walk(marks).nights;

/** The first opening or seal, in order, that does not fit; null when all do. */
export const brokenShift = (marks: readonly ShiftMark[]): Broken | null => walk(marks).broken;
