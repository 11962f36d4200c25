// The books from the log: from the nearest sound checkpoint, and what came after it. A checkpoint is a cache and never a reason:
// one that is damaged, gone or of other books is made anew from the events.
import type { DatabaseSync } from 'node:sqlite';
import { type Books, emptyBooks, isOpen, type ShiftBooks } from '../../domain/ledger/books.ts';
import { compareEvents, type Event, type EventKey } from '../../domain/ledger/event.ts';
import { foldInOrder } from '../../domain/ledger/ledger.ts';
import { nightsOf } from '../../domain/ledger/shift-order.ts';
import type { EventId } from '../../domain/value/ids.ts';
import type { NumberedEvent, Rows } from './log/rows.ts';
import type { CheckpointRow } from './log/shift-rows.ts';
import { MARKS_OF_A_NIGHT } from './log/statements.ts';
import { type Sight, sightOf } from './log/unseen.ts';
import type { Mark, Marks } from './marks.ts';
import { booksOfSnapshot, keptSnapshot, openSnapshot, type Snapshot, shiftOfSnapshot } from './snapshot.ts';

/** A tail longer than this is summed up in a checkpoint even when no shift was sealed. */
const LONG_TAIL = 250;
/** So many nights are held in hand before their checkpoints are written. */
const HELD_NIGHTS = 10;
/** So many lines the fold stumbles over are set aside; more, and the books are damaged throughout. */
const MOST_ASIDE = 1000;

export type Loaded = {
  readonly books: Books;
  /** The numbers of the lines that can't be read: they count nowhere. */
  readonly aside: ReadonlySet<number>;
};

/** Looks at each event before it is folded. */
export type Watch = (event: NumberedEvent) => void;
/** While something is taken in: who looks on, and from which number on the lines went through the door just now. */
export type Intake = { readonly watch: Watch; readonly sound: number };

/** An event that passed every check and yet does not fold: a fault of ours, told where the event came from. */
export class Unfoldable extends Error {
  readonly number: number;
  constructor(number: number, cause: unknown) {
    super('an event does not fold', { cause });
    this.number = number;
  }
}

type OnFolded = (event: Event, books: () => Books) => void;

/** Everything that counts after some books, folded onto them; lines that can't be read are added to those set aside. */
function foldTail(rows: Rows, start: Books, aside: Set<number>, intake?: Intake, onFolded?: OnFolded): Books {
  let number = 0;
  function* readable(): Generator<Event> {
    for (const one of rows.livingEvents(start.last, (bad) => aside.add(bad), intake?.sound)) {
      if (aside.has(one.number)) continue;
      intake?.watch(one);
      number = one.number;
      yield one.event;
    }
  }
  try {
    return foldInOrder(start, readable(), onFolded);
  } catch (error) {
    if ((error as { errcode?: number }).errcode !== undefined) throw error;
    throw new Unfoldable(number, error);
  }
}

/** What loading may start from and leaves behind: marks in memory, and the first key that something changed at. */
export type Way = { readonly marks: Marks; readonly changed: EventKey | null };

/** The books of now; leaves checkpoints at the seals it passes. */
export function loadBooks(db: DatabaseSync, rows: Rows, intake?: Intake, way?: Way): Loaded {
  const start = markBefore(way) ?? startBefore(rows, null);
  const aside = new Set(start.aside);
  for (;;) {
    try {
      return { books: foldToNow(db, rows, start.books, aside, intake, way?.marks), aside };
    } catch (error) {
      if (!(error instanceof Unfoldable) || intake !== undefined || aside.size >= MOST_ASIDE) throw error;
      aside.add(error.number);
    }
  }
}

function markBefore(way: Way | undefined): Mark | null {
  if (way === undefined) return null;
  if (way.changed !== null) return way.marks.before(way.changed);
  way.marks.forget();
  return null;
}

function foldToNow(
  db: DatabaseSync,
  rows: Rows,
  start: Books,
  aside: Set<number>,
  intake?: Intake,
  marks?: Marks,
): Books {
  let passed = 0;
  const sealed: Books[] = [];
  const flush = (): void => {
    saveCheckpoints(db, rows, sealed, aside);
    sealed.length = 0;
  };
  const books = foldTail(rows, start, aside, intake, (event, snapshot) => {
    passed += 1;
    marks?.passed(1, snapshot, aside);
    if (event.kind === 'shift-sealed') sealed.push(snapshot());
    if (sealed.length >= HELD_NIGHTS) flush();
  });
  if (passed > LONG_TAIL && (books.shift === null || isOpen(books.shift))) sealed.push(books);
  flush();
  return books;
}

/** The nearest sound checkpoint before a key, or the beginning; what is unsound on the way is forgotten. */
function startBefore(rows: Rows, key: EventKey | null): { books: Books; aside: readonly number[] } {
  for (let row = rows.checkpointBefore(key); row !== undefined; row = rows.checkpointBefore(row)) {
    const start = startAt(rows, row);
    if (start !== null) return start;
    forget(rows, row);
  }
  return { books: emptyBooks, aside: [] };
}

