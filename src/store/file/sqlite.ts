// The books in one SQLite file. Every write is one transaction that reads the newest books, decides, appends and is on
// disk (synchronous=FULL) when it returns.

import { statSync } from 'node:fs';
import { join } from 'node:path';
import type { DatabaseSync } from 'node:sqlite';
import type { Intent } from '../../domain/intent/intent.ts';
import { type Books, emptyBooks, isOpen } from '../../domain/ledger/books.ts';
import { compareEvents, type Event, type Remark, type Sale } from '../../domain/ledger/event.ts';
import { foldInOrder } from '../../domain/ledger/ledger.ts';
import { instantOf } from '../../domain/value/clock-date.ts';
import type { EventId } from '../../domain/value/ids.ts';
import { done, type Result, refuse } from '../../domain/value/problem.ts';
import type { Store, StoreSetting } from '../store.ts';
import { backupTo } from './backup.ts';
import { runChecks } from './checks.ts';
import { append, follows, tracesOf } from './log/append.ts';
import { importInto } from './log/import-events.ts';
import { DamagedBooks, eventOfBody, prepareRows, type Rows } from './log/rows.ts';
import { BOOKS_FILE, openBooksFile, openingProblem } from './open/open-file.ts';
import { booksOfSnapshot, shiftOfSnapshot, snapshotOf } from './snapshot.ts';

/** A tail longer than this is summed up in a checkpoint even when no shift was sealed. */
const LONG_TAIL = 250;

export function openSqliteStore(folder: string, setting: StoreSetting): Result<Store> {
  const opened = openBooksFile(folder);
  if (!opened.ok) return opened;
  const db = opened.value;
  const file = join(folder, BOOKS_FILE);
  try {
    return done(storeOn(db, file, setting));
  } catch (error) {
    db.close();
    return error instanceof DamagedBooks ? damaged(file) : openingProblem(error, file);
  }
}

const damaged = (file: string): Result<never> =>
  refuse(
    'damaged',
    `${file} holds an event that can't be read. Keep it, and restore a copy with ullage restore FILE.`,
    65,
    'The books hold an event that cannot be read, so nothing is recorded. Leave, keep the file, and restore a copy.',
  );

function storeOn(db: DatabaseSync, file: string, setting: StoreSetting): Store {
  const rows = prepareRows(db);
  const inode = statSync(file).ino;
  let number = rows.lastNumber();
  let version = rows.dataVersion();
  let books = loadBooks(db, rows);

  const reload = (): void => {
    number = rows.lastNumber();
    books = loadBooks(db, rows);
  };
  /** Takes in what was written since: folded on top when it lies after the last event, else from the checkpoint. */
  const takeNews = (seen: number): void => {
    version = seen;
    const news = rows.after(number).map((row) => eventOfBody(row.body));
    if (news.some((event) => event.kind === 'event-taken-back') || !follows(books.last, news)) reload();
    else takeIn(news);
  };
  /** While only looked at, books in which a line became unreadable stay as they were read last; what would be recorded is refused. */
  const refresh = (): Books => {
    const seen = rows.dataVersion();
    if (seen === version) return books;
    try {
      takeNews(seen);
    } catch (error) {
      version = -1;
      if (db.isTransaction || !(error instanceof DamagedBooks)) throw error;
    }
    return books;
  };
  const takeIn = (events: readonly Event[]): void => {
    books = foldInOrder(books, [...events].sort(compareEvents));
    number = rows.lastNumber();
    const last = events.at(-1);
    if (last?.kind === 'shift-sealed') saveCheckpoint(rows, books);
  };

  const transact = <T>(work: () => Result<T>): Result<T> => {
    try {
      if (isReplaced(file, inode)) {
        return refuse(
          'file-gone',
          `${file} was moved or replaced while it was open, so nothing is recorded. Put it back and start again.`,
          73,
        );
      }
      db.exec('BEGIN IMMEDIATE');
      const result = work();
      db.exec(result.ok ? 'COMMIT' : 'ROLLBACK');
      return result;
    } catch (error) {
      if (db.isTransaction) db.exec('ROLLBACK');
      version = -1;
      return error instanceof DamagedBooks ? damaged(file) : openingProblem(error, file);
    }
  };

  const record = (intent: Intent, at?: string): Result<readonly Event[]> => {
    let late = false;
    const result = transact(() => {
      const now = instantOf(setting.now());
      const wanted = intent(refresh(), now);
      if (!wanted.ok) return wanted;
      const written = append(rows, books, wanted.value, at, setting, now);
      if (written.ok)
        late =
          written.value.some((event) => event.kind === 'event-taken-back') ||
          !follows(books.last, written.value);
      return written;
    });
    if (!result.ok || result.value.length === 0) return result;
    if (late) reload();
    else takeIn(result.value);
    return result;
  };

  const booksOfShift = (shift: string): Books | null => {
    refresh();
    const isOurs = books.shift?.id === shift;
    // What came after the seal is not in it, though the books have gone on.
    if (isOurs && (isOpen(books.shift) || books.last?.at === books.sealedUntil)) return books;
    const row = rows.checkpointOfShift(shift);
    const sealed =
      row === undefined
        ? null
        : booksOfSnapshot(row.body, foldInOrder(emptyBooks, rows.catalogueUpTo(row)), row);
    return sealed ?? (isOurs ? books : null);
  };

  return {
    books: refresh,
    record,
    importEvents: (events) => {
      const result = transact(() => importInto(rows, refresh(), events, instantOf(setting.now())));
      if (result.ok && result.value.added > 0) reload();
      return result;
    },
    traces: (id) => tracesOf(rows, id),
    log: (last) => rows.newest(last).map(logged),
    eventById: (id) => {
      const row = rows.byId(id);
      return row === undefined ? null : logged(row);
    },
    eventOfStation: (station, seq) => {
      const row = rows.bySeq(station, seq);
      return row === undefined ? null : logged(row);
    },
    allEvents: () => rows.allEvents(),
    booksOfShift,
    // Two marks a shift; the first of a part may be a seal whose opening lies before it.
    shifts: (last) => shiftList(rows.shiftMarks(last === undefined ? -1 : last * 2).reverse()),
    shiftBooks: (last) => {
      const sealed = rows
        .lastShifts(last)
        .flatMap(({ body }) => shiftOfSnapshot(body) ?? [])
        .reverse();
      const { shift } = refresh();
      return isOpen(shift) ? [...sealed, shift] : sealed;
    },
    sales: (from, to) => rows.sales(from, to) as Sale[],
    remarks: (shifts) => rows.remarks(shifts) as Remark[],
    between: (from, to) => rows.between(from, to),
    check: (names) => runChecks(db, rows, refresh(), names, setting.now()),
    backup: (target) => backupTo(db, target),
    isStale: () => rows.dataVersion() !== version,
    close: () => db.close(),
  };
}

