// Ten years of orders and makings against fixed pars and against somebody who knows: nights something ran out, how often the nights took more
// than was aimed at (against the chance that was asked for), money on the shelf, money thrown away.
import { liveThrough, makeYear, type Outcome, type Way } from '../support/year.ts';
import type { Figure } from './run.ts';

const YEARS = 10;
const ways: readonly Way[] = ['ours', 'pars', 'knowing'];
const asked = [
  { z: 1.28, chance: 0.95, beyondOrders: 0.1, beyondPrep: 0.05 },
  { z: 1.65, chance: 0.9, beyondOrders: 0.05, beyondPrep: 0.1 },
] as const;

export function* tomorrowBench(): Iterable<Figure> {
  const years = Array.from({ length: YEARS }, (_, at) => makeYear(7000 + at));
  for (const { z, chance, ...beyond } of asked)
    for (const way of ways) {
      const lived = years.map((year) => liveThrough(year, way, { z, chance }));
      const mean = (of: keyof Outcome): number => lived.reduce((sum, one) => sum + one[of], 0) / YEARS;
      const figure = (name: string, value: number, unit: string, floor: number | null): Figure => ({
        name: `tomorrow, z ${z}, chance ${chance}, ${way}: ${name}`,
        value: Math.round(value * 1000) / 1000,
        unit,
        floor,
        ratio: floor === null ? null : Math.round((value / floor) * 100) / 100,
      });
      yield figure('ran out, bought', mean('outBought'), 'share of item-nights', null);
      yield figure('ran out, made', mean('outMade'), 'share of item-nights', null);
      yield figure('on the shelf', mean('shelf'), 'money', null);
      yield figure('thrown away', mean('thrownAway'), 'money a year', null);
      if (way !== 'ours') continue;
      yield figure(
        'beyond an order',
        mean('beyondOrders'),
        'share, against what was asked for',
        beyond.beyondOrders,
      );
      yield figure(
        'beyond a making',
        mean('beyondPrep'),
        'share, against what was asked for',
        beyond.beyondPrep,
      );
      yield figure(
        'beyond a making, Fridays and Saturdays',
        mean('beyondBusy'),
        'share, against what was asked for',
        beyond.beyondPrep,
      );
    }
}
