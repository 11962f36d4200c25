// Two years of nights that never were, in the small: the chance that was asked for is met, with less money on the shelf and less thrown away
// than fixed pars take. `npm run bench -- tomorrow` does it with ten and prints the figures.
import { expect, it } from 'vitest';
import { liveThrough, makeYear, type Outcome } from '../../support/year.ts';

const years = [makeYear(11), makeYear(12)];
const mean = (lived: readonly Outcome[], of: keyof Outcome): number =>
  lived.reduce((sum, one) => sum + one[of], 0) / lived.length;

it('runs out about as often as was asked for, for less than fixed pars; somebody who knows does better', () => {
  const [ours, pars, knowing] = (['ours', 'pars', 'knowing'] as const).map((way) =>
    years.map((year) => liveThrough(year, way)),
  ) as [Outcome[], Outcome[], Outcome[]];
  // A tenth of the stretches an order covers, a twentieth of the nights a making is for.
  expect(Math.abs(mean(ours, 'beyondOrders') - 0.1)).toBeLessThan(0.02);
  expect(Math.abs(mean(ours, 'beyondPrep') - 0.05)).toBeLessThan(0.015);
  // Not only on the average of all weekdays: also where it would hurt.
  expect(mean(ours, 'beyondBusy')).toBeLessThan(0.08);
  // Whole cases and makings round up, so that on the night less runs out than that.
  expect(mean(ours, 'outBought')).toBeLessThan(0.02);
  expect(mean(ours, 'outMade')).toBeLessThan(0.03);
  expect(mean(ours, 'shelf')).toBeLessThan(mean(pars, 'shelf'));
  expect(mean(ours, 'thrownAway')).toBeLessThan(mean(pars, 'thrownAway'));
  expect(mean(knowing, 'thrownAway')).toBeLessThan(mean(ours, 'thrownAway'));
  expect(mean(knowing, 'shelf')).toBeLessThan(mean(ours, 'shelf'));
}, 60_000);