function startAt(rows: Rows, row: CheckpointRow): { books: Books; aside: readonly number[] } | null {
  const kept = soundSnapshot(rows, row);
  if (kept === null) return null;
  const books = booksOfSnapshot(kept.text, foldInOrder(emptyBooks, rows.catalogueUpTo(row)), row);
  return books === null ? null : { books, aside: kept.aside };
}

const soundSnapshot = (rows: Rows, row: CheckpointRow): Snapshot | null =>
  openSnapshot(row.body, rows.hashOf(row));

function forget(rows: Rows, row: CheckpointRow): void {
  try {
    rows.dropCheckpoint(row);
  } catch {
    // see saveCheckpoints
  }
}

/**
 * The books as one shift's seal left them, by its checkpoint, else folded up to it; null when it was never sealed. What came too
 * late for that seal, or for another one that `knownBy` names, is not in them.
 */
export function booksAtSeal(rows: Rows, shift: EventId, knownBy = shift): Books | null {
  const knowing = rows.hasUnseen() ? rows.seeingSealOf(knownBy) : null;
  const sight = knowing === null ? null : sightOf(rows, knowing);
  const seen = sight === null ? null : rows.sealOf(shift);
  if (sight !== null && seen !== null && compareEvents(sight.from, seen) < 0)
    return foldInSight(rows, sight, seen);
  const row = rows.checkpointOfShift(shift);
  const kept = row === undefined ? null : startAt(rows, row);
  if (kept !== null) return kept.books;
  const seal = rows.sealOf(shift);
  if (seal !== null) return foldUpTo(rows, (event) => compareEvents(event, seal) <= 0, seal);
  // Older books may hold an opening over an open shift: that one ended there.
  const next = rows.openingAfter(shift);
  return next === null ? null : foldUpTo(rows, (event) => compareEvents(event, next) < 0, next);
}

/** What the last sealed shifts came to, oldest first: one by one from its checkpoint, else folded. A night sealed twice is one. */
export function sealedShifts(rows: Rows, last: number): ShiftBooks[] {
  const nights = nightsOf(rows.shiftMarks(last * MARKS_OF_A_NIGHT, new Set()).reverse());
  return nights
    .slice(-last - 1)
    .flatMap(({ id, seal }): ShiftBooks[] => {
      const key = seal === null ? null : rows.keyOf(seal);
      if (key === null) return [];
      const row = rows.checkpointOfShift(id);
      const isIts = row !== undefined && compareEvents(row, key) === 0;
      const kept = isIts ? soundSnapshot(rows, row) : null;
      const one = kept === null ? null : shiftOfSnapshot(kept.text);
      const folded = one ?? foldUpTo(rows, (event) => compareEvents(event, key) <= 0, key).shift;
      return folded === null ? [] : [folded];
    })
    .slice(-last);
}

/** The books up to a key as a seal saw them: from the last checkpoint before what it did not see. */
function foldInSight(rows: Rows, { hidden, dead, from }: Sight, key: EventKey): Books {
  const start = startBefore(rows, from);
  const aside = new Set(start.aside);
  function* seen(): Generator<Event> {
    for (const { number, event } of rows.everyEvent(start.books.last)) {
      if (compareEvents(event, key) > 0) return;
      if (!aside.has(number) && !hidden.has(event.id) && !dead.has(event.id)) yield event;
    }
  }
  return foldInOrder(start.books, seen());
}

/** The books as they were while `isPast` held, from the nearest checkpoint before a key. */
function foldUpTo(rows: Rows, isPast: (event: Event) => boolean, key: EventKey): Books {
  const start = startBefore(rows, key);
  const aside = new Set(start.aside);
  function* upTo(): Generator<Event> {
    for (const { number, event } of rows.livingEvents(start.books.last)) {
      if (!isPast(event)) return;
      if (!aside.has(number)) yield event;
    }
  }
  return foldInOrder(start.books, upTo());
}

/** Keeps the books of some moments. Only a cache: on a full or read-only disk the books are right without it. */
export function saveCheckpoints(
  db: DatabaseSync,
  rows: Rows,
  moments: readonly Books[],
  aside: Iterable<number>,
): void {
  if (moments.length === 0) return;
  const own = !db.isTransaction;
  try {
    if (own) db.exec('BEGIN IMMEDIATE');
    for (const books of moments) saveCheckpoint(rows, books, aside);
    if (own) db.exec('COMMIT');
  } catch {
    if (own && db.isTransaction) db.exec('ROLLBACK');
  }
}

function saveCheckpoint(rows: Rows, books: Books, aside: Iterable<number>): void {
  const chain = books.last === null ? null : rows.hashOf(books.last);
  if (books.last === null || chain === null) return;
  const sealed = books.shift !== null && books.shift.sealedAt === books.last.at;
  rows.addCheckpoint(
    books.last,
    sealed ? (books.shift?.id ?? null) : null,
    sealed ? (books.shift?.date ?? null) : null,
    keptSnapshot(books, chain, aside),
  );
}
