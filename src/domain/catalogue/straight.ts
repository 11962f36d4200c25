// What a straight measure of an item is sold for: its own price for that measure, else by the house's rule.
import type { Thousandths } from '../value/amount.ts';
import type { House } from './house.ts';
import type { Item } from './item.ts';

/**
 * Minor units of one measure; null when it has no price. The rule is the pour cost the house wants of straight measures: a price so
 * that the cost is that share of it, raised to the next step of the house. Common practice, no source.
 */
export function straightPrice(item: Item, amount: Thousandths, house: House): number | null {
  const own = item.prices?.find((price) => price.amount === amount);
  if (own !== undefined) return own.priceMinor;
  const { percent, stepMinor } = house.straight;
  if (percent === 0 || item.costMinor === null) return null;
  const exact = (item.costMinor * amount * 100) / (item.size * percent);
  return Math.ceil(exact / stepMinor - 1e-9) * stepMinor;
}
