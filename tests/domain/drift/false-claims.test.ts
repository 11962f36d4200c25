// What made the trends accuse falsely (D1 to D7), each as a season of its own: read as text, folded, reported.
import { describe, expect, it } from 'vitest';
import { type DriftReport, driftReport } from '../../../src/domain/drift/drift-report.ts';
import { makeSeason, type Plant, type Season, type World, worlds } from '../../support/worlds.ts';

const seeds = [11, 12, 13, 14];
const none: Plant = { kind: 'none' };
const report = (season: Season, nights = season.shifts.length): DriftReport =>
  driftReport(season.books, season.shifts.slice(0, nights));
const named = ({ people }: DriftReport): string[] =>
  people.filter(({ state }) => state === 'differs').map(({ person }) => person);
const drifting = ({ items }: DriftReport): string[] =>
  items.filter(({ chart }) => chart.state === 'drifting').map(({ item }) => item.id);
const idAt = (season: Season, item: number): string => season.bar.items[item]?.id ?? '';

/** Clean seasons of a world: who is named and what drifts, all of them together. */
function clean(world: World): { people: string[]; items: string[] } {
  const all = seeds.map((seed) => report(makeSeason(seed, world, none)));
  return { people: all.flatMap(named), items: all.flatMap(drifting) };
}

describe('clean seasons', () => {
  it('D1: a reading by tenths of 2.0 is not exact, and does not outvote all others', () => {
    expect(clean(worlds.assumed)).toEqual({ people: [], items: [] });
  });

  it('D3: four drinks in a thousand not logged name nobody', () => {
    expect(clean({ ...worlds.assumed, unlogged: 0.004 }).people).toEqual([]);
  });

  it('D4: an eye worse than the assumed tenth raises no alarms', () => {
    expect(clean({ ...worlds.assumed, eye: 0.02, bias: 0.01 })).toEqual({ people: [], items: [] });
  });

  it('a bar as bars are names nobody, and next to no bottle', () => {
    const { people, items } = clean(worlds.real);
    expect(people).toEqual([]);
    expect(items.length).toBeLessThanOrEqual(1);
  });
});

describe('D2: one slip of a bottle', () => {
  it.each(seeds)('is told as a slip from the next count on, and is nobody’s (season %i)', (seed) => {
    const season = makeSeason(seed, worlds.assumed, { kind: 'slip', night: 30 });
    const slipped = idAt(season, season.at.item);
    for (const nights of [32, 40, 60]) {
      const said = report(season, nights);
      expect(named(said)).toEqual([]);
      expect(drifting(said)).toEqual([]);
      const item = said.items.find(({ item: { id } }) => id === slipped);
      expect(item?.chart.state).toBe('slip');
      expect(item?.slips).toEqual([
        expect.objectContaining({ date: season.shifts[30]?.date, containers: 1 }),
      ]);
    }
  });
});

describe('one person over', () => {
  it.each(seeds)('D5: a tenth too much of everything names no card (season %i)', (seed) => {
    const season = makeSeason(seed, worlds.real, { kind: 'person', share: 0.1, on: 'all' });
    const said = report(season);
    expect(said.specs).toEqual([]);
    expect(named(said)).toEqual([season.bar.people[season.at.person]]);
  });

  it.each(seeds)(
    'D6: a tenth too much of spirits leaves the innocent like the others (season %i)',
    (seed) => {
      const season = makeSeason(seed, worlds.assumed, { kind: 'person', share: 0.1, on: 'spirit' });
      const said = report(season);
      const guilty = season.bar.people[season.at.person] as string;
      expect(named(said)).toEqual([guilty]);
      for (const { person, against } of said.people)
        if (person !== guilty) expect(against).not.toContain(guilty);
    },
  );
});

describe('D7', () => {
  it('a card that is wrong in one measure shows as the card or as the bottle, never as a person', () => {
    let found = 0;
    for (const seed of seeds) {
      const season = makeSeason(seed, worlds.real, { kind: 'card', share: 0.25, measures: 1 });
      const said = report(season);
      expect(named(said)).toEqual([]);
      const bottle = said.items.find(({ item }) => item.id === idAt(season, season.at.parts[0] as number));
      const isBottle = bottle?.chart.state === 'drifting' || bottle?.chart.state === 'not-told-apart';
      if (isBottle || said.specs.some(({ spec }) => spec === season.bar.cards[season.at.card]?.id))
        found += 1;
    }
    expect(found).toBe(seeds.length);
  });

  it('a card that is wrong in two measures is named', () => {
    const said = seeds.map((seed) => {
      const season = makeSeason(seed, worlds.real, { kind: 'card', share: 0.25, measures: 2 });
      return report(season).specs.some(({ spec }) => spec === season.bar.cards[season.at.card]?.id);
    });
    expect(said.filter(Boolean).length).toBeGreaterThanOrEqual(3);
  });

  it('a bottle gone on one night is one night, not a drift', () => {
    const season = makeSeason(15, worlds.assumed, { kind: 'gone', night: 40 });
    const said = report(season);
    const item = said.items.find(({ item: { id } }) => id === idAt(season, season.at.item));
    expect(item?.chart.state).toBe('one-night');
    expect(item?.nights.map(({ date }) => date)).toEqual([season.shifts[40]?.date]);
    expect(drifting(said)).toEqual([]);
  });
});

it('a spout that runs over from one night on is found, and nobody is named for it', () => {
  for (const seed of seeds) {
    const season = makeSeason(seed, worlds.real, { kind: 'spout', share: 0.15, from: 30 });
    const said = report(season);
    expect(drifting(said)).toContain(idAt(season, season.at.item));
    expect(named(said)).toEqual([]);
  }
});
