// Events that were recorded elsewhere, taken in whole or not at all. Ids make a second import harmless. What comes in passes
// the same check of its moment as what is typed, and leaves the shifts in order.
import { admit, type Ground, sealText } from '../../../domain/intent/moment.ts';
import type { Books } from '../../../domain/ledger/books.ts';
import { compareEvents, type Event, itemsOf } from '../../../domain/ledger/event.ts';
import { brokenShift } from '../../../domain/ledger/shift-order.ts';
import { isTakeBack, takenBack } from '../../../domain/ledger/take-back.ts';
import { canonicalJson } from '../../../domain/value/canonical.ts';
import type { EventId, ItemId } from '../../../domain/value/ids.ts';
import { done, type Problem, type Result, refuseAll } from '../../../domain/value/problem.ts';
import type { ImportOutcome } from '../../store.ts';
import type { Rows } from './rows.ts';

const LISTED = 20;

type Say = (event: Event, problem: Omit<Problem, 'exit' | 'line'>) => void;

/** Call inside a transaction. Problems carry the 1-based position of the event in the list as their line. */
export function importInto(
  rows: Rows,
  books: Books,
  events: readonly Event[],
  now: string,
): Result<ImportOutcome> {
  const problems: Problem[] = [];
  const places = new Map(events.map((event, index) => [event, index + 1]));
  const say: Say = (event, { code, message }) => {
    if (problems.length < LISTED) problems.push({ code, message, exit: 65, line: places.get(event) ?? 1 });
  };
  const fresh = freshOf(rows, events, say);
  checkTargets(rows, events, say);
  appendInOrder(rows, fresh, say);
  if (problems.length > 0) return refuseAll(problems);
  settleTakeBacks(rows, fresh);
  checkMoments(rows, books, fresh, now, say);
  if (problems.length > 0) return refuseAll(problems);
  return done({ added: fresh.length, known: events.length - fresh.length });
}

/** Events the books do not hold yet; the same id with other content, or twice in the file, is a problem. */
function freshOf(rows: Rows, events: readonly Event[], say: Say): Event[] {
  const seen = new Set<string>();
  return events.filter((event) => {
    const stored = rows.byId(event.id);
    const isDouble = seen.has(event.id);
    seen.add(event.id);
    if (stored !== undefined && stored.body !== canonicalJson(event))
      say(event, {
        code: 'other-content',
        message: `Event ${event.id} is in the books with other content. Import the file it came from, unchanged.`,
      });
    else if (stored === undefined && isDouble)
      say(event, {
        code: 'double-id',
        message: `Event ${event.id} stands twice in the file. Take one of the two lines out.`,
      });
    return stored === undefined && !isDouble;
  });
}

function checkTargets(rows: Rows, events: readonly Event[], say: Say): void {
  const inFile = new Set<string>(events.map(({ id }) => id));
  for (const event of events.filter(isTakeBack)) {
    if (inFile.has(event.target) || rows.byId(event.target) !== undefined) continue;
    say(event, {
      code: 'no-target',
      message: `This takes back event ${event.target}, which is neither in the books nor in the file. Import the whole export.`,
    });
  }
}

/** Station by station in the order of their running numbers, which must go on without a gap. */
function appendInOrder(rows: Rows, fresh: readonly Event[], say: Say): void {
  const stations = new Map<string, Event[]>();
  for (const event of fresh) {
    const list = stations.get(event.station);
    if (list === undefined) stations.set(event.station, [event]);
    else list.push(event);
  }
  for (const [station, list] of stations) {
    let { seq, hash } = rows.lastOfStation(station);
    for (const event of list.sort((a, b) => a.seq - b.seq)) {
      if (event.seq !== seq + 1) {
        say(event, {
          code: 'gap',
          message: `Station ${station} goes from ${seq} to ${event.seq} here. Import the whole export of that station.`,
        });
        break;
      }
      hash = rows.insert(event, canonicalJson(event), hash);
      seq = event.seq;
    }
  }
}

function settleTakeBacks(rows: Rows, fresh: readonly Event[]): void {
  if (fresh.some(isTakeBack)) {
    rows.replaceTakenBack(takenBack(rows.takeBacks()));
    rows.dropAllCheckpoints();
    return;
  }
  let first = fresh[0];
  for (const event of fresh) if (first !== undefined && compareEvents(event, first) < 0) first = event;
  if (first !== undefined) rows.dropCheckpoints(first);
}

/** Each new event that counts at its moment, and all shifts one after the other: with what the file itself brought in hand. */
function checkMoments(rows: Rows, books: Books, fresh: readonly Event[], now: string, say: Say): void {
  const shifts = rows.shiftMarks(-1).reverse();
  const opened = new Map(
    shifts.flatMap(({ id, at, date }) => (date === null ? [] : [[id, { openedAt: at }]])),
  );
  const known = new Map<ItemId, string>();
  for (const event of rows.catalogue())
    if (event.kind === 'item-written' && !known.has(event.item.id)) known.set(event.item.id, event.at);
  const ground: Ground = {
    now,
    sealedUntil: books.sealedUntil,
    sealed: sealText(books),
    knownSince: (item) => known.get(item) ?? null,
    shift: (id: EventId) => opened.get(id) ?? null,
  };
  for (const event of fresh) {
    // What a take-back in the books or the file names does not count, and may stand where it stood.
    if (rows.byId(event.id)?.back === 1) continue;
    const problem = admit(event, itemsOf(event), ground);
    if (problem !== null) say(event, problem);
  }
  const broken = brokenShift(shifts);
  const culprit = broken === null ? undefined : fresh.find(({ id }) => id === broken.id);
  if (broken !== null && culprit !== undefined) say(culprit, { code: 'two-shifts', message: broken.message });
}
