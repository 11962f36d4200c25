// Where a thread of the program begins: beside the rooms it exchanges with a server, beside an import it reads a long file.
import { workerData } from 'node:worker_threads';
import { type Reading, readAhead } from './read-ahead.ts';

if ('file' in workerData) readAhead(workerData as Reading);
// The client of a server is loaded by nobody who only reads.
else
  void import('../station/work.ts').then(({ exchangeBeside }) =>
    exchangeBeside(workerData as { readonly folder: string }),
  );
