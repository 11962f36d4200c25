// Water that ice adds. Arnold, Liquid Intelligence, W. W. Norton 2014, p. 123 (published, seen second-hand; copies
// disagree on the sign of the first term of the shaken formula: only minus reproduces the book's own drinks).

import type { Spec } from '../catalogue/spec.ts';
import { ethanolOf, type Liquid, totalMl } from './liquid.ts';
import type { Measured } from './measures.ts';

export type DilutionMethod = 'shake' | 'stir';
export type Dilution = {
  readonly method: DilutionMethod;
  readonly addedMl: number;
  readonly finalMl: number;
  readonly finalAbvPercent: number;
  /** How far the added water may be off, ml: ±3 points shaken, ±8 stirred (a judgement after the same source). */
  readonly addedUncertaintyMl: number;
};

/** Strengths the formulas were fitted on, as fractions; outside they are not used. */
export const dilutionRange = { low: 0.15, high: 0.45 } as const;
const points = { shake: 0.03, stir: 0.08 } as const;

/**
 * Water added as a ratio to the initial volume, from the strength of the undiluted mix (a fraction).
 * Valid for 0.15 to 0.45; @throws RangeError outside.
 */
export function dilutionRatio(method: DilutionMethod, strength: number): number {
  if (!(strength >= dilutionRange.low && strength <= dilutionRange.high)) {
    throw new RangeError('the dilution formulas hold from 15 to 45 % by volume');
  }
  return method === 'shake'
    ? -1.567 * strength ** 2 + 1.742 * strength + 0.203
    : -1.21 * strength ** 2 + 1.246 * strength + 0.145;
}

/** How a spec is chilled, from its method text; null when it is neither shaken nor stirred. */
export function dilutionMethod(method: string): DilutionMethod | null {
  if (/\bshake\b|\bshaken\b/i.test(method)) return 'shake';
  return /\bstir\b|\bstirred\b/i.test(method) ? 'stir' : null;
}

/** Measures that join after the ice has done its work: units of topping, and what the method says to top with. */
function isAdded(line: Measured, method: string): boolean {
  if (line.measure.unit === 'top' || line.measure.unit === 'rinse') return true;
  const clause = /\b(?:top(?:ped)?(?: up)? with|float) ([^;.]+)/i.exec(method)?.[1]?.toLowerCase() ?? '';
  const names = [line.item.name, ...line.item.also].map((name) => name.toLowerCase());
  return (
    clause !== '' &&
    names.some(
      (name) =>
        clause.includes(name) || name.split(' ').some((word) => word.length > 3 && clause.includes(word)),
    )
  );
}

/** Dilution of a spec's liquid measures; null when no formula fits its method or its strength. */
export function dilute(spec: Spec, liquids: readonly Liquid[]): Dilution | null {
  const method = dilutionMethod(spec.method);
  if (method === null) return null;
  const worked = liquids.filter((line) => !isAdded(line, spec.method));
  const volume = totalMl(worked);
  const strength = volume === 0 ? 0 : ethanolOf(worked) / volume;
  if (strength < dilutionRange.low || strength > dilutionRange.high) return null;
  const addedMl = volume * dilutionRatio(method, strength);
  const finalMl = totalMl(liquids) + addedMl;
  return {
    method,
    addedMl,
    finalMl,
    finalAbvPercent: (ethanolOf(liquids) / finalMl) * 100,
    addedUncertaintyMl: volume * points[method],
  };
}
