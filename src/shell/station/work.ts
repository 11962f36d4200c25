// What runs beside the rooms and exchanges with the house's server, on a connection of its own to the books: no key ever waits for a
// network. It is started only where a station joined a house.
import { isDeepStrictEqual } from 'node:util';
import { parentPort } from 'node:worker_threads';
import { instantOf } from '../../domain/value/clock-date.ts';
import { openShared } from '../../store/file/shared.ts';
import { openLink } from '../../store/server/link.ts';
import { type ExchangeStatus, statusAfter } from '../../store/station.ts';
import { stationNotes } from '../disk/station.ts';
import { startRounds } from './rounds.ts';
import type { FromThread, ToThread } from './thread.ts';

/** How the exchange stands is kept no oftener than this while it stays as it is, so that the disk is left to the taps. */
const KEEP_MS = 5000;

/** Exchanges until it is told to leave, or until nothing can be exchanged. */
export function exchangeBeside({ folder }: { readonly folder: string }): void {
  const notes = stationNotes(folder, process.env);
  const joined = notes.joined();
  const books = openShared(folder);
  const say = (message: FromThread): void => parentPort?.postMessage(message);

  if (joined.ok && joined.value !== null && books.ok) {
    const { station } = joined.value;
    let way = joined.value;
    let status: ExchangeStatus | null = notes.status();
    // Somebody may join the house anew while the rooms are open.
    const renewed = (): { confirmed: number } | null => {
      const now = notes.joined();
      if (!now.ok || now.value === null || isDeepStrictEqual(now.value, way)) return null;
      way = now.value;
      status = notes.status();
      return { confirmed: status?.confirmed ?? 0 };
    };
    let kept = { at: 0, problem: '' };
    const keep = (isLast: boolean): void => {
      const problem = status?.problem?.code ?? '';
      const now = Date.now();
      if (status === null || (!isLast && problem === kept.problem && now - kept.at < KEEP_MS)) return;
      kept = { at: now, problem };
      notes.keepStatus(status);
    };
    const rounds = startRounds({
      station,
      books: books.value,
      open: () => openLink(way.access),
      renewed,
      confirmed: status?.confirmed ?? 0,
      onRound: (outcome, waiting) => {
        status = statusAfter(status, outcome, instantOf(Date.now()), waiting);
        keep(false);
        say({ status, taken: outcome.taken, lostThere: outcome.lostThere });
      },
    });
    parentPort?.on('message', async (message: ToThread) => {
      if (message === 'wake') return rounds.wake();
      await rounds.leave();
      keep(true);
      books.value.close();
      say('left');
      parentPort?.close();
    });
  } else {
    const [problem] = !joined.ok ? joined.problems : books.ok ? [] : books.problems;
    if (problem !== undefined) say({ problem });
    parentPort?.close();
  }
}
