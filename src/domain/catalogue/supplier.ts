// A supplier: who brings what is stocked, on which days, and what an order must be worth.
import * as z from 'zod/mini';
import { supplierId } from '../value/ids.ts';
import { LARGEST_MONEY } from '../value/money.ts';

/** Days of the week as ISO 8601 counts them, Monday first. */
export const weekdays = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
export type Weekday = (typeof weekdays)[number];

export const supplierSchema = z.strictObject({
  id: supplierId,
  name: z.string().check(z.minLength(1), z.maxLength(80)),
  orderDays: z.array(z.enum(weekdays)).check(z.maxLength(7)),
  /** The hour on the house's wall until which an order counts for that day; null: all day. */
  cutOff: z.nullable(z.string().check(z.regex(/^([01]\d|2[0-3]):[0-5]\d$/))),
  deliveryDays: z.array(z.enum(weekdays)).check(z.maxLength(7)),
  /** Days from the order to the first delivery that can bring it; null: the first delivery day that is not the same day. */
  leadDays: z.nullable(z.int().check(z.minimum(0), z.maximum(60))),
  /** What an order must be worth, in minor units; null: nothing. */
  minimumMinor: z.nullable(z.int().check(z.minimum(0), z.maximum(LARGEST_MONEY))),
  /** How to reach them: a number, an address, a name. */
  contact: z.string().check(z.maxLength(200)),
  retired: z.optional(z.literal(true)),
});

export type Supplier = z.infer<typeof supplierSchema>;
