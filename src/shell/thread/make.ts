// Starting a thread of the program: the program in one file carries its text; else it stands beside the program.
import { existsSync } from 'node:fs';
import { getAsset, isSea } from 'node:sea';
import { fileURLToPath } from 'node:url';
import { type Transferable, Worker } from 'node:worker_threads';

export function makeWorker(workerData: object, transferList: readonly Transferable[] = []): Worker {
  const options = { workerData, transferList: [...transferList], stdin: false, stdout: true, stderr: true };
  if (isSea()) return new Worker(getAsset('worker.cjs', 'utf8'), { ...options, eval: true });
  const built = fileURLToPath(new URL('./worker.mjs', import.meta.url));
  return new Worker(existsSync(built) ? built : new URL('./worker.ts', import.meta.url), options);
}
