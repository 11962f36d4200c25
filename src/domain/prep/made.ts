// What follows for an item from what it was made of: cost, strength, sugar, acid and allergens over the yield as it was measured.
import type { Catalogue } from '../catalogue/catalogue.ts';
import type { Item } from '../catalogue/item.ts';
import type { PrepCard } from '../catalogue/spec.ts';
import { allergensOf } from '../drink/allergens.ts';
import {
  acidOf,
  acidOfSolid,
  ethanolOf,
  isAcidUnknown,
  isStrengthUnknown,
  type Liquid,
  liquidsOf,
  solidsOf,
  sugarOf,
  sugarOfSolid,
} from '../drink/liquid.ts';
import { inputsOf, type Measured, specLines } from '../drink/measures.ts';
import type { Draw, Made } from '../ledger/event.ts';
import type { Thousandths } from '../value/amount.ts';
import { valueInMillis } from '../value/money.ts';

const rounded = (value: number, decimals: number): number =>
  Math.round(value * 10 ** decimals) / 10 ** decimals;
/** A figure no item can have is one nobody knows. */
const upTo = (value: number | null, most: number, decimals: number): number | null =>
  value === null || value > most ? null : rounded(value, decimals);

/**
 * The figures of an item made by a card `times` over that gave `amount` (thousandths of its unit). Strength in % by volume, sugar and acid in
 * grams a litre, or a kilogram of what is weighed; null where a part of them is not known, or where the item is no liquid. Allergens and cautions that were said of it
 * before stay: leaving one out by mistake is worse.
 */
export function madeOf(
  books: Catalogue,
  {
    item,
    lines,
    times,
    amount,
    draws,
  }: {
    readonly item: Item;
    readonly lines: readonly Measured[];
    readonly times: number;
    readonly amount: Thousandths;
    readonly draws: readonly Draw[];
  },
): Made {
  const liquids = liquidsOf(lines, books.house);
  // Litres of what is a liquid, kilograms of what is weighed.
  const many = amount / 1_000_000 / times;
  const each = (grams: number | null): number | null =>
    item.unit === 'each' || grams === null ? null : grams / many;
  const strong = liquids.some(isStrengthUnknown);
  const hidden = lines.some((line) => isWholeFruit(line, liquids));
  const sugar = hidden ? null : sugarIn(lines, liquids);
  const acid =
    hidden || liquids.some(isAcidUnknown)
      ? null
      : acidOf(liquids).acidGrams + solidsOf(lines).reduce((sum, solid) => sum + acidOfSolid(solid), 0);
  const cost = draws.some(({ costMillis }) => costMillis === null)
    ? null
    : draws.reduce((sum, { costMillis }) => sum + (costMillis ?? 0), 0);
  return {
    costMinor: cost === null ? null : Math.round((cost * item.size) / amount / 1000),
    abvPercent: strong || item.unit !== 'ml' ? null : upTo(each(ethanolOf(liquids) / 10), 100, 2),
    sugarGramsPerLitre: upTo(each(sugar), 1500, 1),
    acidGramsPerLitre: upTo(each(acid), 1000, 2),
    allergens: [
      ...new Set([
        ...item.allergens,
        ...allergensOf(
          lines.map((line) => line.item),
          books,
        ),
      ]),
    ],
    caution: cautionOf(item, lines),
  };
}

/** A fruit that goes in whole and does not say what it gives: nobody knows its sugar and its acid. */
const isWholeFruit = (line: Measured, liquids: readonly Liquid[]): boolean =>
  line.item.unit === 'each' &&
  line.item.kind === 'fruit' &&
  !liquids.some(({ measure }) => measure === line.measure);

/** Kinds that bring no sugar worth a figure; of wine and of fruit a figure that is kept must know. */
const plain = /^(spirit|bitters|egg|herb|garnish|water|sugar)$/;
/** All of the sugar; null where a part that is likely sweet does not say. */
function sugarIn(lines: readonly Measured[], liquids: readonly Liquid[]): number | null {
  const parts = [
    ...liquids.map((liquid) => ({ item: liquid.item, grams: sugarOf(liquid) })),
    ...solidsOf(lines).map((solid) => ({ item: solid.item, grams: sugarOfSolid(solid) })),
  ];
  if (parts.some(({ item, grams }) => grams === null && !plain.test(item.kind))) return null;
  return parts.reduce((sum, { grams }) => sum + (grams ?? 0), 0);
}

const RAW_EGG = 'raw egg: tell the guest';

function cautionOf(item: Item, lines: readonly Measured[]): string {
  const parts = lines.flatMap((line) => {
    const isRaw =
      line.item.kind === 'egg' && !/pasteuri[sz]ed/i.test(`${line.item.name} ${line.item.caution}`);
    return [line.item.caution, isRaw ? RAW_EGG : ''];
  });
  const all = [item.caution, ...parts].filter((text) => text !== '');
  const said = all.filter((text, at) => !all.slice(0, at).some((before) => before.includes(text)));
  // What does not fit is named by its cards; the first of them always stand.
  let text = '';
  for (const part of said)
    if (`${text}; ${part}`.length <= 200) text = text === '' ? part : `${text}; ${part}`;
  return text;
}

/** The card that makes an item, if one in use does; the first one where there are several. */
export const cardFor = (cards: readonly PrepCard[], item: Item['id']): PrepCard | undefined =>
  cards.find(({ makes }) => makes.item === item);

/** What would follow if a card were made now, with the yield it says; null where a measure of it can't be read. */
export function madeNow(books: Catalogue, card: PrepCard): Made | null {
  const item = books.items.get(card.makes.item);
  const lines = specLines(card, books);
  if (item === undefined || !lines.ok) return null;
  const draws = inputsOf(lines.value, 1).map(
    (input): Draw => ({
      item: input.item.id,
      place: input.item.place,
      amount: input.amount,
      costMillis:
        input.item.costMinor === null
          ? null
          : valueInMillis(input.amount, input.item.costMinor, input.item.size),
    }),
  );
  return madeOf(books, { item, lines: lines.value, times: 1, amount: card.makes.amount, draws });
}
