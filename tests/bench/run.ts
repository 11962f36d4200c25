// `npm run bench [-- NAME…]`: one JSON line a figure. It prints ratios and never fails on time.

import { driftBench } from './drift.ts';
import { framesBench, startBench } from './frames.ts';
import { closingBench } from './history.ts';
import { keysPerDrinkBench } from './keys-per-drink.ts';
import { periodsBench } from './periods.ts';
import { searchBench } from './search.ts';
import { stationsBench } from './stations.ts';
import { tomorrowBench } from './tomorrow.ts';

export type Figure = {
  readonly name: string;
  readonly value: number;
  readonly unit: string;
  readonly floor: number | null;
  readonly ratio: number | null;
};

const benches: Readonly<Record<string, () => Promise<Figure[]> | Iterable<Figure>>> = {
  keys: keysPerDrinkBench,
  start: startBench,
  frames: framesBench,
  search: searchBench,
  periods: periodsBench,
  drift: driftBench,
  tomorrow: tomorrowBench,
  history: closingBench,
  stations: stationsBench,
};

const wanted = process.argv.slice(2);
for (const [name, bench] of Object.entries(benches)) {
  if (wanted.length > 0 && !wanted.includes(name)) continue;
  for (const figure of await bench()) process.stdout.write(`${JSON.stringify(figure)}\n`);
}
process.exit(0);
