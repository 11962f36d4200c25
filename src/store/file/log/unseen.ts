// What came later for a night that was sealed: the seal did not see it, so it changes nothing of what was said, and stands beside it.
import { besideKinds, compareEvents, type Event, type EventKey } from '../../../domain/ledger/event.ts';
import { nightsOf } from '../../../domain/ledger/shift-order.ts';
import { isTakeBack, takenBack } from '../../../domain/ledger/take-back.ts';
import type { EventId } from '../../../domain/value/ids.ts';
import { eventOfBody, type Rows } from './rows.ts';
import type { SealRow } from './seal-rows.ts';
import { MARKS_LOOKED_AT } from './statements.ts';

const LAST = Number.MAX_SAFE_INTEGER;

const seenOf = ({ seen }: SealRow, station: string): number =>
  Object.hasOwn(seen, station) ? (seen[station] ?? 0) : 0;
const isUnseen = ({ station, seq }: EventKey, seal: SealRow): boolean =>
  station !== seal.station && seq > seenOf(seal, station);

/** What stands beside a night and may be written of it at any time; a take-back is judged by what it takes back. */
const isBeside = (kind: Event['kind']): boolean => besideKinds.has(kind) && kind !== 'event-taken-back';

type Concerns = (event: Event, seal: SealRow) => boolean;

/** Whether an event that a seal did not see touches what it sealed: it lies before it, names its night, or takes such a one back. */
function concerning(rows: Rows): Concerns {
  let openings: ReadonlyMap<EventId, readonly EventId[]> | null = null;
  const openingsOf = ({ id, of }: SealRow): readonly EventId[] => {
    openings ??= new Map(
      nightsOf(rows.shiftMarks(MARKS_LOOKED_AT, new Set()).reverse()).flatMap((night) =>
        night.seal === null ? [] : [[night.seal, night.openings] as const],
      ),
    );
    return openings.get(id) ?? [of];
  };
  return (event, seal) => {
    if (isTakeBack(event)) {
      const target = rows.placeOf(event.target);
      return target !== null && !isBeside(target.kind) && compareEvents(target, seal) < 0;
    }
    if (isBeside(event.kind)) return false;
    if (compareEvents(event, seal) < 0) return true;
    const { kind, shift } = event;
    return kind !== 'shift-sealed' && shift !== null && openingsOf(seal).includes(shift);
  };
}

const regrouping: ReadonlySet<Event['kind']> = new Set(['shift-opened', 'shift-sealed', 'event-taken-back']);

/** Notes what of some new events came too late for which seal, and what stood here already that a new seal did not see. */
export function noteUnseen(rows: Rows, added: readonly Event[]): void {
  const seals = rows.sealsFrom(earliestTouched(rows, added));
  if (seals.length === 0) return;
  const concerns = concerning(rows);
  const isNew = new Set(added.map(({ id }) => id));
  // These may show whose night an event is that came before them, or that what it takes back is there after all.
  const isRegrouped = added.some(({ kind, id }) => regrouping.has(kind) || rows.backsOf(id).length > 0);
  for (const seal of seals) {
    const events = isRegrouped || isNew.has(seal.id) ? everythingUnseen(rows, seal) : added;
    for (const event of events)
      if (isUnseen(event, seal) && concerns(event, seal)) rows.noteUnseen(seal.id, event.station, event.seq);
  }
}

/** The earliest instant that any of them says something of: its own, that of what it takes back, that of its night. */
function earliestTouched(rows: Rows, added: readonly Event[]): string {
  let at = '9999';
  const note = (key: Pick<EventKey, 'at'> | null): void => {
    if (key !== null && key.at < at) at = key.at;
  };
  const shifts = new Set<EventId>();
  for (const event of added) {
    note(event);
    if (isTakeBack(event)) note(rows.keyOf(event.target));
    if (event.shift !== null) shifts.add(event.shift);
  }
  for (const shift of shifts) note(rows.keyOf(shift));
  return at;
}

/** Everything that stands here and a seal did not see. */
function everythingUnseen(rows: Rows, seal: SealRow): Event[] {
  return rows
    .heads()
    .filter((head) => isUnseen({ at: seal.at, ...head }, seal))
    .flatMap(({ station }) => eventsBetween(rows, station, seenOf(seal, station) + 1, LAST));
}

const eventsBetween = (rows: Rows, station: string, first: number, last: number): Event[] =>
  rows.bodiesOf(station, first, last).flatMap(({ body }) => eventOfBody(body) ?? []);

/** What came later for a seal, in the order of the fold. */
export function cameAfter(rows: Rows, seal: SealRow): Event[] {
  const ranges = rows.unseenBy(seal.id);
  if (ranges.length === 0) return [];
  const concerns = concerning(rows);
  return ranges
    .flatMap(({ station, first, last }) => eventsBetween(rows, station, first, last))
    .filter((event) => concerns(event, seal))
    .sort(compareEvents);
}

/** Works out anew what every seal did not see. */
export function seeAnew(rows: Rows): void {
  rows.forgetUnseen();
  const concerns = concerning(rows);
  for (const seal of rows.sealsFrom(''))
    for (const event of everythingUnseen(rows, seal))
      if (concerns(event, seal)) rows.noteUnseen(seal.id, event.station, event.seq);
}

/** Whether the ranges hold all that the events say; what they should be is left in their place. */
export function unseenAgrees(rows: Rows): boolean {
  const before = rows.allUnseen();
  seeAnew(rows);
  return rows
    .allUnseen()
    .every((range) =>
      before.some(
        ({ seal, station, first, last }) =>
          seal === range.seal && station === range.station && first <= range.first && last >= range.last,
      ),
    );
}

/** What a seal knew: what is hidden from it, what was taken back as far as it knew, and from where on that makes a difference. */
export type Sight = {
  readonly hidden: ReadonlySet<EventId>;
  readonly dead: ReadonlySet<EventId>;
  readonly from: EventKey;
};

/** Null when nothing came later: then the books as they are say the same. */
export function sightOf(rows: Rows, seal: SealRow): Sight | null {
  const late = cameAfter(rows, seal);
  if (late.length === 0) return null;
  const hidden = new Set(late.map(({ id }) => id));
  const dead = takenBack(rows.takeBacks().filter(({ id }) => !hidden.has(id)));
  const now = new Set(rows.takenBackIds());
  const turned = [...new Set([...dead, ...now])].filter((id) => dead.has(id) !== now.has(id));
  const keys = [
    ...late.filter((event) => !isTakeBack(event)),
    ...turned.flatMap((id) => rows.keyOf(id) ?? []),
  ].sort(compareEvents);
  return { hidden, dead, from: keys[0] ?? seal };
}
