// What the drinks of one family are like in this house: a new one beside them.
import { type Catalogue, specsInUse } from '../../catalogue/catalogue.ts';
import type { SpecId } from '../../value/ids.ts';
import { drinkFigures } from '../drink.ts';

export type FamilyRange = {
  readonly count: number;
  /** Strength as served, %, and sugar in grams per litre of what is measured: least and most. */
  readonly strength: readonly [number, number];
  readonly sugar: readonly [number, number];
};

/** The range of a family but for one card; null when it has no other. */
export function familyRange(family: string, catalogue: Catalogue, but: SpecId | null): FamilyRange | null {
  const figures = specsInUse(catalogue)
    .filter((spec) => spec.family !== '' && spec.family === family && spec.id !== but)
    .flatMap((spec) => {
      const read = drinkFigures(spec, catalogue);
      return read.ok && read.value.abvPercent !== null && read.value.volumeMl > 0 ? [read.value] : [];
    });
  if (figures.length === 0) return null;
  const strengths = figures.map(({ dilution, abvPercent }) => dilution?.finalAbvPercent ?? abvPercent ?? 0);
  const sugars = figures.map(({ sugarGrams, volumeMl }) => (sugarGrams / volumeMl) * 1000);
  return { count: figures.length, strength: ends(strengths), sugar: ends(sugars) };
}

const ends = (values: readonly number[]): [number, number] => [Math.min(...values), Math.max(...values)];
