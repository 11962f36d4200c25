// Events that were recorded elsewhere, taken in whole or not at all, as they come: only what must wait for its turn is held in
// memory. Ids make a second import harmless. What comes in passes the same check of its moment as what is typed, and leaves the
// shifts in order and nothing without the thing it names.
import { admit } from '../../../domain/intent/moment.ts';
import type { Books } from '../../../domain/ledger/books.ts';
import { compareEvents, type EventKey } from '../../../domain/ledger/event.ts';
import { type EventLine, lineOf } from '../../../domain/ledger/event-door.ts';
import { itemsOf } from '../../../domain/ledger/event-names.ts';
import { brokenShift, nightsOf, type ShiftMark } from '../../../domain/ledger/shift-order.ts';
import { type TakeBack, takenBack } from '../../../domain/ledger/take-back.ts';
import { canonicalJson } from '../../../domain/value/canonical.ts';
import type { EventId } from '../../../domain/value/ids.ts';
import { done, type Problem, type Result, refuseAll } from '../../../domain/value/problem.ts';
import { harmless } from '../../../domain/value/text.ts';
import type { ImportOutcome, Incoming } from '../../store.ts';
import { type Loaded, Unfoldable, type Watch } from '../load.ts';
import {
  badSetting,
  checkCards,
  groundOfImport,
  type ImportGround,
  isUprooted,
  type Said,
  type SayOf,
  sealedStays,
} from './import-ground.ts';
import type { Rows } from './rows.ts';

const LISTED = 20;

