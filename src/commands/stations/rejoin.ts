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
    const { again, left } = moved.value;
    const aside = join(world.dataFolder, `not-taken-${stamp}.jsonl`);
    if (left.length > 0) {
      const written = world.writeFile(aside, left.map(writeEvent).join(''));
      if (!written.ok) return refused(written.problems);
    }
    const restored = restoreFrom(join(folder, 'books.sqlite'), world.dataFolder, stamp);
    if (!restored.ok) return refused(restored.problems);
    const after = await exchangeNow(world, { joined, isFresh: true });
    if (!after.ok) return refused(after.problems);
    const { keptAs } = restored.value;
    if (context.json) return sayJson({ taken: taken.value.taken, again, notTaken: left.length, keptAs });
    return say(
      [
        `The books are the house's again: ${taken.value.taken} events came in, ${again} that stood only here were recorded behind them.`,
        ...(left.length === 0
          ? []
          : [
              `${left.length} could not be, because a seal closed their night meanwhile or their moment lies ahead; they are in ${clean(aside)}.`,
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

type BroughtOver = { readonly again: number; readonly left: readonly Event[] };

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
    const own = ownOnly(old.value, fresh.value, mine);
    let again = 0;
    const left: Event[] = [];
    for (const event of own) {
      if (recordAgain(fresh.value, event)) again += 1;
      else left.push(event);
    }
    return done({ again, left });
  } finally {
    old.value.close();
    fresh.value.close();
  }
}

const ownOnly = (old: Store, fresh: Store, mine: ReadonlySet<string>): Event[] =>
  [...old.allEvents()]
    .filter((event) => mine.has(event.station) && fresh.eventById(event.id) === null)
    .sort((a, b) => a.seq - b.seq);

function recordAgain(fresh: Store, { station: _, seq: __, ...event }: Event): boolean {
  const draft: EventDraft = event;
  return fresh.record(() => done([draft]), instantOf(Date.parse(event.at))).ok;
}
