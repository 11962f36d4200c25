// Drinks that nobody logged take from all their bottles at once: what goes missing in two items on one night hangs together as far
// as the same cards draw on both. How many there are is learned from just that, and widens what is said of people and cards.
// A variance component by the method of moments on products of different items (score of the likelihood at none; Rao, MINQUE,
// J. Am. Statist. Assoc. 67, 1972: from memory).
import { solveWith, type Vector } from '../fit/band.ts';
import { bandOf } from '../fit/bottle.ts';
import { influenceOf, type SeasonFit } from '../fit/season-fit.ts';

/** Two items that cards have in common, and how much their shocks of a night go together, for one drink in one not logged. */
export type Pair = {
  readonly a: number;
  readonly b: number;
  readonly together: readonly (readonly [ta: number, tb: number, amount: number])[];
};

/** What is thought before anything is known: three drinks in a thousand, as if this many units of precision stood behind it. */
const USUAL = 0.003;
const LIKELY_MOST = 0.05;
/** Stretches farther apart than this have nothing to do with each other any more. */
const NEAR = 12;

export function pairsOf(fit: SeasonFit): Pair[] {
  const bottles = fit.blocks.map(({ input }) => input.bottle);
  return bottles.flatMap((one, a) =>
    bottles.slice(a + 1).flatMap((other, offset): Pair[] => {
      const shared = [...one.bySpec].filter(([spec]) => (other.perDrink.get(spec) ?? 0) > 0);
      if (shared.length === 0) return [];
      const at = new Map(Array.from(other.night, (night, t) => [night, t]));
      const together: [number, number, number][] = [];
      one.night.forEach((night, ta) => {
        const tb = at.get(night);
        if (tb === undefined) return;
        const amount = shared.reduce(
          (sum, [spec, column]) =>
            sum +
            Math.min(
              column[ta] as number,
              ((other.bySpec.get(spec) as Vector)[tb] as number) *
                ((one.perDrink.get(spec) as number) / (other.perDrink.get(spec) as number)),
            ) *
              (other.perDrink.get(spec) as number),
          0,
        );
        if (amount > 0) together.push([ta, tb, amount]);
      });
      return together.length === 0 ? [] : [{ a, b: a + 1 + offset, together }];
    }),
  );
}

/** The share of drinks not logged, from how items of the same cards go missing together. Never below nothing. */
export function notLogged(
  fit: SeasonFit,
  residuals: readonly Vector[],
  pairs: readonly Pair[],
): { share: number; deviation: number } {
  // With the nights that stand out: on a scale a drink not logged is just such a night.
  const bands = fit.blocks.map(({ input: { bottle, scale, marks } }) =>
    bandOf(bottle, scale, {
      reading: marks.widths.reading,
      own: new Float64Array(bottle.own.length).fill(1),
    }),
  );
  const solved = bands.map((band, index) => solveWith(band, residuals[index] as Vector));
  const inverse = bands.map((band) => {
    const size = band.pivot.length;
    return Array.from({ length: size }, (_, t) => {
      const unit = new Float64Array(size);
      unit[t] = 1;
      return solveWith(band, unit);
    });
  });
  let [seen, expected] = [0, 0];
  for (const { a, b, together } of pairs) {
    const [ua, ub] = [solved[a] as Vector, solved[b] as Vector];
    const [ka, kb] = [inverse[a] as Vector[], inverse[b] as Vector[]];
    for (const [index, [ta, tb, amount]] of together.entries()) {
      seen += amount * (ua[ta] as number) * (ub[tb] as number);
      const [rowA, rowB] = [ka[ta] as Vector, kb[tb] as Vector];
      for (let at = Math.max(0, index - NEAR); at < Math.min(together.length, index + NEAR + 1); at += 1) {
        const [sa, sb, other] = together[at] as Pair['together'][number];
        expected += amount * other * (rowA[sa] as number) * (rowB[sb] as number);
      }
    }
  }
  if (expected <= 0) return { share: USUAL, deviation: USUAL };
  return { share: seen / expected, deviation: 1 / Math.sqrt(expected) };
}

/** What drinks not logged add to the variance of a contrast, beside what each item's own scatter holds of them already. */
export function addedVariance(
  fit: SeasonFit,
  pairs: readonly Pair[],
  share: number,
  weights: readonly number[],
): number {
  const influence = fit.blocks.map((_, index) => influenceOf(fit, index, weights));
  let sum = 0;
  for (const { a, b, together } of pairs)
    for (const [ta, tb, amount] of together)
      sum += amount * ((influence[a] as Vector)[ta] as number) * ((influence[b] as Vector)[tb] as number);
  return 2 * share * Math.max(0, sum);
}

/** The learned share drawn towards the usual by how little the figures say. */
export const believedShare = ({ share, deviation }: { share: number; deviation: number }): number => {
  const weight = USUAL ** 2 / (USUAL ** 2 + deviation ** 2);
  return Math.max(0, Math.min(LIKELY_MOST, weight * share + (1 - weight) * USUAL));
};
