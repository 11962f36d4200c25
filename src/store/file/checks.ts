// Named checks of the books, each runnable alone, silent when all is well.

import type { DatabaseSync } from 'node:sqlite';
import { linesOf } from '../../domain/drink/measures.ts';
import { type Books, emptyBooks, isOpen } from '../../domain/ledger/books.ts';
import type { Event } from '../../domain/ledger/event.ts';
import { foldInOrder } from '../../domain/ledger/ledger.ts';
import { brokenShift, LONG_SHIFT_MS } from '../../domain/ledger/shift-order.ts';
import { baselineOf, containersTotal } from '../../domain/ledger/stock/containers.ts';
import { netFlow } from '../../domain/ledger/stock/flows.ts';
import { takenBack } from '../../domain/ledger/take-back.ts';
import { canonicalJson } from '../../domain/value/canonical.ts';
import { dateText, epochOf, instantOf } from '../../domain/value/clock-date.ts';
import { CHAIN_START, chainHash } from '../chain.ts';
import type { CheckFinding } from '../store.ts';
import { markFindings } from './log/mark.ts';
import { type EventRow, prepareRows, type Rows } from './log/rows.ts';
import { seeAnew, unseenAgrees } from './log/unseen.ts';
import { snapshotOf } from './snapshot.ts';

type Context = {
  readonly db: DatabaseSync;
  readonly rows: Rows;
  readonly books: Books;
  readonly now: number;
  /** The numbers of the lines set aside. */
  readonly aside: ReadonlySet<number>;
};
type Check = (context: Context) => string[];

/** Soundness of the books: run when no name is given. */
const sound: Readonly<Record<string, Check>> = {
  store: ({ db }) => {
    const found = integrity(db);
    if (found.length === 0) return [];
    // An index is only a cache: made anew, it is right.
    if (found.every(isOfIndex) && mended(() => db.exec('REINDEX')) && integrity(db).length === 0)
      return ['An index of the file was damaged; it was made anew, and the file is sound again.'];
    return found.map((result) => `The file of the books is damaged (${result}). Restore a copy.`);
  },
  events: ({ rows }) => {
    const bad: string[] = [];
    for (const { number, station, seq } of rows.unreadable()) {
      bad.push(
        `Line ${number} (event ${seq} of station ${station}) can't be read; it is set aside and counts nowhere.`,
      );
      if (bad.length >= MOST_LISTED) break;
    }
    return bad;
  },
  chain: ({ rows }) => chainFindings(rows),
  replay: ({ db, rows, books, aside }) => {
    const living = function* (): Generator<Event> {
      for (const { number, event } of rows.livingEvents(null)) if (!aside.has(number)) yield event;
    };
    const back = takenBack(rows.takeBacks());
    const marked = rows.takenBackIds();
    if (marked.length !== back.size || marked.some((id) => !back.has(id))) {
      return [
        `What was taken back differed from what the events say; ${madeAnew(db, rows, () => rows.replaceTakenBack(back))}`,
      ];
    }
    if (!seesAll(db, rows))
      return [
        `What came after a seal differed from what the events say; ${madeAnew(db, rows, () => seeAnew(rows))}`,
      ];
    const again = foldInOrder(emptyBooks, living());
    const same =
      canonicalJson(JSON.parse(snapshotOf(again))) === canonicalJson(JSON.parse(snapshotOf(books)));
    return same ? [] : [`The books differed from what their events say; ${madeAnew(db, rows)}`];
  },
  conservation: ({ books }) =>
    [...books.stock.values()].flatMap((stock) => {
      const size = books.items.get(stock.item)?.size;
      if (size === undefined)
        return [
          `${stock.item} stands at ${stock.place}, but that item was taken back. Take that back with ullage undo (ullage log names it), or write the item again.`,
        ];
      const { from, flows } = baselineOf(stock);
      const flowed = (from?.amount ?? 0) + netFlow(flows);
      const whole = flowed === stock.amount && containersTotal(stock, size) === stock.amount;
      return whole
        ? []
        : [`${stock.item} at ${stock.place}: what flowed in and out does not add up. Count it anew.`];
    }),
  catalogue: ({ books }) =>
    [...books.specs.values()].flatMap((spec) => {
      const lines = linesOf(spec.measures, books);
      return lines.ok ? [] : lines.problems.map((problem) => `${spec.name}: ${problem.message}`);
    }),
  shifts: ({ rows, aside }) => {
    const broken = brokenShift(rows.shiftMarks(-1, aside).reverse());
    const lost = rows.withoutShift();
    return [
      ...(broken === null ? [] : [`Event ${broken.id}: ${broken.message}`]),
      ...lost.map(
        (id) =>
          `Event ${id} counts, but the shift it was recorded in was taken back. Take that back with ullage undo (ullage log names it), or this with ullage undo ${id}.`,
      ),
    ];
  },
  order: ({ rows, now }) => {
    const late: string[] = [];
    const limit = instantOf(now + 60_000);
    for (const { event } of rows.livingEvents(null))
      if (event.at > limit)
        late.push(`Event ${event.id} lies in the future (${event.at}). Check this computer's clock.`);
    return late;
  },
};

const MOST_LISTED = 20;

