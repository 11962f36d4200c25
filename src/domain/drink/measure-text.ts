// A measure as a card says it, in the unit the house shows.

import type { Catalogue } from '../catalogue/catalogue.ts';
import { jiggerText } from '../catalogue/display.ts';
import type { MeasureUnit } from '../catalogue/house.ts';
import { amountOf, unitScale } from '../catalogue/units.ts';
import { storedQuantity } from '../value/number.ts';
import { ratioToNumber } from '../value/ratio.ts';
import type { Line } from './measures.ts';

const round = (value: number, decimals: number): number =>
  Math.round(value * 10 ** decimals) / 10 ** decimals;

/** An amount in the unit the house shows, for a measure given in a volume; dashes and pieces stay as they are. */
export function measureText(line: Line, catalogue: Catalogue, unit: MeasureUnit, times: number): string {
  const { measure, item } = line;
  const liquid = liquidAmount(line, catalogue);
  const amount = liquid ?? line.amount;
  if ((item.unit !== 'ml' && liquid === null) || catalogue.house.sizes.has(measure.unit)) {
    const quantity = times === 1 ? measure.quantity : `${times} × ${measure.quantity}`;
    return measure.unit === 'each' ? quantity : `${quantity} ${measure.unit}`;
  }
  if (measure.unit === unit && times === 1) return `${measure.quantity} ${unit}`;
  if (unit === 'oz') return jiggerText(amount * times, catalogue.house);
  const scale = unitScale(unit, catalogue.house);
  const value = scale === null ? amount : (amount * times) / ratioToNumber(scale.perUnit);
  return `${round(value, unit === 'ml' ? 1 : 2)} ${unit}`;
}

/** For a measure of a fruit's juice: the juice, thousandths of a ml; null for anything else. */
function liquidAmount({ measure, item }: Line, catalogue: Catalogue): number | null {
  if (item.unit !== 'each') return null;
  const quantity = storedQuantity(measure.quantity);
  const scaled = quantity === null ? null : amountOf(quantity, measure.unit, catalogue.house);
  return scaled?.unit === 'ml' ? scaled.amount : null;
}

/** What a measure is of, as the card says it: "lime juice" where limes give it. */
export function measureName(line: Line, catalogue: Catalogue): string {
  const liquid =
    liquidAmount(line, catalogue) === null
      ? undefined
      : line.item.yields?.find((entry) => entry.unit === 'ml');
  return liquid === undefined ? line.item.name : `${line.item.name} ${liquid.of}`;
}