const logged = (row: { body: string; back: number }) => ({
  event: eventOfBody(row.body),
  takenBack: row.back === 1,
});

function isReplaced(file: string, inode: number): boolean {
  try {
    return statSync(file).ino !== inode;
  } catch {
    return true;
  }
}

/** Books from the last checkpoint and what came after it; leaves checkpoints at the seals it passes. */
function loadBooks(db: DatabaseSync, rows: Rows): Books {
  const row = rows.lastCheckpoint();
  const start =
    row === undefined
      ? emptyBooks
      : booksOfSnapshot(row.body, foldInOrder(emptyBooks, rows.catalogueUpTo(row)), row);
  if (start === null) {
    rows.dropAllCheckpoints();
    return loadBooks(db, rows);
  }
  let passed = 0;
  const sealed: Books[] = [];
  const books = foldInOrder(start, rows.livingEvents(start.last), (event, snapshot) => {
    passed += 1;
    if (event.kind === 'shift-sealed') sealed.push(snapshot());
    if (sealed.length >= 50) flush(db, rows, sealed);
  });
  flush(db, rows, sealed);
  if (passed > LONG_TAIL && (books.shift === null || isOpen(books.shift))) saveCheckpoint(rows, books);
  return books;
}

function flush(db: DatabaseSync, rows: Rows, sealed: Books[]): void {
  if (sealed.length === 0) return;
  const own = !db.isTransaction;
  try {
    if (own) db.exec('BEGIN IMMEDIATE');
    for (const books of sealed) saveCheckpoint(rows, books);
    if (own) db.exec('COMMIT');
  } catch {
    // A checkpoint is only a cache: on a full or read-only disk the books are right without it.
    if (own && db.isTransaction) db.exec('ROLLBACK');
  }
  sealed.length = 0;
}

function saveCheckpoint(rows: Rows, books: Books): void {
  if (books.last === null) return;
  const sealed = books.shift !== null && books.shift.sealedAt === books.last.at;
  try {
    rows.addCheckpoint(
      books.last,
      sealed ? (books.shift?.id ?? null) : null,
      sealed ? (books.shift?.date ?? null) : null,
      snapshotOf(books),
    );
  } catch {
    // see flush
  }
}

function shiftList(marks: ReturnType<Rows['shiftMarks']>) {
  const seals = new Map(marks.flatMap(({ of, at }) => (of === null ? [] : [[of, at] as const])));
  return marks.flatMap(({ id, at, date }) =>
    date === null
      ? []
      : [{ id: id as EventId, date, openedAt: at, sealed: seals.has(id), sealedAt: seals.get(id) ?? null }],
  );
}