/** What is wrong so far: the first few, each with the line it came from. */
class Complaints {
  readonly #problems: Problem[] = [];
  say(line: number, { code, message }: Said): void {
    if (this.#problems.length < LISTED) this.#problems.push({ code, message, exit: 65, line });
  }
  get any(): boolean {
    return this.#problems.length > 0;
  }
  get areMany(): boolean {
    return this.#problems.length >= LISTED;
  }
  refuse(): Result<never> {
    return refuseAll([...this.#problems].sort((a, b) => (a.line ?? 0) - (b.line ?? 0)));
  }
}

/**
 * Takes in what comes. `load` folds the books anew and shows each event to what it is given; it is called inside of the same
 * transaction, so that nothing is kept that could not be read again. Lines are counted from 1.
 */
export function importInto(
  rows: Rows,
  books: Books,
  incoming: Iterable<Incoming>,
  now: string,
  load: (watch: Watch, sound: number) => Loaded,
): Result<{ readonly outcome: ImportOutcome; readonly loaded: Loaded | null }> {
  const against = new Complaints();
  const intake = new Intake(rows, against);
  for (const one of incoming) {
    intake.take(one);
    if (against.areMany) return against.refuse();
  }
  intake.end();
  for (const { number, target } of rows.withoutTarget(intake.start))
    against.say(intake.lineOf(number), {
      code: 'no-target',
      message: `This takes back event ${target}, which is neither in the books nor in the file. Import the whole export.`,
    });
  if (against.any) return against.refuse();
  const outcome = { added: intake.added, known: intake.known };
  if (intake.first === null) return done({ outcome, loaded: null });
  const say: SayOf = ({ number }, problem) => against.say(intake.lineOf(number), problem);
  const turned = forgetSummed(rows, intake.first, intake.takeBacks.length > 0);
  for (const id of turned) sealedStays(rows, id, intake, { sealedUntil: books.sealedUntil, now }, say);
  const loaded = loadWatched(load, groundOfImport(rows, books, now), intake, say);
  if (loaded !== null) {
    checkShifts(rows, loaded.aside, intake.start, say);
    checkCards(books, loaded.books, intake.written, say);
  }
  return against.any || loaded === null ? against.refuse() : done({ outcome, loaded });
}

/** Station by station in the order of their running numbers; what comes early waits. */
class Intake {
  readonly start: number;
  added = 0;
  known = 0;
  readonly takeBacks: { readonly number: number; readonly target: EventId }[] = [];
  /** The last line that wrote a card or an item. */
  readonly written = new Map<string, number>();
  /** The earliest of what came in. */
  first: EventKey | null = null;
  #line = 0;
  readonly #rows: Rows;
  readonly #against: Complaints;
  /** From which number on how far a line is ahead of its number: one entry unless lines are empty or out of order. */
  readonly #ahead: { readonly number: number; readonly by: number }[] = [];
  readonly #heads = new Map<string, { seq: number; hash: string }>();
  readonly #waiting = new Map<string, Map<number, { event: EventLine; line: number }>>();
  readonly #waitingIds = new Set<string>();

  constructor(rows: Rows, against: Complaints) {
    this.#rows = rows;
    this.#against = against;
    this.start = rows.lastNumber();
  }

  lineOf(number: number): number {
    const ahead = this.#ahead.findLast((entry) => entry.number <= number);
    return number + (ahead?.by ?? 0);
  }

  take(one: Incoming): void {
    this.#line += 1;
    if (one === null) return;
    if ('code' in one) this.#against.say(this.#line, one);
    else {
      const line = 'body' in one ? one : lineOf(one);
      if (this.#isFresh(line)) this.#place(line, this.#line);
    }
  }

  /** What still waits waits for a number that never came. */
  end(): void {
    for (const [station, list] of this.#waiting) {
      const seq = Math.min(...list.keys());
      const early = list.get(seq);
      if (early === undefined) continue;
      this.#against.say(early.line, {
        code: 'gap',
        message: `Station ${station} goes from ${this.#head(station).seq} to ${seq} here. Import the whole export of that station.`,
      });
    }
  }

  /** Whether the books do not hold it yet; the same id with other content, or twice in the file, is a problem. */
  #isFresh(event: EventLine): boolean {
    const stored = this.#rows.byId(event.id);
    if (stored === undefined && !this.#waitingIds.has(event.id)) return true;
    if (stored === undefined || stored.number > this.start)
      this.#against.say(this.#line, {
        code: 'double-id',
        message: `Event ${event.id} stands twice in the file. Take one of the two lines out.`,
      });
    else if (isSame(stored.body, event)) this.known += 1;
    else
      this.#against.say(this.#line, {
        code: 'other-content',
        message: `Event ${event.id} is in the books with other content. Import the file it came from, unchanged.`,
      });
    return false;
  }

  #head(station: string): { seq: number; hash: string } {
    const known = this.#heads.get(station) ?? this.#rows.lastOfStation(station);
    this.#heads.set(station, known);
    return known;
  }

  #place(event: EventLine, line: number): void {
    const { seq } = this.#head(event.station);
    if (event.seq === seq + 1) {
      this.#insertAll(event, line);
      return;
    }
    const list = this.#waiting.get(event.station) ?? new Map<number, { event: EventLine; line: number }>();
    if (event.seq <= seq || list.has(event.seq)) {
      this.#against.say(line, {
        code: 'other-number',
        message: `Station ${event.station} has another event of the number ${event.seq}. Two machines may bear one name; import the file into books of its own.`,
      });
      return;
    }
    list.set(event.seq, { event, line });
    this.#waitingIds.add(event.id);
    this.#waiting.set(event.station, list);
  }

  /** An event whose turn it is, and those that waited for it. */
  #insertAll(event: EventLine, line: number): void {
    this.#insert(event, line);
    const list = this.#waiting.get(event.station);
    if (list === undefined) return;
    for (let seq = event.seq + 1; ; seq += 1) {
      const next = list.get(seq);
      if (next === undefined) break;
      list.delete(seq);
      this.#waitingIds.delete(next.event.id);
      this.#insert(next.event, next.line);
    }
    if (list.size === 0) this.#waiting.delete(event.station);
  }

  #insert(event: EventLine, line: number): void {
    const hash = this.#rows.insert(event, event.body, this.#head(event.station).hash);
    this.#heads.set(event.station, { seq: event.seq, hash });
    this.added += 1;
    const number = this.start + this.added;
    if (this.#ahead.at(-1)?.by !== line - number) this.#ahead.push({ number, by: line - number });
    if (event.kind === 'spec-written' || event.kind === 'item-written') {
      const { item, spec } = JSON.parse(event.body) as { item?: { id: string }; spec?: { id: string } };
      this.written.set(item?.id ?? spec?.id ?? '', number);
    }
    if (event.kind === 'event-taken-back') {
      const { target } = JSON.parse(event.body) as TakeBack;
      this.takeBacks.push({ number, target });
    }
    if (this.first === null || compareEvents(event, this.first) < 0)
      this.first = { at: event.at, station: event.station, seq: event.seq };
  }
}

