// Events that were recorded elsewhere, taken in whole or not at all. Ids make a second import harmless.

import { compareEvents, type Event } from '../../domain/ledger/event.ts';
import { takenBack } from '../../domain/ledger/ledger.ts';
import { canonicalJson } from '../../domain/value/canonical.ts';
import { done, type Problem, type Result, refuseAll } from '../../domain/value/problem.ts';
import type { ImportOutcome } from '../store.ts';
import type { Rows } from './rows.ts';

const LISTED = 20;

/** Call inside a transaction. Problems carry the 1-based position of the event in the list as their line. */
export function importInto(rows: Rows, events: readonly Event[]): Result<ImportOutcome> {
  const problems: Problem[] = [];
  const fresh: Event[] = [];
  const known = new Set<string>();
  const say = (index: number, code: string, message: string): void => {
    if (problems.length < LISTED) problems.push({ code, message, exit: 65, line: index + 1 });
  };
  events.forEach((event, index) => {
    const stored = rows.byId(event.id);
    if (stored !== undefined && stored.body !== canonicalJson(event)) {
      say(
        index,
        'other-content',
        `Event ${event.id} is in the books with other content. Import the file it came from, unchanged.`,
      );
    } else if (stored === undefined && known.has(event.id)) {
      say(index, 'double-id', `Event ${event.id} stands twice in the file. Take one of the two lines out.`);
    } else if (stored === undefined) {
      fresh.push(event);
    }
    known.add(event.id);
  });
  checkTargets(rows, events, known, say);
  appendInOrder(rows, fresh, events, say);
  if (problems.length > 0) return refuseAll(problems);
  settleTakeBacks(rows, fresh);
  return done({ added: fresh.length, known: events.length - fresh.length });
}

type Say = (index: number, code: string, message: string) => void;

function checkTargets(rows: Rows, events: readonly Event[], known: ReadonlySet<string>, say: Say): void {
  events.forEach((event, index) => {
    if (event.kind !== 'event-taken-back' || known.has(event.target) || rows.byId(event.target) !== undefined)
      return;
    say(
      index,
      'no-target',
      `This takes back event ${event.target}, which is neither in the books nor in the file. Import the whole export.`,
    );
  });
}

/** Station by station in the order of their running numbers, which must go on without a gap. */
function appendInOrder(rows: Rows, fresh: readonly Event[], all: readonly Event[], say: Say): void {
  const stations = new Map<string, Event[]>();
  for (const event of fresh) stations.set(event.station, [...(stations.get(event.station) ?? []), event]);
  for (const [station, list] of stations) {
    let { seq, hash } = rows.lastOfStation(station);
    for (const event of list.sort((a, b) => a.seq - b.seq)) {
      if (event.seq !== seq + 1) {
        say(
          all.indexOf(event),
          'gap',
          `Station ${station} goes from ${seq} to ${event.seq} here. Import the whole export of that station.`,
        );
        break;
      }
      hash = rows.insert(event, canonicalJson(event), hash);
      seq = event.seq;
    }
  }
}

function settleTakeBacks(rows: Rows, fresh: readonly Event[]): void {
  let earliest = [...fresh].sort(compareEvents)[0];
  if (fresh.some((event) => event.kind === 'event-taken-back')) {
    rows.replaceTakenBack(takenBack(rows.takeBacks()));
    earliest = undefined;
    rows.dropAllCheckpoints();
  }
  if (earliest !== undefined) rows.dropCheckpoints(earliest);
}
