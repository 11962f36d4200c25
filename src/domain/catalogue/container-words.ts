// Amounts in what things come in: "1 bottle", "2 cases", "a keg", "half a bottle of gin". Trade words, whatever the item is kept in.
import { roundAmount, type Unit } from '../value/amount.ts';
import { parseQuantity } from '../value/number.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { multiplyRatio, type Ratio, ratio } from '../value/ratio.ts';
import { shownIn } from './display.ts';
import type { Item } from './item.ts';

const single =
  'bottle|btl|can|tin|keg|cask|box|bag|carton|pack|jar|jug|tub|bunch|punnet|container|flask|pouch';
const several = 'case|crate|tray';
const number = '[\\d.,/¼½¾⅓⅔⅛⅜⅝⅞ ]*[\\d¼½¾⅓⅔⅛⅜⅝⅞]|an?|one|half an?';
const pattern = new RegExp(
  `^(${number})\\s*(?:x\\s*)?(?:(${several})|(${single}))(?:e?s)?(?:\\s+(?:of\\s+)?(.*))?$`,
  'iu',
);

export type InContainers = {
  readonly quantity: Ratio;
  /** By the case, of as many as the item says; else single ones. */
  readonly isCase: boolean;
  /** What was written after it. */
  readonly rest: string;
};

/** The number of containers at the head of a text; null when it speaks of none. */
export function splitContainers(text: string): InContainers | null {
  const [, many = '', caseWord, , rest = ''] = pattern.exec(text.trim()) ?? [];
  const quantity = many === '' ? null : quantityOf(many.trim().toLowerCase());
  return quantity === null || quantity.num <= 0n
    ? null
    : { quantity, isCase: caseWord !== undefined, rest: rest.trim() };
}

function quantityOf(text: string): Ratio | null {
  if (text === 'a' || text === 'an' || text === 'one') return ratio(1);
  if (text.startsWith('half')) return ratio(1, 2);
  return parseQuantity(text);
}

/** How many containers of an item that is; refused by the case when nobody said how many are in one. */
export function containersIn({ quantity, isCase }: InContainers, item: Item): Result<Ratio> {
  if (!isCase) return done(quantity);
  if (item.caseOf === null)
    return refuse(
      'no-case',
      `Nobody said how many ${item.name} are in a case. Say how many bottles, or give its case in the items file.`,
    );
  return done(multiplyRatio(quantity, ratio(item.caseOf)));
}

/** The same as an amount, thousandths of the item's unit. */
export function amountIn(held: InContainers, item: Item): Result<number> {
  const containers = containersIn(held, item);
  if (!containers.ok) return containers;
  return done(roundAmount(multiplyRatio(containers.value, ratio(item.size))));
}

/** Liquid that leaves in whole bottles or cans: a number alone of it is so many of those. */
export const isSoldWhole = (item: Item): boolean => shownIn(item).pieces != null;

/** What was read, as an amount of an item: in its own unit, or as pieces where a number alone means those; null for any other unit. */
export function amountFor(item: Item, read: { readonly amount: number; readonly unit: Unit }): number | null {
  if (read.unit === item.unit) return read.amount;
  return read.unit === 'each' ? piecesAmount(item, read.amount) : null;
}

/** So many pieces (thousandths of one) as an amount of an item, thousandths of its unit; null where a number alone says nothing of it. */
export function piecesAmount(item: Item, pieces: number): number | null {
  if (item.unit === 'each') return pieces;
  return isSoldWhole(item) ? Math.round((pieces * item.size) / 1000) : null;
}
