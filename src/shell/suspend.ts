// ^Z and fg: the terminal is given to the shell and taken again. Ink has no part for the signals, so they are ours.
import { setTimeout as wait } from 'node:timers/promises';
import type { HandOver } from '../app/frame.tsx';

/** So long we wait for the stop to come; where no shell does job control it never does, and we go on. */
const NO_SHELL_MS = 300;

export type Suspender = { readonly suspend: () => void; readonly stopWatching: () => void };

export function makeSuspend(handOver: () => HandOver | null): Suspender {
  let isOut = false;
  /** Runs work while the shell has the terminal. */
  const away = (work: () => Promise<void>): void => {
    const give = handOver();
    if (isOut || give === null) return;
    isOut = true;
    give(work)
      .catch(() => undefined) // the rooms were left meanwhile: the terminal is the shell's already
      .finally(() => {
        isOut = false;
      });
  };
  const suspend = (): void =>
    away(async () => {
      process.off('SIGTSTP', suspend);
      const back = new Promise<void>((resolve) => process.once('SIGCONT', () => resolve()));
      // A timer keeps the process from ending while nothing listens to the keyboard.
      const keep = setInterval(() => undefined, 60_000);
      // The whole job stops: the launcher and npm in front of us too, or the shell would not get its turn.
      process.kill(0, 'SIGTSTP');
      await Promise.race([back, wait(NO_SHELL_MS)]);
      clearInterval(keep);
      process.on('SIGTSTP', suspend);
    });
  /** After a bare stop and continue the shell has set the terminal its own way: take it again. */
  const repair = (): void => away(async () => undefined);
  process.on('SIGCONT', repair);
  // A stop from outside gives the terminal back as ^Z does.
  process.on('SIGTSTP', suspend);
  const stopWatching = (): void => {
    process.off('SIGCONT', repair);
    process.off('SIGTSTP', suspend);
  };
  return { suspend, stopWatching };
}
