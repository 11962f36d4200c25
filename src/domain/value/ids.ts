// Ids of things: lower-case letters, digits and hyphens, as people can read and type them. Branded, so that an
// item's id is never handed over where a spec's is meant.
import * as z from 'zod/mini';

const slug = z
  .string()
  .check(z.regex(/^[a-z0-9][a-z0-9-]{0,59}$/, 'lower-case letters, digits and hyphens, at most 60'));

export const itemId = slug.brand<'ItemId'>();
export const specId = slug.brand<'SpecId'>();
export const personId = slug.brand<'PersonId'>();
export const supplierId = slug.brand<'SupplierId'>();
export const place = z.string().check(z.minLength(1), z.maxLength(40));
export const eventId = z
  .string()
  .check(
    z.regex(/^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/, 'a UUID of version 7'),
  )
  .brand<'EventId'>();

export type ItemId = z.infer<typeof itemId>;
export type SpecId = z.infer<typeof specId>;
export type PersonId = z.infer<typeof personId>;
export type SupplierId = z.infer<typeof supplierId>;
export type EventId = z.infer<typeof eventId>;
/** Whose pour, and of which spec; the empty name is nobody named, and a straight measure. */
export type Pourer = PersonId | '';
export type Drawer = SpecId | '';

/**
 * "Crème de Mûre" -> "creme-de-mure". Letters of other scripts are kept as their code points, so that two names are two ids: of a
 * name that has none of ours, and of one that has some.
 */
export function slugOf(name: string): string {
  const folded = name
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');
  const others = [...name].filter((char) => folded === '' || otherScript.test(char));
  if (others.length === 0) return cut(folded) || 'u';
  const points = others.map((char) => (char.codePointAt(0) ?? 0).toString(16)).join('-');
  return cut(folded === '' ? `u-${points}` : `${folded.slice(0, 20).replace(/-+$/, '')}-u-${points}`);
}
const otherScript = /(?!\p{Script=Latin})\p{L}/u;
const cut = (slug: string): string => slug.slice(0, 60).replace(/-+$/, '');
