// station rejoin: when a whole computer was put back, its notes too, it used numbers again that the house knows with other events. The
// house's past is taken in anew, what only stands here is recorded behind it under its own ids and moments, and what stood here is
// kept beside it.
import { mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { Event, EventDraft } from '../../domain/ledger/event.ts';
import { instantOf } from '../../domain/value/clock-date.ts';
import type { EventId } from '../../domain/value/ids.ts';
import { done, type Result } from '../../domain/value/problem.ts';
import { clean } from '../../domain/value/text.ts';
import { writeEvent } from '../../exchange/file/event-lines.ts';
import { restoreFrom } from '../../store/file/backup.ts';
import { openSqliteStore } from '../../store/file/sqlite.ts';
import type { StationFile } from '../../store/station.ts';
import type { Store } from '../../store/store.ts';
import { type Context, type Outcome, refused, say, sayJson, type World } from '../line/command.ts';
import { exchangeNow } from './exchange-now.ts';

export async function rejoin(context: Context, joined: StationFile): Promise<Outcome> {
  const { world } = context;
  // Only two of one number ask for it: what merely waits goes out by itself.
  const first = await exchangeNow(world, { joined });
  if (!first.ok) return refused(first.problems);
  const { problem } = first.value;
  if (problem === null) return say('In step with the server: nothing is to be done.');
  if (!forks.has(problem.code)) return refused([problem]);
  const mine = (first.value.hello?.stations ?? []).flatMap(({ id, mine: isOwn }) => (isOwn ? [id] : []));
  if (first.value.hello === null || first.value.hello.arrived === 0) return refused([problem]);
  const stamp = new Date(world.now()).toISOString().replace(/[:.]/g, '-');
  const folder = mkdtempSync(join(world.dataFolder, 'rejoin-'));
  try {
    const taken = await exchangeNow({ ...world, dataFolder: folder }, { joined, page: 2000, isFresh: true });
    if (!taken.ok) return refused(taken.problems);
    if (taken.value.problem !== null) return refused([taken.value.problem]);
    const moved = await bringOver(world, joined, folder, new Set([joined.station, ...mine]));
    if (!moved.ok) return refused(moved.problems);
    const { again, left, awaited } = moved.value;
    const aside = join(world.dataFolder, `not-taken-${stamp}.jsonl`);
    if (left.length + awaited.length > 0) {
      const written = world.writeFile(aside, [...left, ...awaited].map(writeEvent).join(''));
      if (!written.ok) return refused(written.problems);
    }
    const restored = restoreFrom(join(folder, 'books.sqlite'), world.dataFolder, stamp);
    if (!restored.ok) return refused(restored.problems);
    const after = await exchangeNow(world, { joined, isFresh: true });
    if (!after.ok) return refused(after.problems);
    const { keptAs } = restored.value;
    if (context.json)
      return sayJson({
        taken: taken.value.taken,
        again,
        notTaken: left.length,
        awaited: awaited.length,
        keptAs,
      });
    return say(
      [
        `The books are the house's again: ${taken.value.taken} events came in, ${again} that stood only here ${again === 1 ? 'was' : 'were'} recorded behind them.`,
        ...(left.length === 0
          ? []
          : [
              `${left.length} could not be, because a seal closed their night meanwhile or their moment lies ahead; they are in ${clean(aside)}.`,
            ]),
        ...(awaited.length === 0
          ? []
          : [
              `${awaited.length} of ${stationsOf(awaited)} stood here and not on the server: they come again from there; until then they are in ${clean(aside)}.`,
            ]),
        ...(keptAs === null ? [] : [`What stood here is kept as ${clean(keptAs)}.`]),
      ].join('\n'),
    );
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** What only new books mend. */
const forks: ReadonlySet<string> = new Set(['shared-forked', 'server-chain', 'server-future']);

type BroughtOver = {
  readonly again: number;
  readonly left: readonly Event[];
  /** Of others, and theirs to send. */
  readonly awaited: readonly Event[];
};

const stationsOf = (events: readonly Event[]): string =>
  [...new Set(events.map(({ station }) => station))].join(', ');

/** What the house does not know goes into the new books, in the order it was recorded, under its own id. */
async function bringOver(
  world: World,
  { station }: StationFile,
  folder: string,
  mine: ReadonlySet<string>,
): Promise<Result<BroughtOver>> {
  const old = await world.openStore();
  if (!old.ok) return old;
  const fresh = openSqliteStore(folder, {
    now: world.now,
    newId: () => '' as EventId,
    station: () => station,
    sharesHouse: true,
  });
  if (!fresh.ok) {
    old.value.close();
    return fresh;
  }
  try {
    const { own, awaited } = onlyHere(old.value, fresh.value, mine);
    let again = 0;
    const left: Event[] = [];
    for (const event of own) {
      if (recordAgain(fresh.value, event)) again += 1;
      else left.push(event);
    }
    return done({ again, left, awaited });
  } finally {
    old.value.close();
    fresh.value.close();
  }
}

/**
 * What the house does not know of these books. Of another station it is that one's to send, unless it used the same numbers again:
 * then nobody can send it any more, and it is recorded here, as what this station saw.
 */
function onlyHere(
  old: Store,
  fresh: Store,
  mine: ReadonlySet<string>,
): { readonly own: readonly Event[]; readonly awaited: readonly Event[] } {
  const heads = new Map<string, number>();
  for (const { station, seq } of fresh.allEvents())
    heads.set(station, Math.max(seq, heads.get(station) ?? 0));
  const missing = [...old.allEvents()].filter((event) => fresh.eventById(event.id) === null);
  const forked = new Set(
    missing.filter(({ station, seq }) => seq <= (heads.get(station) ?? 0)).map(({ station }) => station),
  );
  const bySeq = (events: Event[]): Event[] =>
    events.sort((a, b) => (a.station === b.station ? a.seq - b.seq : a.station < b.station ? -1 : 1));
  const own = bySeq(missing.filter(({ station }) => mine.has(station)));
  const others = missing.filter(({ station }) => !mine.has(station));
  return {
    // What this station did may hang on what it saw of the others.
    own: [...bySeq(others.filter(({ station }) => forked.has(station))), ...own],
    awaited: others.filter(({ station }) => !forked.has(station)),
  };
}

function recordAgain(fresh: Store, { station: _, seq: __, ...event }: Event): boolean {
  const draft: EventDraft = event;
  return fresh.record(() => done([draft]), instantOf(Date.parse(event.at))).ok;
}
