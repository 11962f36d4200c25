// An item: a thing in stock as it is bought or made.

import * as z from 'zod/mini';
import { itemId, place, supplierId } from '../value/ids.ts';
import { LARGEST_MONEY } from '../value/money.ts';
import { keepsSchema } from './keeping.ts';

const text = (most: number) => z.string().check(z.minLength(1), z.maxLength(most));
const count = z.int().check(z.minimum(1), z.maximum(1_000_000_000));

export const itemSchema = z.strictObject({
  id: itemId,
  name: text(80),
  also: z.array(text(80)).check(z.maxLength(50)),
  /** spirit, liqueur, bitters, wine, beer, juice, syrup, egg, herb, fruit, mixer … a word of the house. */
  kind: text(40),
  unit: z.enum(['ml', 'each', 'g']),
  /** Content of one container in thousandths of the unit, and the text it was given as. */
  size: count,
  sizeText: text(40),
  tareMilligrams: z.nullable(z.int().check(z.minimum(0), z.maximum(100_000_000))),
  abvPercent: z.nullable(z.number().check(z.minimum(0), z.maximum(100))),
  sugarGramsPerLitre: z.nullable(z.number().check(z.minimum(0), z.maximum(1500))),
  costMinor: z.nullable(z.int().check(z.minimum(0), z.maximum(LARGEST_MONEY))),
  caseOf: z.nullable(z.int().check(z.minimum(1), z.maximum(10_000))),
  place,
  shelf: z.string().check(z.maxLength(20)),
  par: z.nullable(z.number().check(z.minimum(0), z.maximum(100_000))),
  /** The par is what is wanted, whatever is used; else it is a floor under that. */
  parIs: z.optional(z.literal('fixed')),
  count: z.enum(['tenths', 'ml', 'grams', 'pieces']),
  allergens: z.array(text(40)).check(z.maxLength(40)),
  /** Measured once from a full container; wins over what strength and sugar give. */
  densityKgPerM3: z.optional(z.number().check(z.minimum(500), z.maximum(2000))),
  /** Grams a litre, or a kilogram of what is weighed; as sugar. */
  acidGramsPerLitre: z.optional(z.number().check(z.minimum(0), z.maximum(1000))),
  /** What one piece gives: 30 ml "juice", 8 "wedge". */
  yields: z.optional(
    z
      .array(z.strictObject({ amount: count, unit: z.enum(['ml', 'each']), of: text(30) }))
      .check(z.maxLength(20)),
  ),
  /** How long it keeps from the day it comes or is made, and from the day a container is opened. */
  keeps: z.optional(keepsSchema),
  opened: z.optional(keepsSchema),
  /** Who brings it, and what they call it. */
  supplier: z.optional(supplierId),
  code: z.optional(text(40)),
  /** What a straight measure of it is sold for. */
  prices: z.optional(
    z
      .array(
        z.strictObject({ amount: count, priceMinor: z.int().check(z.minimum(0), z.maximum(LARGEST_MONEY)) }),
      )
      .check(z.maxLength(10)),
  ),
  /** No longer stocked: it leaves search, levels and count, and stays in every report. */
  retired: z.optional(z.literal(true)),
  caution: z.string().check(z.maxLength(200)),
});

export type Item = z.infer<typeof itemSchema>;

/** From the tap: any card may measure it, nobody stocks, counts or pays for it. A house may stock a water of its own. */
export const TAP_WATER: Item = {
  id: 'water' as Item['id'],
  name: 'Water',
  also: [],
  kind: 'water',
  unit: 'ml',
  size: 1_000_000,
  sizeText: '1 l',
  tareMilligrams: null,
  abvPercent: 0,
  sugarGramsPerLitre: 0,
  costMinor: 0,
  caseOf: null,
  place: 'tap',
  shelf: '',
  par: null,
  count: 'ml',
  allergens: [],
  caution: '',
};

/** Where an item stands when nobody said otherwise. */
export const HOME_PLACE = 'bar';

/** A name without the strength at its end, for lists and sentences. */
export const bareName = (name: string): string => name.replace(/\s+\d+([.,]\d+)?\s*%$/, '');

/** Names an item answers to, lower case. */
export const itemNames = (item: Item): string[] =>
  [item.id, item.name, ...item.also].map((name) => name.toLowerCase());
