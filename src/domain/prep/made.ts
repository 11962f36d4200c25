// What follows for an item from what it was made of: cost, strength, sugar, acid and allergens over the yield as it was measured.
import { type Item, TAP_WATER } from '../catalogue/item.ts';
import type { PrepCard } from '../catalogue/spec.ts';
import { allergensOf } from '../drink/allergens.ts';
import { acidOf, ethanolOf, liquidsOf, sugarOf } from '../drink/liquid.ts';
import type { Measured } from '../drink/measures.ts';
import type { Books } from '../ledger/books.ts';
import type { Draw, Made } from '../ledger/event.ts';
import type { Thousandths } from '../value/amount.ts';

const rounded = (value: number, decimals: number): number =>
  Math.round(value * 10 ** decimals) / 10 ** decimals;
/** A figure no item can have is one nobody knows. */
const upTo = (value: number | null, most: number, decimals: number): number | null =>
  value === null || value > most ? null : rounded(value, decimals);

/** Grams of one kind in what is weighed: of sugar and of acids all of it, else what its card says per kilogram. */
function solidGrams(
  lines: readonly Measured[],
  pattern: RegExp,
  perKilogram: (item: Item) => number | undefined,
) {
  return lines
    .filter(({ item }) => item.unit === 'g')
    .reduce((sum, { item, amount }) => {
      const said = perKilogram(item);
      const share = said === undefined ? (pattern.test(`${item.kind} ${item.name}`) ? 1 : 0) : said / 1000;
      return sum + (amount / 1000) * share;
    }, 0);
}

/**
 * The figures of an item made by a card `times` over that gave `amount` (thousandths of its unit). Strength in % by volume, sugar and acid in
 * grams a litre; null where a part of them is not known, or where the item is no liquid. Allergens and cautions that were said of it
 * before stay: leaving one out by mistake is worse.
 */
export function madeOf(
  books: Books,
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
  const litres = amount / 1_000_000 / times;
  const isLiquid = item.unit === 'ml';
  const perLitre = (grams: number | null): number | null =>
    isLiquid && grams !== null ? grams / litres : null;
  const strong = liquids.some(
    (one) => one.item.abvPercent === null && /^(spirit|liqueur|wine|beer|bitters)$/.test(one.item.kind),
  );
  const sweet = liquids.map(sugarOf);
  const sugar = sweet.some(
    (grams, at) => grams === null && /^(liqueur|syrup|cordial|mixer)$/.test(liquids[at]?.item.kind ?? ''),
  )
    ? null
    : sweet.reduce<number>((sum, grams) => sum + (grams ?? 0), 0) +
      solidGrams(lines, /\bsugar\b/i, ({ sugarGramsPerLitre }) => sugarGramsPerLitre ?? undefined);
  const acid =
    acidOf(liquids).acidGrams +
    solidGrams(lines, /\b(citric|malic|tartaric|lactic)\b/i, ({ acidGramsPerLitre }) => acidGramsPerLitre);
  const cost = draws.some(({ costMillis }) => costMillis === null)
    ? null
    : draws.reduce((sum, { costMillis }) => sum + (costMillis ?? 0), 0);
  return {
    costMinor: cost === null ? null : Math.round((cost * item.size) / amount / 1000),
    abvPercent: strong ? null : upTo(perLitre(ethanolOf(liquids) / 10), 100, 2),
    sugarGramsPerLitre: upTo(perLitre(sugar), 1500, 1),
    acidGramsPerLitre: upTo(perLitre(acid), 200, 2),
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

/** Everything a card measures, `times` over, but for what comes from the tap. */
export const inputsOf = (
  lines: readonly Measured[],
  times: number,
): { item: Item; amount: Thousandths }[] => {
  const sums = new Map<string, { item: Item; amount: Thousandths }>();
  for (const { item, amount } of lines)
    if (item !== TAP_WATER)
      sums.set(item.id, { item, amount: (sums.get(item.id)?.amount ?? 0) + amount * times });
  return [...sums.values()];
};

/** The card that makes an item, if one in use does; the first one where there are several. */
export const cardFor = (cards: readonly PrepCard[], item: Item['id']): PrepCard | undefined =>
  cards.find(({ makes }) => makes.item === item);
