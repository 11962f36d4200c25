// Exact units of volume, mass and pieces, and the house's own dash, barspoon, splash, leaf and wedge.
// US fluid ounce = 231 in³ / 128 and imperial fluid ounce = pint / 20: NIST Handbook 44 Appendix C and the
// Weights and Measures Act 1985 Schedule 1 (published, seen second-hand).

import { roundAmount, type Unit } from '../value/amount.ts';
import { joinThousands, parseDecimal, parseQuantity } from '../value/number.ts';
import { multiplyRatio, type Ratio, ratio } from '../value/ratio.ts';
import type { House } from './house.ts';

type Scale = { readonly unit: Unit; readonly perUnit: Ratio };

/** One millilitre is 1,000 thousandths; sizes below are in thousandths of ml, piece or g. */
const volume = (num: bigint, den = 1n): Scale => ({ unit: 'ml', perUnit: ratio(num, den) });
const mass = (num: bigint, den = 1n): Scale => ({ unit: 'g', perUnit: ratio(num, den) });

const usGallon = 3_785_411_784n; // nanolitres × 1000: 3785.411784 ml
const imperialPint = 56_826_125n; // 568.26125 ml in hundred-thousandths

const fixed: ReadonlyMap<string, Scale> = new Map([
  ['ul', volume(1n)],
  ['ml', volume(1_000n)],
  ['cl', volume(10_000n)],
  ['dl', volume(100_000n)],
  ['l', volume(1_000_000n)],
  ['us-oz', volume(usGallon, 128n * 1_000n)],
  ['imp-oz', volume(imperialPint, 100n * 20n)],
  ['tsp', volume(usGallon, 768n * 1_000n)],
  ['tbsp', volume(usGallon, 256n * 1_000n)],
  ['cup', volume(usGallon, 16n * 1_000n)],
  ['us-pint', volume(usGallon, 8n * 1_000n)],
  ['us-quart', volume(usGallon, 4n * 1_000n)],
  ['us-gallon', volume(usGallon, 1_000n)],
  ['imp-pint', volume(imperialPint, 100n)],
  ['imp-quart', volume(imperialPint * 2n, 100n)],
  ['imp-gallon', volume(imperialPint * 8n, 100n)],
  ['gill', volume(imperialPint, 400n)],
  ['each', { unit: 'each', perUnit: ratio(1_000n) }],
  ['piece', { unit: 'each', perUnit: ratio(1_000n) }],
  ['cube', { unit: 'each', perUnit: ratio(1_000n) }],
  ['mg', mass(1n)],
  ['g', mass(1_000n)],
  ['kg', mass(1_000_000n)],
  ['oz-av', mass(28_349_523_125n, 1_000_000n)],
  ['lb', mass(453_592_370n, 1_000n)],
]);

const byHouse: ReadonlySet<string> = new Set(['pint', 'quart', 'gallon']);

const synonyms: ReadonlyMap<string, string> = new Map([
  ['millilitre', 'ml'],
  ['milliliter', 'ml'],
  ['centilitre', 'cl'],
  ['litre', 'l'],
  ['liter', 'l'],
  ['ounce', 'oz'],
  ['fl-oz', 'oz'],
  ['floz', 'oz'],
  ['teaspoon', 'tsp'],
  ['tablespoon', 'tbsp'],
  ['bsp', 'barspoon'],
  ['dashes', 'dash'],
  ['splashes', 'splash'],
  ['leaves', 'leaf'],
  ['pieces', 'piece'],
  ['pcs', 'piece'],
  ['gram', 'g'],
  ['kilogram', 'kg'],
  ['pound', 'lb'],
  ['µl', 'ul'],
  ['us oz', 'us-oz'],
  ['imp oz', 'imp-oz'],
]);

/** The canonical name of a unit as typed ("Dashes" -> "dash"), or null when nobody knows it. */
export function unitName(text: string, house: House): string | null {
  const word = text.trim().toLowerCase().replace(/\.$/, '');
  const candidates = [word, word.endsWith('s') ? word.slice(0, -1) : word];
  for (const candidate of candidates) {
    const name = synonyms.get(candidate) ?? candidate;
    if (fixed.has(name) || name === 'oz' || byHouse.has(name) || house.sizes.has(name)) return name;
  }
  return null;
}