/** Asked in a transaction that is undone: a look changes nothing. Where nothing can be written there is nothing to ask. */
function seesAll(db: DatabaseSync, rows: Rows): boolean {
  if (rows.sealsFrom('').length === 0) return true;
  let agrees = true;
  mended(() => {
    db.exec('BEGIN IMMEDIATE');
    agrees = unseenAgrees(rows);
  });
  if (db.isTransaction) db.exec('ROLLBACK');
  return agrees;
}

const integrity = (db: DatabaseSync): string[] =>
  db
    .prepare('PRAGMA integrity_check(20)')
    .all()
    .map((row) => String(Object.values(row)[0]))
    .filter((result) => result !== 'ok');

/** What integrity_check says of an index alone: the rows it is made from are whole. */
const isOfIndex = (result: string): boolean =>
  /^(row \d+ missing from index|wrong # of entries in index|non-unique entry in index)/.test(result);

/** Whether a mending went through; on a disk that can't be written nothing is mended. */
function mended(work: () => void): boolean {
  try {
    work();
    return true;
  } catch {
    return false;
  }
}

/** What follows from the events is thrown away, to be folded anew; the events themselves are never touched. */
function madeAnew(db: DatabaseSync, rows: Rows, also: () => void = () => undefined): string {
  // Damaged bytes are evidence: nothing is written over them.
  if (isDamaged(db)) return 'it is left as it is, because the file is damaged. Restore a copy.';
  const isMended = mended(() => {
    db.exec('BEGIN IMMEDIATE');
    also();
    rows.dropAllCheckpoints();
    db.exec('COMMIT');
  });
  if (db.isTransaction) db.exec('ROLLBACK');
  return isMended
    ? 'it was made anew from the events. Run ullage check again.'
    : 'it can be made anew only where the books can be written. Copy them there, and run ullage check again.';
}

/** Upkeep: run only when named, because an open shift is no fault of the books. */
const upkeep: Readonly<Record<string, Check>> = {
  unsealed: ({ books, now }) => {
    if (!isOpen(books.shift) || now - epochOf(books.shift.openedAt) < LONG_SHIFT_MS) return [];
    return [
      `The shift of ${dateText(books.shift.date)} has been open for more than 20 hours. Count and seal it.`,
    ];
  },
  'stale-count': ({ books, now }) =>
    [...books.stock.values()]
      .filter((stock) => now - epochOf(stock.counted?.at ?? '1970-01-01T00:00:00.000Z') > 10 * 86_400_000)
      .map(
        (stock) => `${stock.item} at ${stock.place} has not been counted for more than 10 days. Count it.`,
      ),
};

const all = { ...sound, ...upkeep };
export const soundChecks = Object.keys(sound);
export const allChecks = Object.keys(all);

/** Runs the checks named, or all of soundness; with a mark also whether the books still hold what it was made of. */
export function runChecks(context: Context, names: readonly string[], mark?: string): CheckFinding[] {
  const wanted: readonly (readonly [string, Check | undefined])[] = [
    ...(names.length === 0 && mark === undefined ? soundChecks : names).map(
      (name) => [name, all[name as keyof typeof all]] as const,
    ),
    ...(mark === undefined
      ? []
      : [
          ['chain', sound.chain] as const,
          ['mark', ({ rows }: Context) => markFindings(rows, mark)] as const,
        ]),
  ];
  return wanted.flatMap(([check, run]) =>
    run === undefined ? [] : findingsOf(context, run).map((message) => ({ check, message })),
  );
}

/** A check that stumbles over the bytes it reads has found something. */
function findingsOf(context: Context, check: Check): string[] {
  try {
    return check(context);
  } catch (error) {
    const reason = error instanceof Error ? error.message : '';
    return [`The file of the books is damaged (${reason.slice(0, 80)}). Keep it, and restore a copy.`];
  }
}

/** Whether the bytes are not what was written: by SQLite's own account, or by the chain over the events. */
export function isDamaged(db: DatabaseSync): boolean {
  try {
    return integrity(db).length > 0 || chainFindings(prepareRows(db)).length > 0;
  } catch {
    return true;
  }
}

/** Walks every station's chain; names the first event of each station that does not fit. */
export function chainFindings(rows: Rows): string[] {
  const findings: string[] = [];
  const broken = new Set<string>();
  let [station, seq, hash] = ['', 0, CHAIN_START];
  for (const row of rows.allRows()) {
    if (row.station !== station) [station, seq, hash] = [row.station, 0, CHAIN_START];
    if (broken.has(station)) continue;
    if (row.seq !== seq + 1 || row.hash !== chainHash(hash, row.body) || !agrees(row)) {
      broken.add(station);
      findings.push(
        `Event ${row.seq} of station ${station} was altered, or one before it is gone. Restore a copy from before.`,
      );
    }
    [seq, hash] = [row.seq, row.hash];
  }
  return findings;
}

/** The columns say the same as the event's text. */
function agrees(row: EventRow): boolean {
  try {
    const event = JSON.parse(row.body) as Record<string, unknown>;
    return (['id', 'at', 'station', 'seq', 'kind', 'shift'] as const).every(
      (name) => event[name] === row[name],
    );
  } catch {
    return false;
  }
}
