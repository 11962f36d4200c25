// A measure as a card says it, in the unit the house shows.

import type { Catalogue } from '../catalogue/catalogue.ts';
import { jiggerText } from '../catalogue/display.ts';
import type { MeasureUnit } from '../catalogue/house.ts';
import { amountOf, unitScale } from '../catalogue/units.ts';
import { storedQuantity } from '../value/number.ts';
import { ratioToNumber } from '../value/ratio.ts';
import type { Measured } from './measures.ts';

const round = (value: number, decimals: number): number =>
  Math.round(value * 10 ** decimals) / 10 ** decimals;

/** Whether a measure is counted in its own unit, as dashes and leaves are, and not said as a volume. */
const isCounted = (line: Measured, catalogue: Catalogue): boolean =>
  (line.item.unit !== 'ml' && liquidAmount(line, catalogue) === null) ||
  catalogue.house.sizes.has(line.measure.unit);

const irregular: Readonly<Record<string, string>> = { dash: 'dashes', leaf: 'leaves', pinch: 'pinches' };

/** "dash" of one and less, "dashes" of more. */
const unitWord = (unit: string, quantity: number): string =>
  quantity <= 1 || unit === 'ml' || unit === 'cl' || unit === 'oz' || unit === 'g' || unit.endsWith('s')
    ? unit
    : (irregular[unit] ?? `${unit}s`);

const quantityOf = ({ quantity }: Measured['measure']): number => {
  const read = storedQuantity(quantity);
  return read === null ? 0 : ratioToNumber(read);
};

/** An amount in the unit the house shows, for a measure given in a volume; dashes and pieces stay as they are. */
export function measureText(line: Measured, catalogue: Catalogue, unit: MeasureUnit, times: number): string {
  const { measure } = line;
  if (!isCounted(line, catalogue) && measure.unit === unit && times === 1)
    return `${measure.quantity} ${unit}`;
  return sumText([{ line, times }], catalogue, unit);
}

export type Times = { readonly line: Measured; readonly times: number };

/** Measures of one thing as one amount, in the bar's own words: "4 dashes", "8 leaves", "60 ml". All are counted, or none is. */
export function sumText(parts: readonly Times[], catalogue: Catalogue, unit: MeasureUnit): string {
  const [first] = parts;
  if (first === undefined) return '';
  if (isCounted(first.line, catalogue)) {
    const { quantity, unit: own } = first.line.measure;
    const sum = parts.reduce((all, { line, times }) => all + quantityOf(line.measure) * times, 0);
    // As it was written, where nothing is added up: "½ lime" stays "½".
    const said = parts.length === 1 && first.times === 1 ? quantity : String(round(sum, 2));
    return own === 'each' ? said : `${said} ${unitWord(own, sum)}`;
  }
  const amount = parts.reduce(
    (all, { line, times }) => all + (liquidAmount(line, catalogue) ?? line.amount) * times,
    0,
  );
  if (unit === 'oz') return jiggerText(amount, catalogue.house);
  const scale = unitScale(unit, catalogue.house);
  const value = scale === null ? amount : amount / ratioToNumber(scale.perUnit);
  return `${round(value, unit === 'ml' ? 1 : 2)} ${unit}`;
}

/** What measures of one round may be added up under: the same thing, counted in the same unit. */
export const sumKey = (line: Measured, catalogue: Catalogue): string =>
  `${line.item.id} ${isCounted(line, catalogue) ? line.measure.unit : 'volume'}`;

/** For a measure of a fruit's juice: the juice, thousandths of a ml; null for anything else. */
function liquidAmount({ measure, item }: Measured, catalogue: Catalogue): number | null {
  if (item.unit !== 'each') return null;
  const quantity = storedQuantity(measure.quantity);
  const scaled = quantity === null ? null : amountOf(quantity, measure.unit, catalogue.house);
  return scaled?.unit === 'ml' ? scaled.amount : null;
}

/** What a measure is of, as the card says it: "lime juice" where limes give it. */
export function measureName(line: Measured, catalogue: Catalogue): string {
  const liquid =
    liquidAmount(line, catalogue) === null
      ? undefined
      : line.item.yields?.find((entry) => entry.unit === 'ml');
  return liquid === undefined ? line.item.name : `${line.item.name} ${liquid.of}`;
}
