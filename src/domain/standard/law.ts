// Legal measures as information, never as advice: serving sizes, errors allowed of measures, standards of fill. The last
// word of each notice is that local rules decide.
import type { House } from '../catalogue/house.ts';
import type { Item } from '../catalogue/item.ts';

const LOCAL = 'local rules decide';
const spirits = /\b(gin|rum|vodka|whisky|whiskey|rye|bourbon|malt)\b/i;
const fortified = /\b(port|sherry|fino|madeira)\b/i;

/** What of an item is measured by law when it is served alone. */
function servedAs(item: Item): 'spirit' | 'wine' | 'fortified' | null {
  const names = [item.name, ...item.also].join(' ');
  if (item.kind === 'spirit') return spirits.test(names) ? 'spirit' : null;
  if (item.kind !== 'wine' || /sparkling|vermouth|champagne/i.test(names)) return null;
  return fortified.test(names) ? 'fortified' : 'wine';
}

/**
 * A notice when a straight measure is none of the quantities of the UK Order: gin, rum, vodka and whisky in multiples of 25
 * or of 35 ml (one of the two in a house); still wine 125, 175 and multiples, below 75 free; fortified 50, 70 and multiples.
 * Weights and Measures (Intoxicating Liquor) Order 1988 (SI 1988/2039), UK government page "Specified quantities".
 * A mixture of three or more liquids is exempt. Null when there is nothing to say.
 */
export function servingNotice(item: Item, amount: number, liquids: number, house: House): string | null {
  if (house.servings === 'none' || liquids >= 3) return null;
  const kind = servedAs(item);
  const spirit = house.servings === 'uk25' ? [25_000] : [35_000];
  const steps =
    kind === 'spirit'
      ? spirit
      : kind === 'wine'
        ? [125_000, 175_000]
        : kind === 'fortified'
          ? [50_000, 70_000]
          : [];
  if (steps.length === 0 || (kind === 'wine' && amount < 75_000)) return null;
  if (steps.some((step) => amount % step === 0)) return null;
  const quantities = steps.map((step) => `${step / 1000} ml`).join(' or ');
  return `${amount / 1000} ml of ${item.name} is no multiple of ${quantities} (UK specified quantities); ${LOCAL}.`;
}

/** Tolerance of the US bottler's fill as a share: 27 CFR 19.356(b). */
export function fillTolerance(ml: number): number {
  if (ml >= 1000) return 0.015;
  if (ml > 375) return 0.02;
  return ml > 100 ? 0.03 : 0.045;
}

/** Spirits, USA: 27 CFR 5.203, union of the rules of 29 Dec 2020 and (second entry) T.D. TTB-200 of 10 Jan 2025. */
const usSpirits2020 = [50, 100, 200, 355, 375, 700, 720, 750, 900, 1000, 1750, 1800];
const usSpirits2025 = [187, 250, 331, 350, 355, 475, 500, 570, 700, 710, 945, 1500, 2000, 3000, 3750];
/** Wine, USA: 27 CFR 4.72 after 10 Jan 2025; above 3 l in whole litres. */
const usWine = [
  50, 100, 180, 187, 200, 250, 300, 330, 355, 360, 375, 473, 500, 550, 568, 600, 620, 700, 720, 750, 1000,
  1500, 1800, 2250, 3000,
];
/** EU and UK nominal quantities: SI 1988/2039 Schedule A1, the annex of Directive 2007/45/EC. */
const euSpirits = [100, 200, 350, 500, 700, 1000, 1500, 1750, 2000];
const euWine = [100, 187, 250, 375, 500, 750, 1000, 1500, 620, 125, 200];

/** Whether a size is a standard of fill for spirits in the USA on a date. */
export const isUsSpiritSize = (ml: number, date: string): boolean =>
  (date >= '2020-12-29' && usSpirits2020.includes(ml)) ||
  (date >= '2025-01-10' && usSpirits2025.includes(ml));

/** A notice when the container of a spirit, liqueur or wine has a size that no list of fills knows; null otherwise. */
export function fillNotice(item: Item, date: string): string | null {
  const ml = item.size / 1000;
  const isSpirit = ['spirit', 'liqueur', 'bitters'].includes(item.kind);
  if (item.unit !== 'ml' || (!isSpirit && item.kind !== 'wine')) return null;
  const free = isSpirit ? ml < 100 || ml > 2000 : ml < 100 || ml > 1500;
  const known = isSpirit
    ? isUsSpiritSize(ml, date) || euSpirits.includes(ml)
    : usWine.includes(ml) || euWine.includes(ml);
  if (free || known) return null;
  return `${item.name}: ${item.sizeText} is no standard of fill in the US or EU lists. Is the size right? ${LOCAL[0]?.toUpperCase()}${LOCAL.slice(1)}.`;
}
