// One look at a simulated season after so many nights: what the analysis says, and what the best possible would say.

import { type Analysis, analyse } from '../../src/domain/drift/claim/analysis.ts';
import { stretchesOf } from '../../src/domain/drift/drift.ts';
import type { Bottle } from '../../src/domain/drift/fit/bottle.ts';
import { bottleOf, groupsOf, peopleOf, type Series, wasUsed } from '../../src/domain/drift/fit/bottles.ts';
import type { Cause } from '../../src/domain/drift/fit/causes.ts';
import { contrastVariance } from '../../src/domain/drift/fit/season-fit.ts';
import type { ItemId, SpecId } from '../../src/domain/value/ids.ts';
import { bestFit, slipsOf, trueBottle } from './best-possible.ts';
import type { Season } from './worlds.ts';

export type Look = {
  readonly nights: number;
  readonly people: readonly string[];
  readonly bottles: readonly Bottle[];
  readonly analysis: Analysis;
  readonly series: readonly Series[];
};

export function lookAt(season: Season, nights: number): Look {
  const shifts = season.shifts.slice(0, nights);
  const series = [...season.books.items.values()]
    .map((item) => ({ item, stretches: stretchesOf(shifts, item, season.books.house) }))
    .filter(wasUsed);
  const people = peopleOf(series);
  const groups = groupsOf(series);
  const bottles = series.map((each) => bottleOf(each, people, shifts, groups.get(each.item.id) ?? 'all'));
  const worked = people.map(
    (name) =>
      new Set(
        series.flatMap(({ stretches }) =>
          stretches.filter(({ by }) => (by.get(name) ?? 0) > 0).map(({ shift }) => shift),
        ),
      ).size >= 10,
  );
  return {
    nights,
    people,
    bottles,
    series,
    analysis: analyse(bottles, people.length, shifts.length, worked),
  };
}

/** What each person truly pours over, as a share of all that they poured. */
export function truthOf(season: Season, { people, bottles }: Look): number[] {
  return people.map((name, person) => {
    const { plant, at, bar } = season;
    if (plant.kind !== 'person' || bar.people[at.person] !== name) return 0;
    let [over, all] = [0, 0];
    for (const { by, group } of bottles) {
      const sum = (by[person] as Float64Array).reduce((a, b) => a + b, 0);
      all += sum;
      if (plant.on === 'all' || group === plant.on) over += plant.share * sum;
    }
    return all === 0 ? 0 : over / all;
  });
}

/** Estimates and deviations of each person against the same others, from the best possible fit. */
export function bestOf(season: Season, look: Look): { estimate: number; deviation: number; z: number }[] {
  const { plant, at, bar } = season;
  const bottles = look.bottles.map((bottle, index) => {
    const series = look.series[index] as Series;
    return trueBottle(bottle, season, look.people, slipsOf(season, series.stretches, series.item.id, bottle));
  });
  const causes: Cause[] = [];
  if (plant.kind === 'spout') {
    const bottle = bottles.find(({ id }) => id === bar.items[at.item]?.id);
    const from = bottle?.night.findIndex((night) => night >= plant.from) ?? -1;
    if (bottle !== undefined && from >= 0) causes.push({ kind: 'bottle', item: bottle.id, from, to: null });
  }
  // Nobody is over who has not worked yet.
  const planted = look.people.indexOf(bar.people[at.person] as string);
  const isOver = plant.kind === 'person' && plant.on !== 'all' && planted >= 0;
  if (isOver) causes.push({ kind: 'group', person: planted, group: plant.on });
  if (plant.kind === 'card')
    for (const part of at.parts)
      causes.push({
        kind: 'measure',
        spec: (bar.cards[at.card]?.id ?? '') as SpecId,
        item: (bar.items[part]?.id ?? '') as ItemId,
      });
  const fit = bestFit(bottles, look.people.length, causes);
  return look.analysis.contrasts.map((contrast, person) => {
    const weights = fit.effects.map((_, index) =>
      index === person ? 1 : contrast.against.includes(index) ? -1 / contrast.against.length : 0,
    );
    const strict = [...weights];
    if (isOver) {
      const last = fit.effects.length - 1;
      const share = shareOf(look.bottles, planted, plant.on);
      weights[last] = (weights[planted] as number) * share;
      strict[last] = weights[planted] as number;
    }
    const value = (w: readonly number[]) =>
      w.reduce((sum, weight, index) => sum + weight * (fit.effects[index] as number), 0);
    const estimate = value(weights);
    const deviation = Math.sqrt(contrastVariance(fit, weights));
    return {
      estimate,
      deviation,
      z: Math.max(estimate / deviation, value(strict) / Math.sqrt(contrastVariance(fit, strict))),
    };
  });
}

function shareOf(bottles: readonly Bottle[], person: number, group: string): number {
  let [part, all] = [0, 0];
  for (const bottle of bottles) {
    const sum = (bottle.by[person] as Float64Array).reduce((a, b) => a + b, 0);
    all += sum;
    if (bottle.group === group) part += sum;
  }
  return part / all;
}
