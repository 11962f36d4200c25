// The books in one SQLite file. Every write is one transaction that reads the newest books, decides, appends, folds what it
// appended and is on disk (synchronous=FULL) when it returns.

import { join } from 'node:path';
import type { DatabaseSync } from 'node:sqlite';
import type { Intent } from '../../domain/intent/intent.ts';
import { type Books, booksAtStation, isOpen } from '../../domain/ledger/books.ts';
import { compareEvents, type Event, type Loss, type Remark, type Sale } from '../../domain/ledger/event.ts';
import { foldInOrder } from '../../domain/ledger/ledger.ts';
import { instantOf } from '../../domain/value/clock-date.ts';
import type { EventId } from '../../domain/value/ids.ts';
import { memoBy } from '../../domain/value/memo.ts';
import { done, type Problem, type Result } from '../../domain/value/problem.ts';
import type { Store, StoreSetting, Trial } from '../store.ts';
import {
  asKnown,
  cameAfterNight,
  eachLineOnce,
  earliestChange,
  gone,
  idsOf,
  inodeOf,
  isReplaced,
  logged,
  notImported,
  ownMissing,
  rollBack,
  shiftList,
  withReplaced,
} from './answers.ts';
import { backupTo } from './backup.ts';
import { isDamaged, runChecks } from './checks.ts';
import { booksAtSeal, type Loaded, loadBooks, saveCheckpoints, sealedShifts } from './load.ts';
import { append, follows, tracesOf } from './log/append.ts';
import { importInto } from './log/import-events.ts';
import { markOf } from './log/mark.ts';
import { eventOfBody, prepareRows } from './log/rows.ts';
import { keepMarks } from './marks.ts';
import { BOOKS_FILE, BUSY_TIMEOUT_MS } from './open/names.ts';
import { type OpenBooks, openBooksFile } from './open/open-file.ts';
import { damaged, openingProblem } from './open/problem.ts';

export function openSqliteStore(folder: string, setting: StoreSetting): Result<Store> {
  const opened = openBooksFile(folder);
  if (!opened.ok) return opened;
  const file = join(folder, BOOKS_FILE);
  try {
    return done(storeOn(opened.value, file, setting, () => openBooksFile(folder)));
  } catch (error) {
    const problem = explain(opened.value.db, error, file);
    opened.value.release();
    if (problem === null) throw error;
    return { ok: false, problems: [problem] };
  }
}

/** What an error says of the books; null when they are sound, and it is a bug of ours. */
function explain(db: DatabaseSync, error: unknown, file: string): Problem | null {
  // Books that were closed are not damaged.
  if (!db.isOpen) return null;
  const isOfSqlite = (error as { errcode?: number }).errcode !== undefined;
  const told = isOfSqlite ? openingProblem(error, file) : isDamaged(db) ? damaged(file) : null;
  return told === null || told.ok ? null : (told.problems[0] ?? null);
}

