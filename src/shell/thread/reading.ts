// A long file of events is read, checked and brought into canonical form on a thread of its own, while what it gave already is stored
// and folded: the two halves of an import cost about the same. What is read ahead is bounded.
import { MessageChannel, type MessagePort, receiveMessageOnPort } from 'node:worker_threads';
import { done, type Problem, type Result } from '../../domain/value/problem.ts';
import { readEvents } from '../../exchange/file/event-lines.ts';
import type { Incoming } from '../../store/store.ts';
import { bytesOf, readLines } from '../disk/files.ts';
import { makeWorker } from './make.ts';
import { GIVEN, type Piece, TAKEN } from './read-ahead.ts';

/** A shorter file is read before a thread has started. */
const LONG_BYTES = 4_000_000;
/** A thread that gave nothing for so long has failed, ms. */
const PATIENCE_MS = 20_000;

/** The lines of a file of events, read on a thread of its own where it is long; as they are asked for. */
export function eventsOf(file: string, onShare: (share: number) => void): Result<Iterable<Incoming>> {
  const size = bytesOf(file);
  if (!size.ok) return size;
  if (size.value >= LONG_BYTES) return done(fromThread(file, onShare));
  const lines = readLines(file, onShare);
  return lines.ok ? done(readEvents(lines.value)) : lines;
}

function* fromThread(file: string, onShare: (share: number) => void): Generator<Incoming> {
  const counts = new SharedArrayBuffer(8);
  const numbers = new Int32Array(counts);
  const { port1, port2 } = new MessageChannel();
  const worker = makeWorker({ file, counts, port: port2 }, [port2]);
  // Nobody listens to it: this thread is busy, and asks.
  worker.on('error', () => undefined);
  try {
    for (let taken = 0; ; taken += 1) {
      const piece = nextPiece(port1, numbers, taken);
      if (piece === null) {
        yield stopped;
        return;
      }
      Atomics.store(numbers, TAKEN, taken + 1);
      Atomics.notify(numbers, TAKEN);
      onShare(piece.share);
      yield* piece.lines;
      if (piece.isLast) return;
    }
  } finally {
    port1.close();
    void worker.terminate();
  }
}

function nextPiece(port: MessagePort, numbers: Int32Array, taken: number): Piece | null {
  for (;;) {
    const message: { readonly message: Piece } | undefined = receiveMessageOnPort(port);
    if (message !== undefined) return message.message;
    if (Atomics.wait(numbers, GIVEN, taken, PATIENCE_MS) === 'timed-out') return null;
  }
}

const stopped: Problem = {
  code: 'reading-stopped',
  exit: 70,
  message: 'Reading the file stopped. Import it again; nothing was taken in.',
};
