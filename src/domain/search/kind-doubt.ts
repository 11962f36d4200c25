// A kind of item that looks like another one spelt wrong: kept as it is written, and asked about.
import type { Catalogue } from '../catalogue/catalogue.ts';
import type { Item } from '../catalogue/item.ts';
import { nearestNames } from './nearest.ts';

/** The kinds the program itself knows by name; a house may have others. */
const known = [
  'spirit',
  'liqueur',
  'bitters',
  'wine',
  'fortified',
  'beer',
  'cider',
  'juice',
  'syrup',
  'mixer',
  'egg',
  'herb',
  'fruit',
  'dairy',
  'garnish',
  'other',
];

export const isKnownKind = (kind: string): boolean => known.includes(kind);

/** What to ask about the kinds of items just written: of each that no other item has, and that looks like one that is known. */
export function kindDoubts(written: readonly Item[], { items }: Catalogue): string[] {
  const users = new Map<string, number>();
  for (const { kind } of items.values()) users.set(kind, (users.get(kind) ?? 0) + 1);
  // Two of a kind are no slip of the finger.
  const kinds = [...new Set([...known, ...[...users].flatMap(([kind, count]) => (count > 1 ? [kind] : []))])];
  return written.flatMap(({ name, kind }) => {
    if (kinds.includes(kind)) return [];
    const near = nearestNames(kind, kinds).find(
      (one) => one[0] === kind[0] && Math.abs(one.length - kind.length) <= 2,
    );
    return near === undefined
      ? []
      : [`${name}: the kind "${kind}" is new here, and kept as written. Did you mean ${near}?`];
  });
}
