// A measure as a card says it, in the unit the house shows.
import type { Books } from './books.ts';
import { jiggerText } from './display.ts';
import type { MeasureUnit } from './house.ts';
import type { Line } from './measures.ts';
import { ratioToNumber } from './ratio.ts';
import { unitScale } from './units.ts';

const round = (value: number, decimals: number): number =>
  Math.round(value * 10 ** decimals) / 10 ** decimals;

/** An amount in the unit the house shows, for a measure given in a volume; dashes and pieces stay as they are. */
export function measureText(line: Line, books: Books, unit: MeasureUnit, times: number): string {
  const { measure, item, amount } = line;
  if (item.unit !== 'ml' || books.house.sizes.has(measure.unit)) {
    const quantity = times === 1 ? measure.quantity : `${times} × ${measure.quantity}`;
    return measure.unit === 'each' ? quantity : `${quantity} ${measure.unit}`;
  }
  if (measure.unit === unit && times === 1) return `${measure.quantity} ${unit}`;
  if (unit === 'oz') return jiggerText(amount * times, books.house);
  const scale = unitScale(unit, books.house);
  const value = scale === null ? amount : (amount * times) / ratioToNumber(scale.perUnit);
  return `${round(value, unit === 'ml' ? 1 : 2)} ${unit}`;
}