/** Older books may hold controls in a text, which an export leaves out. */
function isSame(body: string, event: EventLine): boolean {
  return body === event.body || canonicalJson(harmless(JSON.parse(body))) === event.body;
}

/** What was summed up over anything that came in, or that now counts or no longer counts, is forgotten; says what turned. */
function forgetSummed(rows: Rows, first: EventKey, hasTakeBacks: boolean): readonly EventId[] {
  rows.dropCheckpoints(first);
  if (!hasTakeBacks) return [];
  const before = new Set(rows.takenBackIds());
  const after = takenBack(rows.takeBacks());
  rows.replaceTakenBack(after);
  const turned = [...new Set([...before, ...after])].filter((id) => before.has(id) !== after.has(id));
  for (const id of turned) {
    const key = rows.keyOf(id);
    if (key !== null) rows.dropCheckpoints(key);
  }
  return turned;
}

/** Folds the books anew and holds each new event that counts against its moment, and against what it names. */
function loadWatched(
  load: (watch: Watch, sound: number) => Loaded,
  ground: ImportGround,
  { start, takeBacks }: Intake,
  say: SayOf,
): Loaded | null {
  const [by] = takeBacks;
  let isRooted = true;
  try {
    return load(({ number, event }) => {
      if (number > start) {
        const problem = admit(event, itemsOf(event), ground) ?? ground.known(event) ?? badSetting(event);
        if (problem !== null) say({ number }, problem);
      } else if (by !== undefined && isRooted && isUprooted(event, ground)) {
        isRooted = false;
        say(by, {
          code: 'uprooted',
          message: `A take-back takes away what something in these books names (${event.kind}, ${event.at}). Take the lines out that take back a shift, an item, a card or a person in use.`,
        });
      }
    }, start);
  } catch (error) {
    if (!(error instanceof Unfoldable)) throw error;
    say(error, {
      code: 'unfit',
      message: 'What it says cannot be brought together with the books. Take the line out.',
    });
    return null;
  }
}

/**
 * One shift after the other, with those that came in among them. An opening before one that stood there shows at that one: then the
 * first mark that came in is named.
 */
function checkShifts(rows: Rows, aside: ReadonlySet<number>, start: number, say: SayOf): void {
  const marks = rows.shiftMarks(-1, aside).reverse();
  const numberOf = (id: string): number => rows.byId(id)?.number ?? 0;
  const isNew = (id: string): boolean => numberOf(id) > start;
  const broken = brokenShift(marks) ?? openedOverOurs(marks, isNew);
  if (broken === null) return;
  const wasBroken = brokenShift(marks.filter(({ id }) => !isNew(id))) !== null;
  const culprit = isNew(broken.id) || wasBroken ? broken.id : marks.find(({ id }) => isNew(id))?.id;
  if (culprit !== undefined && isNew(culprit))
    say({ number: numberOf(culprit) }, { code: 'two-shifts', message: broken.message });
}

/** Stations of one house open a night apart and are one; what a file brings is no station of this house. */
function openedOverOurs(
  marks: readonly ShiftMark[],
  isNew: (id: EventId) => boolean,
): { readonly id: EventId; readonly message: string } | null {
  for (const { openings, date } of nightsOf(marks)) {
    const id = openings.find(isNew);
    if (id !== undefined && !openings.every(isNew))
      return {
        id,
        message: `The shift of ${date} opens while that of these books is open. Seal that one first, or take one of them back.`,
      };
  }
  return null;
}
