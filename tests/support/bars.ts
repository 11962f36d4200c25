// Invented bars for simulated seasons: items, cards, people, who works when and who counts. Two makes, so that nothing is fitted
// to one of them: the usual bar (30 items, 5 people), and others whose numbers are drawn anew from each seed.
import type { Item } from '../../src/domain/catalogue/item.ts';
import type { Random } from './random.ts';

export type CardPlan = {
  readonly id: string;
  readonly weight: number;
  readonly parts: readonly (readonly [item: number, ml: number])[];
};

export type Bar = {
  readonly items: readonly Item[];
  readonly cards: readonly CardPlan[];
  readonly people: readonly string[];
  /** Who pours on each night, and who counts at its end; the count before the first night is by the first of them. */
  readonly rota: readonly { readonly on: readonly number[]; readonly counter: number }[];
  readonly drinksEach: number;
  /** Every how many nights an item is counted. */
  readonly every: readonly number[];
};

type Kind = {
  readonly kind: string;
  readonly count: Item['count'];
  readonly size: number;
  readonly abv: number | null;
};

const itemOf = (index: number, { kind, count, size, abv }: Kind): Item => ({
  id: `i${String(index).padStart(2, '0')}` as Item['id'],
  name: `Item ${index}`,
  also: [],
  kind,
  unit: 'ml',
  size: size * 1000,
  sizeText: `${size} ml`,
  tareMilligrams: 480_000,
  abvPercent: abv,
  sugarGramsPerLitre: kind === 'spirit' ? null : 200,
  costMinor: 2000,
  caseOf: 6,
  place: 'bar',
  shelf: String(index),
  par: null,
  count,
  allergens: [],
  caution: '',
});

const spirit = (count: Item['count'], size = 700): Kind => ({ kind: 'spirit', count, size, abv: 40 });
const other = (kind: string, count: Item['count'], size = 700): Kind => ({
  kind,
  count,
  size,
  abv: kind === 'juice' ? null : 20,
});

const measures: Readonly<Record<string, readonly number[]>> = {
  spirit: [40, 45, 50, 60],
  liqueur: [15, 20, 25, 30],
  wine: [20, 30, 45],
  juice: [20, 25, 30],
  syrup: [10, 15, 20],
};

const pick = <T>(random: Random, list: readonly T[]): T =>
  list[Math.floor(random.uniform() * list.length)] as T;

/** Cards of two to four parts, every item on at least one; some are asked for far more than others. */
function cardsOf(random: Random, items: readonly Item[], count: number): CardPlan[] {
  const cards = Array.from({ length: count }, (_, index) => {
    const taken = new Set<number>([index % items.length]);
    const spirits = items.flatMap(({ kind }, at) => (kind === 'spirit' ? [at] : []));
    if (items[index % items.length]?.kind !== 'spirit') taken.add(pick(random, spirits));
    const wanted = 2 + Math.floor(random.uniform() * 2.2);
    while (taken.size < wanted) taken.add(Math.floor(random.uniform() * items.length));
    const parts = [...taken].map(
      (at) => [at, pick(random, measures[items[at]?.kind ?? ''] ?? [20])] as const,
    );
    return { id: `c${String(index).padStart(2, '0')}`, weight: Math.exp(0.7 * random.normal()), parts };
  });
  const total = cards.reduce((sum, { weight }) => sum + weight, 0);
  return cards.map((card) => ({ ...card, weight: card.weight / total }));
}

/** Nights of `at least` to `at most` people; some are more often there than others; who counts is one of them, or always one. */
function rotaOf(
  random: Random,
  people: number,
  nights: number,
  [least, most]: readonly [number, number],
  oneCounts: boolean,
): Bar['rota'] {
  const liking = Array.from({ length: people }, () => 0.5 + random.uniform());
  return Array.from({ length: nights }, () => {
    const size = Math.min(people, least + Math.floor(random.uniform() * (most - least + 1)));
    const on = liking
      .map((weight, person) => ({ person, rank: -Math.log(1 - random.uniform()) / weight }))
      .sort((a, b) => a.rank - b.rank)
      .slice(0, size)
      .map(({ person }) => person);
    return { on, counter: oneCounts ? 0 : (on[0] as number) };
  });
}

/** Twenty-four items by tenths, three by 10 ml, three weighed; five people. */
export function usualBar(random: Random, nights: number): Bar {
  const kinds = [
    ...Array.from({ length: 14 }, () => spirit('tenths')),
    ...Array.from({ length: 7 }, () => other('liqueur', 'tenths')),
    ...Array.from({ length: 3 }, () => other('wine', 'tenths', 750)),
    other('juice', 'ml', 1000),
    other('juice', 'ml', 1000),
    other('syrup', 'ml', 1000),
    spirit('grams'),
    spirit('grams'),
    other('liqueur', 'grams'),
  ];
  const items = kinds.map((kind, index) => itemOf(index, kind));
  return {
    items,
    cards: cardsOf(random, items, 32),
    people: ['p0', 'p1', 'p2', 'p3', 'p4'],
    rota: rotaOf(random, 5, nights, [2, 3], random.uniform() < 0.25),
    drinksEach: 18,
    every: items.map(() => 1),
  };
}

/** Another make: 15 to 50 items, 3 to 8 people, fewer or more drinks, some items counted weekly, other mixes of methods. */
export function otherBar(random: Random, nights: number): Bar {
  const between = (low: number, high: number): number =>
    low + Math.floor(random.uniform() * (high - low + 1));
  const count = between(15, 50);
  const precise = random.uniform() * 0.3;
  const items = Array.from({ length: count }, (_, index) => {
    const roll = random.uniform();
    const kind =
      index < 3 || roll < 0.45
        ? 'spirit'
        : roll < 0.65
          ? 'liqueur'
          : roll < 0.75
            ? 'wine'
            : roll < 0.88
              ? 'juice'
              : 'syrup';
    const exact = random.uniform() < precise;
    const method = !exact ? 'tenths' : random.uniform() < 0.5 ? 'ml' : 'grams';
    const size = pick(random, [500, 700, 750, 1000]);
    return itemOf(index, kind === 'spirit' ? spirit(method, size) : other(kind, method, size));
  });
  const people = between(3, 8);
  return {
    items,
    cards: cardsOf(random, items, between(count, 2 * count)),
    people: Array.from({ length: people }, (_, index) => `p${index}`),
    rota: rotaOf(
      random,
      people,
      nights,
      [Math.min(2, people - 1), Math.max(2, Math.min(4, people - 1))],
      random.uniform() < 0.4,
    ),
    drinksEach: between(25, 60),
    every: items.map(() => (random.uniform() < 0.15 ? 7 : 1)),
  };
}
