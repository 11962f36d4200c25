// One exchange of this station with its house's server, for commands: the line is opened, both sides are brought to the same, how it
// went is kept. The client of PostgreSQL is loaded only here and in the commands that need it.
import { instantOf } from '../../domain/value/clock-date.ts';
import { done, type Problem, type Result } from '../../domain/value/problem.ts';
import { type Outcome as Exchange, exchangeOnce, notBegun } from '../../store/exchange-run.ts';
import { openShared } from '../../store/file/shared.ts';
import type { Link } from '../../store/server/link.ts';
import { type StationFile, statusAfter } from '../../store/station.ts';
import type { World } from '../line/command.ts';

export type Wished = {
  readonly joined: StationFile;
  /** Before anything is exchanged: what speaks against it. */
  readonly before?: (link: Link) => Promise<Result<unknown>>;
  readonly page?: number;
  /** Books that are made anew: what was known of the last exchange says nothing of them. */
  readonly isFresh?: boolean;
};

export async function exchangeNow(
  world: World,
  { joined, before, page, isFresh = false }: Wished,
): Promise<Result<Exchange>> {
  const { openLink } = await import('../../store/server/link.ts');
  const books = openShared(world.dataFolder);
  if (!books.ok) return books;
  try {
    const kept = isFresh ? null : world.notes.status();
    const link = await openLink(joined.access, world.now);
    const outcome = link.ok
      ? await over(link.value, async (line) => {
          const may = await before?.(line);
          if (may?.ok === false) return may;
          return done(
            await exchangeOnce(books.value, line, {
              station: joined.station,
              confirmed: kept?.confirmed ?? 0,
              rests: true,
              ...(page === undefined ? {} : { page }),
              onProgress: (taken, of) => world.progress(of === 0 ? 1 : taken / of),
            }),
          );
        })
      : done(notBegun(link.problems[0] as Problem, kept?.confirmed ?? 0));
    if (!outcome.ok) return outcome;
    const own = books.value.heads();
    const head = own.ok ? (own.value.find(({ station }) => station === joined.station)?.seq ?? 0) : 0;
    const waiting = Math.max(0, head - outcome.value.pushed);
    world.notes.keepStatus(statusAfter(kept, outcome.value, instantOf(world.now()), waiting));
    return outcome;
  } finally {
    world.progress(1);
    books.value.close();
  }
}

async function over<T>(link: Link, work: (link: Link) => Promise<T>): Promise<T> {
  try {
    return await work(link);
  } finally {
    await link.close().catch(() => undefined);
  }
}
