// The one measure in which two specs differ, as a person says it.

import type { Catalogue } from '../../catalogue/catalogue.ts';
import { bareName } from '../../catalogue/item.ts';
import { measureText } from '../measure-text.ts';
import type { Measured } from '../measures.ts';
import type { Difference } from './kin.ts';

/** "30 ml Dry gin → 45 ml Rye". */
export function differenceText(difference: Difference, catalogue: Catalogue): string {
  const text = (line: Measured): string =>
    `${measureText(line, catalogue, catalogue.house.units, 1)} ${bareName(line.item.name)}`;
  if (difference.kind === 'added') return `and ${text(difference.to)}`;
  if (difference.kind === 'left-out') return `without ${text(difference.from)}`;
  return `${text(difference.from)} → ${text(difference.to)}`;
}