/** What one of a unit is, in thousandths of ml, piece or g, by the house's settings. Null for an unknown name. */
export function unitScale(name: string, house: House): Scale | null {
  const scale = fixed.get(name);
  if (scale !== undefined) return scale;
  if (name === 'oz') return ounceScale(house);
  // Pints, quarts and gallons are the house's too: imperial where its ounce is, else US.
  if (byHouse.has(name)) return fixed.get(`${house.ounce === 'imperial' ? 'imp' : 'us'}-${name}`) ?? null;
  const own = house.sizes.get(name);
  if (own === undefined) return null;
  const size = parseDecimal(own.size);
  return size === null ? null : { unit: own.unit, perUnit: multiplyRatio(size, ratio(1_000n)) };
}

function ounceScale(house: House): Scale {
  if (house.ounce === '30ml') return volume(30_000n);
  return fixed.get(house.ounce === 'imperial' ? 'imp-oz' : 'us-oz') as Scale;
}

export type Quantity = { readonly quantity: Ratio; readonly text: string; readonly unit: string };

/**
 * The amount at the head of a line and the words after it: "1 1/2 oz dry gin" -> 1 1/2, "oz", "dry gin".
 * A missing number means one ("top soda"); a missing unit means pieces ("1 egg white").
 */
export function splitQuantity(line: string, house: House): (Quantity & { readonly rest: string }) | null {
  const glued = joinThousands(line.trim()).replace(/^([\d.,/¼½¾⅓⅔⅛⅜⅝⅞]+)([a-zA-Zµ])/u, '$1 $2');
  const words = glued.split(/\s+/).filter((word) => word !== '');
  let used = 0;
  while (used < 2 && used < words.length && /^[\d¼½¾⅓⅔⅛⅜⅝⅞⅕⅖⅗⅘⅙⅚]/u.test(words[used] ?? '')) used += 1;
  const text = words.slice(0, used).join(' ');
  const quantity = used === 0 ? ratio(1) : parseQuantity(text);
  if (quantity === null) return null;
  const { unit, words: unitWords } = takeUnit(words.slice(used), house, used > 0);
  if (unit === null) return null;
  return { quantity, text: used === 0 ? '1' : text, unit, rest: words.slice(used + unitWords).join(' ') };
}

/** The same with a sign in front: "-50 ml gin" and "700 ml delivery note found"; what follows the amount is the rest. */
export function splitSigned(line: string, house: House): { amount: number; unit: Unit; rest: string } | null {
  const text = line.trim();
  const split = splitQuantity(text.replace(/^[-−+]\s*/, ''), house);
  const size = split === null ? null : amountOf(split.quantity, split.unit, house);
  if (split === null || size === null) return null;
  return { amount: /^[-−]/.test(text) ? -size.amount : size.amount, unit: size.unit, rest: split.rest };
}

function takeUnit(
  words: readonly string[],
  house: House,
  hasNumber: boolean,
): { unit: string | null; words: number } {
  const two = words.length >= 2 ? unitName(`${words[0]} ${words[1]}`, house) : null;
  if (two !== null) return { unit: two, words: 2 };
  const one = words[0] === undefined ? null : unitName(words[0], house);
  if (one !== null) return { unit: one, words: words[1] === 'of' ? 2 : 1 };
  return hasNumber ? { unit: 'each', words: 0 } : { unit: null, words: 0 };
}

/** Quantity × unit in thousandths, rounded once, ties to even. Null when the unit is unknown. */
export function amountOf(quantity: Ratio, unit: string, house: House): { amount: number; unit: Unit } | null {
  const scale = unitScale(unit, house);
  if (scale === null) return null;
  return { amount: roundAmount(multiplyRatio(quantity, scale.perUnit)), unit: scale.unit };
}