export function storeOn(
  opened: OpenBooks,
  file: string,
  setting: StoreSetting,
  openAgain: () => Result<OpenBooks>,
): Store {
  let { db, readOnly, release } = opened;
  let rows = prepareRows(db);
  let inode = inodeOf(file);
  let version = rows.dataVersion();
  let number = rows.lastNumber();
  const marks = keepMarks();
  let { books, aside } = loadBooks(db, rows, undefined, { marks, changed: null });
  /** Set once the disk would not confirm a write: what it holds is then unknown until the books are opened anew. */
  let unsure: Result<never> | null = null;

  const take = (loaded: Loaded): void => {
    ({ books, aside } = loaded);
    number = rows.lastNumber();
  };
  /** The books with what was written since: folded on top when it lies after the last event, else from the checkpoint. */
  const withNews = (): Loaded => {
    const news = rows.after(number).map(({ body }) => eventOfBody(body));
    const events = news.flatMap((event) => event ?? []);
    const isPlain =
      events.length === news.length &&
      !events.some((event) => event.kind === 'event-taken-back') &&
      follows(books.last, events);
    return (isPlain ? foldedOnTop(events) : null) ?? loadFrom(events);
  };
  const onTop = (events: readonly Event[]): Books => {
    const next = foldInOrder(books, [...events].sort(compareEvents));
    marks.passed(events.length, () => next, aside);
    return next;
  };
  /** Null when one of them does not fold: then it is found and set aside. */
  const foldedOnTop = (events: readonly Event[]): Loaded | null => {
    try {
      return { books: onTop(events), aside };
    } catch (error) {
      if ((error as { errcode?: number }).errcode !== undefined) throw error;
      return null;
    }
  };
  /** The books folded from shortly before what changed. */
  const loadFrom = (events: readonly Event[]): Loaded =>
    loadBooks(db, rows, undefined, { marks, changed: earliestChange(rows, events) });
  const loadAnew = (): Loaded => loadBooks(db, rows, undefined, { marks, changed: null });

  const refresh = (): Books => {
    const seen = rows.dataVersion();
    if (seen === version) return books;
    take(withNews());
    version = seen;
    return books;
  };

  /** Each of several stations has a hand of its own. */
  const here = memoBy(
    (all: Books) => [all],
    (all: Books) => (setting.sharesHouse === true ? booksAtStation(all, setting.station()) : all),
  );

  /** Books that could only be read may be writable by now: there is room again, or the disk is back. */
  const reopen = (): Result<null> => {
    if (readOnly === null) return done(null);
    const again = openAgain();
    if (!again.ok) return again;
    if (again.value.readOnly !== null) {
      again.value.release();
      return { ok: false, problems: [again.value.readOnly] };
    }
    release();
    ({ db, readOnly, release } = again.value);
    rows = prepareRows(db);
    inode = inodeOf(file);
    version = rows.dataVersion();
    take(loadAnew());
    return done(null);
  };

  /** One transaction: what it hands back is on disk, or nothing is. */
  const transact = <T>(work: () => Result<T>): Result<T> => {
    if (unsure !== null) return unsure;
    const writable = reopen();
    if (!writable.ok) return writable;
    try {
      db.exec('BEGIN IMMEDIATE');
      // Only now: who swaps the books holds this same lock while doing so.
      const result = isReplaced(file, inode) ? gone(file) : work();
      db.exec(result.ok ? 'COMMIT' : 'ROLLBACK');
      if (!result.ok) marks.forget();
      return result;
    } catch (error) {
      rollBack(db);
      // A mark may hold what was not written after all.
      marks.forget();
      version = -1;
      if (isReplaced(file, inode)) return gone(file);
      const problem = explain(db, error, file);
      if (problem === null) throw error;
      if (problem.code === 'not-synced') unsure = { ok: false, problems: [problem] };
      return { ok: false, problems: [problem] };
    }
  };

  const patiently = <T>(patience: number | undefined, work: () => Result<T>): Result<T> => {
    if (patience === undefined) return transact(work);
    db.exec(`PRAGMA busy_timeout = ${patience}`);
    try {
      return transact(work);
    } finally {
      db.exec(`PRAGMA busy_timeout = ${BUSY_TIMEOUT_MS}`);
    }
  };

  let isBehind = (setting.confirmed?.() ?? 0) > rows.lastOfStation(setting.station()).seq;
  /** Books that were put back to an older copy: what this station sent since comes back first, or its numbers would be used twice. */
  const behindOwn = (): Result<null> => {
    isBehind &&= (setting.confirmed?.() ?? 0) > rows.lastOfStation(setting.station()).seq;
    return isBehind ? ownMissing : done(null);
  };

  const record = (intent: Intent, at?: string, trial: Trial = {}): Result<readonly Event[]> => {
    const result = patiently(trial.patience, () => {
      const now = instantOf(setting.now());
      const behind = behindOwn();
      if (!behind.ok) return behind;
      const wanted = intent(here(refresh()), now);
      if (!wanted.ok) return wanted;
      const written = append(
        rows,
        books,
        wanted.value,
        at,
        { ...setting, newId: idsOf(setting, trial) },
        now,
      );
      if (!written.ok) return written;
      const loaded = written.value.length === 0 ? null : withWritten(written.value);
      return done({ events: written.value, loaded });
    });
    if (!result.ok) return result;
    const { events, loaded } = result.value;
    if (loaded !== null) take(loaded);
    return done(events);
  };

  /** The books after what was just written, folded before it is committed: what does not fold is never stored. */
  const withWritten = (events: readonly Event[]): Loaded => {
    const isLate = events.some(({ kind }) => kind === 'event-taken-back') || !follows(books.last, events);
    if (isLate) return loadFrom(events);
    const next = onTop(events);
    if (events.at(-1)?.kind === 'shift-sealed') saveCheckpoints(db, rows, [next], aside);
    return { books: next, aside };
  };

  const booksOfShift = (shift: string, knownBy = shift): Books | null => {
    refresh();
    const isOurs = books.shift?.id === shift;
    // What came after the seal is not in it, though the books have gone on.
    if (isOurs && isOpen(books.shift)) return books;
    const seal = isOurs ? rows.sealOf(shift) : null;
    const endsThere = seal !== null && books.last !== null && compareEvents(seal, books.last) === 0;
    if (isOurs && !rows.hasUnseen() && endsThere) return books;
    return booksAtSeal(rows, shift as EventId, knownBy as EventId) ?? (isOurs ? books : null);
  };

  return {
    books: () => here(refresh()),
    record,
    importEvents: (lines) => {
      const result = transact(() => {
        const imported = importInto(rows, refresh(), lines, instantOf(setting.now()), (watch, sound) =>
          loadBooks(db, rows, { watch, sound }, { marks, changed: null }),
        );
        const isKnown = imported.ok && imported.value.outcome.added === 0;
        return setting.sharesHouse === true && !isKnown ? notImported : imported;
      });
      if (!result.ok) return result;
      if (result.value.loaded !== null) take(result.value.loaded);
      return done(result.value.outcome);
    },
    traces: (id) => tracesOf(rows, id),
    log: (last) => {
      const found = rows.newest(last).flatMap((row) => logged(row) ?? []);
      return setting.sharesHouse === true ? found.map((one) => withReplaced(rows, one)) : found;
    },
    eventById: (id) => logged(rows.byId(id)),
    eventOfStation: (station, seq) => logged(rows.bySeq(station, seq)),
    allEvents: () => rows.allEvents(),
    booksOfShift,
    cameAfter: (shifts) =>
      shifts.flatMap((shift) => cameAfterNight(rows, shift)).flatMap(({ id }) => logged(rows.byId(id)) ?? []),
    shifts: (last, knownBy) => shiftList(rows, aside, last, knownBy),
    shiftBooks: (last) => {
      const sealed = sealedShifts(rows, last);
      const { shift } = refresh();
      return isOpen(shift) ? [...sealed, shift] : sealed;
    },
    isSold: (line, soldAt) => rows.isSold(line, soldAt),
    sales: (from, to) => eachLineOnce(rows.sales(from, to) as Sale[]),
    losses: (after, to, knownBy) => asKnown(rows, knownBy, rows.losses, rows.everyLoss)(after, to) as Loss[],
    remarks: (shifts) => rows.remarks(shifts) as Remark[],
    between: (from, to, knownBy) => asKnown(rows, knownBy, rows.between, rows.everyBetween)(from, to),
    check: (names, mark) => {
      const findings = runChecks({ db, rows, books: refresh(), now: setting.now(), aside }, names, mark);
      // A cache that did not agree with the events was made anew.
      if (findings.some(({ check }) => check === 'replay')) take(loadAnew());
      return findings;
    },
    station: setting.station,
    sharesHouse: setting.sharesHouse === true,
    ownNumber: () => rows.lastOfStation(setting.station()).seq,
    newId: setting.newId,
    mark: () => markOf(rows),
    setAside: () => aside.size,
    readOnly: () => readOnly,
    explain: (error) => explain(db, error, file),
    backup: (target) => backupTo(db, file, target),
    isStale: () => rows.dataVersion() !== version,
    close: () => release(),
  };
}
