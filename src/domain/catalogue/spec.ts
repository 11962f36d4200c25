// A spec: a drink as this house makes it.

import * as z from 'zod/mini';
import { itemId, specId } from '../value/ids.ts';
import { LARGEST_MONEY } from '../value/money.ts';
import { keepsSchema } from './keeping.ts';

const line = (most: number) => z.string().check(z.maxLength(most));

export const measureSchema = z.strictObject({
  /** As it was written ("3/4", "1½"): read exactly each time it is used, so nothing is rounded twice. */
  quantity: line(20).check(z.minLength(1)),
  unit: line(20).check(z.minLength(1)),
  item: itemId,
  /** What the card says after the item ("raw", "fresh"). */
  note: z.optional(line(60)),
});

export const specSchema = z.strictObject({
  id: specId,
  name: line(80).check(z.minLength(1)),
  also: z.array(line(80).check(z.minLength(1))).check(z.maxLength(50)),
  family: line(40),
  glass: line(60),
  ice: line(60),
  garnish: line(120),
  method: line(300),
  tags: z.array(line(40)).check(z.maxLength(50)),
  priceMinor: z.nullable(z.int().check(z.minimum(0), z.maximum(LARGEST_MONEY))),
  /** No longer poured: it leaves search and lists, and stays in every report. */
  retired: z.optional(z.literal(true)),
  /** A prep card: what it makes of which item, thousandths of its unit, as it was written; and how long that keeps. */
  makes: z.optional(
    z.strictObject({
      item: itemId,
      amount: z.int().check(z.minimum(1), z.maximum(1_000_000_000)),
      text: line(40).check(z.minLength(1)),
    }),
  ),
  keeps: z.optional(keepsSchema),
  measures: z.array(measureSchema).check(z.minLength(1), z.maxLength(40)),
});

export type Measure = z.infer<typeof measureSchema>;
export type Spec = z.infer<typeof specSchema>;

/** A card that makes an item: it is made, and never poured. */
export type PrepCard = Spec & { readonly makes: NonNullable<Spec['makes']> };
export const isPrepCard = (spec: Spec): spec is PrepCard => spec.makes !== undefined;

export const specNames = (spec: Spec): string[] =>
  [spec.id, spec.name, ...spec.also].map((name) => name.toLowerCase());
