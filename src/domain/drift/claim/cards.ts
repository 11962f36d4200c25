// Which card takes more than it says: named when it is ahead of every bottle, card and person that would explain the same.

import { adjustFalseDiscovery } from '../../standard/charts.ts';
import { normalTail } from '../../standard/normal.ts';
import type { ItemId, SpecId } from '../../value/ids.ts';
import type { Bottle } from '../fit/bottle.ts';
import { type Cause, columnOf } from '../fit/causes.ts';
import type { Analysis } from './analysis.ts';
import { type Claim, MARGIN } from './claims.ts';

export type CardVerdict = {
  readonly spec: SpecId;
  readonly share: number;
  readonly deviation: number;
  readonly items: readonly ItemId[];
  readonly named: boolean;
  /** How far ahead of the next best explanation, as log odds; null when there is none within reach. */
  readonly rivals: readonly Cause[];
};

/** Log odds from which a card is named: a hundred to one. */
const NAMED = 4.6;
/** Below this share of its measure nothing is said of a card. */
const WORTH_SAYING = 0.03;
const FALSE_DISCOVERY = 0.01;

const specOf = (cause: Cause): string | null =>
  cause.kind === 'card' || cause.kind === 'measure' ? cause.spec : null;

/**
 * Is the card ahead of what else would explain the same? One card in two measures stands against two bottles that would have to
 * be at fault at once: what speaks for each is added up.
 */
function isAhead(list: readonly Claim[], spec: SpecId): boolean {
  const behind = list.map(({ odds, rivals }) => {
    const other = Math.max(
      0,
      ...rivals.filter(({ cause }) => specOf(cause) !== spec).map((rival) => rival.odds),
    );
    return { odds, other };
  });
  const ahead = behind.reduce((sum, { odds, other }) => sum + odds - other, 0);
  return ahead >= MARGIN;
}

export function cardVerdicts(bottles: readonly Bottle[], { claims }: Analysis): CardVerdict[] {
  const specs = new Set(bottles.flatMap(({ bySpec }) => [...bySpec.keys()]));
  const mine = [...specs].map((spec) => claims.filter(({ cause }) => specOf(cause) === spec));
  const q = adjustFalseDiscovery(
    mine.map((list) =>
      Math.min(1, ...list.map(({ gain }) => normalTail((gain.estimate - WORTH_SAYING) / gain.deviation))),
    ),
  );
  return [...specs].flatMap((spec, index) => {
    const list = mine[index] as Claim[];
    const first = list[0];
    if (first === undefined) return [];
    const rivals = first.rivals.map(({ cause }) => cause).filter((cause) => specOf(cause) !== spec);
    const items = bottles
      .filter((bottle) => list.some(({ cause }) => columnOf(cause, bottle) !== null))
      .map(({ id }) => id);
    return [
      {
        spec,
        share: first.gain.estimate,
        deviation: first.gain.deviation,
        items,
        rivals,
        named:
          (q[index] as number) <= FALSE_DISCOVERY &&
          list.some(({ odds }) => odds >= NAMED) &&
          isAhead(list, spec),
      },
    ];
  });
}
