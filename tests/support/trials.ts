// Trials of the drift analysis over simulated seasons: one season in, what was said and how far off it was out.
import { cardVerdicts } from '../../src/domain/drift/claim/cards.ts';
import { itemVerdicts } from '../../src/domain/drift/claim/items.ts';
import { bestOf, type Look, lookAt, truthOf } from './looks.ts';
import { makeSeason, type Plant, type Season, type World } from './worlds.ts';

export type Trial = {
  readonly seed: number;
  /** Looks at which anybody was named who did nothing; looks at which the guilty was. */
  innocents: number[];
  guilty: number[];
  bestGuilty: number[];
  /** Items newly drifting, other than the planted one. */
  alarms: number;
  nights: number;
  items: number;
  cardsNamed: string[];
  found: { drift: number | null; bottleOrCard: boolean; card: boolean; slip: boolean };
  squares: { ours: number; best: number; count: number; covered: number };
};

const planted = (season: Season): string => season.bar.items[season.at.item]?.id ?? '';

function measurePeople(
  trial: Trial,
  season: Season,
  look: Look,
  best: ReturnType<typeof bestOf>,
  last: boolean,
): void {
  const truth = truthOf(season, look);
  const guilty =
    season.plant.kind === 'person' ? look.people.indexOf(season.bar.people[season.at.person] as string) : -1;
  look.analysis.contrasts.forEach((contrast, person) => {
    const above = contrast.estimate > 0 || (contrast.group?.estimate ?? 0) > 0;
    if (contrast.named && person !== guilty && !trial.innocents.includes(look.nights))
      trial.innocents.push(look.nights);
    if (contrast.named && person === guilty && above) trial.guilty.push(look.nights);
    const mine = best[person];
    if (mine === undefined) return;
    if (person === guilty && mine.z > 2.576) trial.bestGuilty.push(look.nights);
    if (!last) return;
    const true_ =
      (truth[person] as number) -
      contrast.against.reduce((sum, other) => sum + (truth[other] as number), 0) / contrast.against.length;
    trial.squares.ours += (contrast.estimate - true_) ** 2;
    trial.squares.best += (mine.estimate - true_) ** 2;
    trial.squares.count += 1;
    if (Math.abs(contrast.estimate - true_) <= 2 * contrast.deviation) trial.squares.covered += 1;
  });
}

/** Looks after each of the nights given, the last of them in full. */
export function tryOut(
  seed: number,
  world: World,
  plant: Plant,
  looks: readonly number[],
  make: 'usual' | 'other' = 'usual',
): Trial {
  const season = makeSeason(seed, world, plant, Math.max(...looks), make);
  const trial: Trial = {
    seed,
    innocents: [],
    guilty: [],
    bestGuilty: [],
    alarms: 0,
    nights: Math.max(...looks),
    items: season.bar.items.length,
    cardsNamed: [],
    found: { drift: null, bottleOrCard: false, card: false, slip: false },
    squares: { ours: 0, best: 0, count: 0, covered: 0 },
  };
  let drifting = new Set<string>();
  const last = looks.at(-1) as number;
  for (const nights of looks) {
    const look = lookAt(season, nights);
    const needsBest = nights === last || (plant.kind === 'person' && (nights === 15 || nights === 30));
    measurePeople(trial, season, look, needsBest ? bestOf(season, look) : [], nights === last);
    const cards = cardVerdicts(look.bottles, look.analysis);
    const verdicts = itemVerdicts(look.bottles, look.analysis, cards);
    const isMine = (id: string): boolean =>
      (plant.kind === 'spout' && id === planted(season)) ||
      (plant.kind === 'card' && season.at.parts.some((part) => season.bar.items[part]?.id === id));
    const now = new Set(
      look.bottles.filter((_, index) => verdicts[index]?.state === 'drifting').map(({ id }) => id),
    );
    for (const id of now) if (!drifting.has(id) && !isMine(id)) trial.alarms += 1;
    drifting = now;
    for (const { spec, named } of cards)
      if (named && !trial.cardsNamed.includes(spec)) trial.cardsNamed.push(spec);
    look.bottles.forEach(({ id }, index) => {
      const state = verdicts[index]?.state;
      if (
        plant.kind === 'spout' &&
        id === planted(season) &&
        nights > plant.from &&
        trial.found.drift === null &&
        state === 'drifting'
      )
        trial.found.drift = nights - plant.from;
      if (plant.kind === 'slip' && id === planted(season) && nights === plant.night + 2)
        trial.found.slip =
          verdicts[index]?.slips.some(
            ({ stretch, containers }) => stretch === plant.night && containers === 1,
          ) === true && state !== 'drifting';
      if (
        plant.kind === 'card' &&
        nights === last &&
        isMine(id) &&
        (state === 'drifting' || state === 'not-told-apart')
      )
        trial.found.bottleOrCard = true;
    });
    if (plant.kind === 'card' && nights === last) {
      trial.found.card = cards.some(
        ({ spec, named }) => named && spec === season.bar.cards[season.at.card]?.id,
      );
      if (trial.found.card) trial.found.bottleOrCard = true;
    }
  }
  return trial;
}
