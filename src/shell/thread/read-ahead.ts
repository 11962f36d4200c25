// The thread's side of reading a long file of events: gives pieces as long as there are lines, and never gets far ahead.
import type { MessagePort } from 'node:worker_threads';
import { lineOf } from '../../domain/ledger/event-door.ts';
import { readEvents } from '../../exchange/file/event-lines.ts';
import type { Incoming } from '../../store/store.ts';
import { readLines } from '../disk/files.ts';

/** Lines that go over in one piece, and pieces that may wait to be taken. */
const PIECE = 500;
const AHEAD = 8;
/** Places of the shared numbers: pieces given, pieces taken. */
export const GIVEN = 0;
export const TAKEN = 1;

export type Reading = {
  readonly file: string;
  readonly counts: SharedArrayBuffer;
  readonly port: MessagePort;
};
export type Piece = { readonly lines: readonly Incoming[]; readonly share: number; readonly isLast: boolean };

const asLine = (one: ReturnType<typeof readEvents> extends Iterable<infer T> ? T : never): Incoming =>
  one === null || 'code' in one ? one : lineOf(one);

/** On the thread: gives pieces as long as there are lines, and waits when too many are not taken yet. */
export function readAhead({ file, counts, port }: Reading): void {
  const numbers = new Int32Array(counts);
  let share = 0;
  let given = 0;
  const give = (lines: readonly Incoming[], isLast: boolean): void => {
    port.postMessage({ lines, share, isLast } satisfies Piece);
    given += 1;
    Atomics.store(numbers, GIVEN, given);
    Atomics.notify(numbers, GIVEN);
    for (
      let taken = Atomics.load(numbers, TAKEN);
      given - taken > AHEAD;
      taken = Atomics.load(numbers, TAKEN)
    )
      Atomics.wait(numbers, TAKEN, taken);
  };
  const lines = readLines(file, (read) => {
    share = read;
  });
  let piece: Incoming[] = lines.ok ? [] : [lines.problems[0] ?? null];
  if (lines.ok)
    for (const one of readEvents(lines.value)) {
      piece.push(asLine(one));
      if (piece.length < PIECE) continue;
      give(piece, false);
      piece = [];
    }
  give(piece, true);
}
