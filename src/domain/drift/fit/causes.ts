// What may lie behind missing liquid, each as a column of numbers per item: what it would take if it took all of what was poured.
import type { ItemId, SpecId } from '../../value/ids.ts';
import type { Vector } from './band.ts';
import type { Bottle } from './bottle.ts';

export type Cause =
  /** A card that takes more than it says, in all its measures by the same share. */
  | { readonly kind: 'card'; readonly spec: SpecId }
  /** A card in one of its measures. */
  | { readonly kind: 'measure'; readonly spec: SpecId; readonly item: ItemId }
  /** A person in one group of items. */
  | { readonly kind: 'group'; readonly person: number; readonly group: string }
  /** One night in all items. */
  | { readonly kind: 'night'; readonly night: number }
  /** A bottle from one stretch on, up to another when it ended. */
  | { readonly kind: 'bottle'; readonly item: ItemId; readonly from: number; readonly to: number | null };

/** A cause of one item lives with the item; the others run through several. */
export const isLocal = ({ kind }: Cause): boolean => kind === 'bottle' || kind === 'measure';

/** The column of a cause in one item; null when it has no part in it. */
export function columnOf(cause: Cause, bottle: Bottle): Vector | null {
  switch (cause.kind) {
    case 'card':
      return bottle.bySpec.get(cause.spec) ?? null;
    case 'measure':
      return cause.item === bottle.id ? (bottle.bySpec.get(cause.spec) ?? null) : null;
    case 'group':
      return cause.group === bottle.group ? (bottle.by[cause.person] ?? null) : null;
    case 'night': {
      const at = bottle.night.indexOf(cause.night);
      if (at < 0) return null;
      return bottle.poured.map((value, t) => (t === at ? value : 0));
    }
    case 'bottle': {
      if (cause.item !== bottle.id) return null;
      if (cause.from === 0 && cause.to === null) return bottle.poured;
      const end = cause.to ?? bottle.poured.length;
      return bottle.poured.map((value, t) => (t >= cause.from && t < end ? value : 0));
    }
  }
}
