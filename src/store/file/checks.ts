// Named checks of the books, each runnable alone, silent when all is well.

import type { DatabaseSync } from 'node:sqlite';
import { linesOf } from '../../domain/drink/measures.ts';
import { type Books, emptyBooks, isOpen, netFlow } from '../../domain/ledger/books.ts';
import { containersTotal } from '../../domain/ledger/containers.ts';
import { foldInOrder } from '../../domain/ledger/ledger.ts';
import { brokenShift } from '../../domain/ledger/shift-order.ts';
import { takenBack } from '../../domain/ledger/take-back.ts';
import { canonicalJson } from '../../domain/value/canonical.ts';
import { dateText, epochOf, instantOf } from '../../domain/value/clock-date.ts';
import type { CheckFinding } from '../store.ts';
import { CHAIN_START, chainHash } from './log/chain.ts';
import type { EventRow, Rows } from './log/rows.ts';
import { snapshotOf } from './snapshot.ts';

type Context = {
  readonly db: DatabaseSync;
  readonly rows: Rows;
  readonly books: Books;
  readonly now: number;
};
type Check = (context: Context) => string[];

/** Soundness of the books: run when no name is given. */
const sound: Readonly<Record<string, Check>> = {
  store: ({ db }) => {
    const results = db
      .prepare('PRAGMA integrity_check')
      .all()
      .map((row) => String(Object.values(row)[0]));
    return results
      .filter((result) => result !== 'ok')
      .map((result) => `The file of the books is damaged (${result}). Restore a copy.`);
  },
  chain: ({ rows }) => chainFindings(rows),
  replay: ({ rows, books }) => {
    const again = foldInOrder(emptyBooks, rows.livingEvents(null));
    const same =
      canonicalJson(JSON.parse(snapshotOf(again))) === canonicalJson(JSON.parse(snapshotOf(books)));
    const back = takenBack(rows.takeBacks());
    const marked = rows.takenBackIds();
    if (marked.length !== back.size || marked.some((id) => !back.has(id))) {
      return [
        'What was taken back differs from what the events say. Run ullage export events and import into a new folder.',
      ];
    }
    return same
      ? []
      : [
          'The books differ from what their events say. Run ullage export events and import into a new folder.',
        ];
  },
  conservation: ({ books }) =>
    [...books.stock.values()].flatMap((stock) => {
      const size = books.items.get(stock.item)?.size ?? 1;
      const flowed = (stock.counted?.amount ?? 0) + netFlow(stock.flows);
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
  shifts: ({ rows }) => {
    const broken = brokenShift(rows.shiftMarks(-1).reverse());
    const lost = rows.withoutShift();
    return [
      ...(broken === null ? [] : [`Event ${broken.id}: ${broken.message}`]),
      ...lost.map(
        (id) =>
          `Event ${id} counts, but the shift it was recorded in does not. Take it back with ullage undo ${id}.`,
      ),
    ];
  },
  order: ({ rows, now }) => {
    const late: string[] = [];
    const limit = instantOf(now + 60_000);
    for (const event of rows.livingEvents(null))
      if (event.at > limit)
        late.push(`Event ${event.id} lies in the future (${event.at}). Check this computer's clock.`);
    return late;
  },
};

/** Upkeep: run only when named, because an open shift is no fault of the books. */
const upkeep: Readonly<Record<string, Check>> = {
  openshift: ({ books, now }) => {
    if (!isOpen(books.shift) || now - epochOf(books.shift.openedAt) < 18 * 3_600_000) return [];
    return [
      `The shift of ${dateText(books.shift.date)} has been open for more than 18 hours. Count and seal it.`,
    ];
  },
  recentcount: ({ books, now }) =>
    [...books.stock.values()]
      .filter((stock) => now - epochOf(stock.counted?.at ?? '1970-01-01T00:00:00.000Z') > 10 * 86_400_000)
      .map(
        (stock) => `${stock.item} at ${stock.place} has not been counted for more than 10 days. Count it.`,
      ),
};

const all = { ...sound, ...upkeep };
export const soundChecks = Object.keys(sound);
export const allChecks = Object.keys(all);

export function runChecks(
  db: DatabaseSync,
  rows: Rows,
  books: Books,
  names: readonly string[],
  now: number,
): CheckFinding[] {
  const wanted = names.length === 0 ? soundChecks : names;
  return wanted.flatMap((check) =>
    (all[check as keyof typeof all]?.({ db, rows, books, now }) ?? []).map((message) => ({ check, message })),
  );
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
