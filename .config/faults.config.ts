// The long proofs of the fault card: `npm run faults`. Minutes to an hour; figures are printed as they come.
import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: [
      'tests/faults/card/*.proof.ts',
      'tests/faults/damage.test.ts',
      'tests/faults/nothing-in.test.ts',
      'tests/stations/convergence.test.ts',
    ],
    env: { ULLAGE_RUNS: '1000' },
    testTimeout: 3_600_000,
    fileParallelism: false,
    disableConsoleIntercept: true,
  },
});
