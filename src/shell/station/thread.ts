// Starts the thread that exchanges with the house's server, and passes words to it and from it.
import type { Problem } from '../../domain/value/problem.ts';
import type { ExchangeStatus } from '../../store/station.ts';
import { makeWorker } from '../thread/make.ts';

export type ToThread = 'wake' | 'leave';
export type FromThread =
  | { readonly status: ExchangeStatus; readonly taken: number; readonly lostThere: number }
  | { readonly problem: Problem }
  | 'left';

export type Heard = {
  readonly onRound: (status: ExchangeStatus, taken: number, lostThere: number) => void;
  readonly onStopped: (message: string) => void;
};

export type ExchangeThread = {
  readonly wake: () => void;
  /** Lets it bring the last things over, but not for longer than that. */
  readonly leave: (patienceMs: number) => Promise<void>;
};

export function startThread(folder: string, { onRound, onStopped }: Heard): ExchangeThread {
  const worker = makeWorker({ folder });
  let isOver = false;
  const over = new Promise<void>((resolve) => {
    worker.on('message', (message: FromThread) => {
      if (message === 'left') resolve();
      else if ('problem' in message) onStopped(message.problem.message);
      else onRound(message.status, message.taken, message.lostThere);
    });
    worker.on('error', (error: Error) =>
      onStopped(`The exchange with the server stopped (${error.message.slice(0, 80)}).`),
    );
    worker.on('exit', () => {
      isOver = true;
      resolve();
    });
  });
  const tell = (message: ToThread): void => {
    if (!isOver) worker.postMessage(message);
  };
  return {
    wake: () => tell('wake'),
    leave: async (patienceMs) => {
      tell('leave');
      await Promise.race([over, new Promise((resolve) => setTimeout(resolve, patienceMs).unref())]);
      await worker.terminate();
    },
  };
}
