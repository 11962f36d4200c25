// From stretches between counts to numbers to calculate with.

import type { Item } from '../../catalogue/item.ts';
import type { ShiftBooks } from '../../ledger/books.ts';
import type { PersonId, SpecId } from '../../value/ids.ts';
import type { Stretch } from '../drift.ts';
import type { Bottle } from './bottle.ts';

export type Series = { readonly item: Item; readonly stretches: readonly Stretch[] };

/** What has a spout and is read as a level: only there can pours run over or short. */
export const wasUsed = ({ item, stretches }: Series): boolean =>
  item.unit === 'ml' && item.count !== 'pieces' && stretches.some(({ poured }) => poured > 0);

/** Everyone who poured, by name: their order is never that of their figures. */
export const peopleOf = (series: readonly Series[]): PersonId[] =>
  [...new Set(series.flatMap(({ stretches }) => stretches.flatMap(({ by }) => [...by.keys()])))]
    .filter((name): name is PersonId => name !== '')
    .sort();

/** What is recorded as exact (whole containers, pieces) is believed to a two-hundredth of a container (our decision). */
const LEAST_SHARE = 0.005;

export function bottleOf(
  { item, stretches }: Series,
  people: readonly PersonId[],
  shifts: readonly ShiftBooks[],
  group: string,
): Bottle {
  const nights = new Map(shifts.map(({ id }, index) => [id as string, index]));
  const size = stretches.length;
  const at = (pick: (stretch: Stretch) => number): Float64Array => {
    const out = new Float64Array(size);
    for (let t = 0; t < size; t += 1) out[t] = pick(stretches[t] as Stretch) / 1000;
    return out;
  };
  const from = new Int32Array(size);
  const to = new Int32Array(size);
  const reading: number[] = [];
  const counter: number[] = [];
  const known = (by: PersonId | null): number => (by === null ? -1 : people.indexOf(by));
  const least = (variance: number): number =>
    (variance > 0 ? variance : (LEAST_SHARE * item.size) ** 2) / 1e6;
  stretches.forEach((stretch, t) => {
    if (t > 0 && stretch.follows) from[t] = to[t - 1] as number;
    else {
      from[t] = reading.push(least(stretch.fromVariance)) - 1;
      counter.push(known(stretch.fromBy));
    }
    to[t] = reading.push(least(stretch.toVariance)) - 1;
    counter.push(known(stretch.toBy));
  });
  const specs = new Set(
    stretches.flatMap(({ bySpec }) => [...bySpec.keys()]).filter((spec): spec is SpecId => spec !== ''),
  );
  return {
    id: item.id,
    method: item.unit !== 'ml' || item.count === 'pieces' ? 'pieces' : item.count,
    group,
    size: item.size / 1000,
    night: Int32Array.from(stretches, ({ shift }) => nights.get(shift) ?? 0),
    missing: at(({ missing }) => missing),
    poured: at(({ poured }) => poured),
    by: people.map((name) => at(({ by }) => by.get(name) ?? 0)),
    bySpec: new Map([...specs].map((spec) => [spec, at(({ bySpec }) => bySpec.get(spec) ?? 0)])),
    perDrink: perDrink(item, shifts, specs),
    from,
    to,
    reading: Float64Array.from(reading),
    counter: Int32Array.from(counter),
    own: Float64Array.from(stretches, ({ ownVariance }) => ownVariance / 1e6),
  };
}

/** What a drink of each card took of it on average over the shifts. */
function perDrink(
  item: Item,
  shifts: readonly ShiftBooks[],
  specs: ReadonlySet<SpecId>,
): Map<SpecId, number> {
  const sums = new Map([...specs].map((spec) => [spec, { amount: 0, drinks: 0 }]));
  for (const shift of shifts) {
    for (const [spec, amount] of shift.drawnBy.get(item.id) ?? []) {
      const sum = spec === '' ? undefined : sums.get(spec);
      if (spec === '' || sum === undefined) continue;
      sum.amount += amount / 1000;
      sum.drinks += shift.drinks.get(spec)?.count ?? 0;
    }
  }
  return new Map([...sums].map(([spec, { amount, drinks }]) => [spec, drinks === 0 ? 0 : amount / drinks]));
}

const LARGE_GROUP = 3;

/** Two groups where both are large enough to be told apart: spirits, which are measured alone, and all the rest. */
export function groupsOf(series: readonly Series[]): Map<string, string> {
  const isSpirit = ({ item }: Series): boolean => item.kind.toLowerCase().startsWith('spirit');
  const spirits = series.filter(isSpirit).length;
  const split = spirits >= LARGE_GROUP && series.length - spirits >= LARGE_GROUP;
  return new Map(
    series.map((each) => [each.item.id as string, split ? (isSpirit(each) ? 'spirit' : 'other') : 'all']),
  );
}
