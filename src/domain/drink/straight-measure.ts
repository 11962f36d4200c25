// A straight measure in words: 25 ml of a spirit, a bottle of lager. What is counted by the piece is sold by the piece.
import type { Catalogue } from '../catalogue/catalogue.ts';
import { amountIn, piecesAmount, splitContainers } from '../catalogue/container-words.ts';
import { type Item, itemNames } from '../catalogue/item.ts';
import { amountOf, splitQuantity } from '../catalogue/units.ts';
import type { Thousandths } from '../value/amount.ts';
import { done, type Result } from '../value/problem.ts';
import { foldText } from '../value/text.ts';
import { lineOf } from './measures.ts';

export type Straight = { readonly item: Item; readonly amount: Thousandths };

/** "25" "ml", "1" "bottle" of an item, in thousandths of its unit. */
export function straightAmount(
  item: Item,
  { quantity, unit }: { readonly quantity: string; readonly unit: string },
  catalogue: Catalogue,
): Result<Thousandths> {
  const held = splitContainers(`${quantity} ${unit}`);
  if (held !== null) return amountIn(held, item);
  const line = lineOf({ quantity, unit, item: item.id }, catalogue);
  return line.ok ? done(line.value.amount) : line;
}

/**
 * A name of the till that is a straight measure: "25 ml vodka", "vodka 25ml", "pint pale", "bottle house white", "lager". Null for any
 * other; the item's name must be its own, or that with an s.
 */
export function readStraight(name: string, catalogue: Catalogue): Straight | null {
  const turned = name.replace(/^(.*\S)\s+([\d.,/]+\s*[a-z]+)$/i, '$2 $1');
  const whole = itemNamed(name, catalogue);
  const piece = whole === undefined || whole.unit === 'each' ? null : piecesAmount(whole, 1000);
  if (whole !== undefined && piece !== null) return { item: whole, amount: piece };
  for (const text of [name, turned, `1 ${name}`]) {
    const read = readContainers(text, catalogue) ?? readAmount(text, catalogue);
    if (read !== null) return read;
  }
  return null;
}

function readContainers(text: string, catalogue: Catalogue): Straight | null {
  const held = splitContainers(text);
  const item = held === null ? undefined : itemNamed(held.rest, catalogue);
  if (held === null || item === undefined) return null;
  const amount = amountIn(held, item);
  return amount.ok ? { item, amount: amount.value } : null;
}

function readAmount(text: string, catalogue: Catalogue): Straight | null {
  const split = /^[\d¼½¾]/.test(text.trim()) ? splitQuantity(text, catalogue.house) : null;
  const read = split === null ? null : amountOf(split.quantity, split.unit, catalogue.house);
  const item = split === null ? undefined : itemNamed(split.rest, catalogue);
  return read !== null && item !== undefined && read.unit === item.unit && split?.unit !== 'each'
    ? { item, amount: read.amount }
    : null;
}

function itemNamed(name: string, { items }: Catalogue): Item | undefined {
  const wanted = foldText(name);
  if (wanted === '') return undefined;
  const isSo = (one: string): boolean => foldText(one) === wanted || `${foldText(one)}s` === wanted;
  return [...items.values()].find((item) => itemNames(item).some(isSo));
}
