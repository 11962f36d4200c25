// A reading: what a person saw of an item, as they say it, with the standard uncertainty of seeing it that way.
// Rules: resolution d gives u = d / (2√3); a rectangular half-width a gives u = a / √3 (EURACHEM/CITAC QUAM appendix
// E.1; NIST TN 1297 1994, 4.2–4.6).

import type { House } from '../catalogue/house.ts';
import type { Item } from '../catalogue/item.ts';
import { amountOf, unitScale } from '../catalogue/units.ts';
import type { ReadingMethod } from '../ledger/event.ts';
import { containerDensity } from '../standard/density.ts';
import { LARGEST_AMOUNT, roundAmount, type Thousandths } from '../value/amount.ts';
import { joinThousands, numberDoubt, parseDecimal } from '../value/number.ts';
import { done, type Result, refuse } from '../value/problem.ts';
import { multiplyRatio, type Ratio, ratio, ratioToNumber } from '../value/ratio.ts';
import { assumedShare, type EyeError } from './eye-error.ts';

export type Reading = {
  readonly text: string;
  readonly method: ReadingMethod;
  readonly amount: Thousandths;
  readonly sealed: number;
  readonly open: readonly Thousandths[];
  /** Standard uncertainty of this reading alone, thousandths of the unit (rounded to a whole one). */
  readonly deviation: number;
  /** Standard uncertainty from the density, common to weighings of the same liquid. */
  readonly densityDeviation: number;
  /** What had to be assumed to turn grams into ml. */
  readonly assumed: string | null;
};

type Term = {
  method: ReadingMethod;
  amount: Thousandths;
  variance: number;
  density: number;
  assumed?: string | null;
};

const root3 = Math.sqrt(3);

/**
 * Reads `7` (tenths of the open container), `2.7`, `2+0.4+0.7`, `2+0`, `2+350ml`, `2+812g` (gross weight, tare known) or
 * `14` (pieces). `eye` is how exact a reading by eye is, as a share of the container: learned by the drill, else the
 * assumed width. Refuses what cannot be one container; the refusal says what would be understood.
 */
export function parseReading(
  text: string,
  item: Item,
  house: House,
  eye: Pick<EyeError, 'share' | 'from'> = { share: assumedShare(house), from: 'assumed' },
): Result<Reading> {
  const clean = joinThousands(text.trim().toLowerCase());
  if (clean === '' || clean.length > 80) return refuse('bad-reading', howToRead(item, text));
  const parts = clean.split('+').map((part) => part.trim());
  if (item.unit === 'each') return readPieces(parts, text, item);
  return readContainers(parts, text, item, house, eye);
}

function readPieces(parts: readonly string[], text: string, item: Item): Result<Reading> {
  let sum = ratio(0);
  for (const part of parts) {
    const value = parseDecimal(part.replace(/\s*(each|pcs|pieces?)$/, ''));
    if (value === null) return refuse('bad-reading', howToRead(item, text));
    sum = ratio(sum.num * value.den + value.num * sum.den, sum.den * value.den);
  }
  const amount = roundAmount(multiplyRatio(sum, ratio(1000)));
  if (amount > LARGEST_AMOUNT)
    return refuse('bad-reading', `"${text}" is more than a million pieces. Read it again.`);
  // Whole pieces are counted exactly; a part of a piece is seen to the nearest half.
  const deviation = amount % 1000 === 0 ? 0 : Math.round(500 / (2 * root3));
  const sealed = Math.floor(amount / item.size);
  const open = amount % item.size === 0 ? [] : [amount % item.size];
  return done({
    text: text.trim(),
    method: 'pieces',
    amount,
    sealed,
    open,
    deviation,
    densityDeviation: 0,
    assumed: null,
  });
}

function readContainers(
  parts: readonly string[],
  text: string,
  item: Item,
  house: House,
  eye: Eye,
): Result<Reading> {
  const first = splitFirst(parts, item);
  if (first === null) return refuse('bad-reading', howToRead(item, text));
  const terms: Term[] = [];
  for (const part of first.open) {
    const term = readOpen(part, item, house, eye);
    if (!term.ok) return term;
    if (term.value === null) return refuse('bad-reading', howToRead(item, text));
    terms.push(term.value);
  }
  if (first.sealed > 10_000)
    return refuse('bad-reading', `"${text}" is more than 10000 containers. Read it again.`);
  const amount = first.sealed * item.size + terms.reduce((sum, term) => sum + term.amount, 0);
  const weighed = terms.find((term) => term.method === 'grams');
  const method = weighed?.method ?? terms[0]?.method ?? (item.count === 'pieces' ? 'pieces' : item.count);
  return done({
    text: text.trim(),
    method,
    amount,
    sealed: first.sealed,
    open: terms.flatMap(({ amount: left }) => (left === 0 ? [] : [left])),
    deviation: Math.round(Math.sqrt(terms.reduce((sum, term) => sum + term.variance, 0))),
    densityDeviation: Math.round(terms.reduce((sum, term) => sum + term.density, 0)),
    assumed: weighed?.assumed ?? null,
  });
}

/**
 * Takes the sealed containers off the front: `2.7` is two and 0.7, `2+350ml` two and 350 ml, `7` alone is 0.7. `2.0` is read by
 * tenths as `2.7` is, so an open one with less than half a tenth may stand there; `2+0` says that nothing is open.
 */
function splitFirst(
  parts: readonly string[],
  item: Item,
): { sealed: number; open: readonly string[] } | null {
  const [head, ...rest] = parts;
  if (head === undefined) return null;
  const decimal = /^(\d+)[.,](\d{1,2})$/.exec(head);
  if (decimal !== null) {
    return { sealed: Number(decimal[1]), open: [`0.${decimal[2]}`, ...rest] };
  }
  if (!/^\d+$/.test(head)) return { sealed: 0, open: parts };
  if (rest.length > 0)
    return { sealed: Number(head), open: rest.length === 1 && rest[0] === '0' ? [] : rest };
  if (item.count === 'pieces') return { sealed: Number(head), open: [] };
  // Of what is read in ml or on a scale a bare digit could be anything.
  if (item.count !== 'tenths') return head === '0' ? { sealed: 0, open: [] } : null;
  if (head.length === 1) return { sealed: 0, open: [head] };
  return null;
}

function readOpen(part: string, item: Item, house: House, eye: Eye): Result<Term | null> {
  const tenths = /^(?:0?[.,](\d{1,2})|(\d))$/.exec(part);
  if (tenths !== null) return done(readByEye(tenths[1] ?? tenths[2] ?? '0', item, eye));
  const measured = /^([\d.,]+)\s*(ml|cl|l|oz|g|kg)$/.exec(part);
  const unit = measured?.[2] ?? '';
  const quantity = parseDecimal(measured?.[1] ?? '', mostOf(unit, item, house));
  if (quantity === null) return done(null);
  if (unit === 'g' || unit === 'kg') return weigh(quantity, unit, item, house);
  if (item.unit !== 'ml') return done(null);
  return readVolume(quantity, unit, item, house);
}

/** The largest number that one open container can be read as in a unit: brim-full, and no liquid weighs twice what water does. */
function mostOf(unit: string, item: Item, house: House): number {
  if (unit === 'g' || unit === 'kg')
    return ((item.tareMilligrams ?? 0) + 2 * item.size) / (unit === 'kg' ? 1_000_000 : 1000);
  const scale = unitScale(unit, house);
  return scale === null ? 0 : (1.1 * item.size) / ratioToNumber(scale.perUnit);
}

type Eye = Pick<EyeError, 'share' | 'from'>;

/** However exact an eye, what is said in tenths is known to half a tenth: the resolution is the floor of what was learned. */
function readByEye(digits: string, item: Item, { share: learned, from }: Eye): Term {
  const share = ratio(BigInt(digits), 10n ** BigInt(digits.length));
  const amount = roundAmount(multiplyRatio(share, ratio(item.size)));
  const resolution = 10 ** -digits.length / (2 * root3);
  const deviation = item.size * (from === 'assumed' ? learned : Math.max(learned, resolution));
  return { method: 'tenths', amount, variance: deviation ** 2, density: 0 };
}

function readVolume(quantity: Ratio, unit: string, item: Item, house: House): Result<Term | null> {
  const amount = amountOf(quantity, unit, house)?.amount ?? 0;
  const bound = checkContent(amount, item, `${exactMl(amount)} ml`);
  if (!bound.ok) return bound;
  const deviation = (house.mlWidth * 1000) / (2 * root3);
  return done({ method: 'ml', amount, variance: deviation ** 2, density: 0 });
}

/** Net weight over density; the scale's resolution and linearity, and the density's half-width, as QUAM E.1 says. */
function weigh(quantity: Ratio, unit: string, item: Item, house: House): Result<Term | null> {
  const gross = roundAmount(multiplyRatio(quantity, ratio(unit === 'kg' ? 1_000_000 : 1000)));
  if (item.tareMilligrams === null && item.unit === 'ml') {
    return refuse(
      'no-tare',
      `No tare is known for ${item.name}. Give its tare_g in the items file, or read it in tenths or ml.`,
    );
  }
  const net = gross - (item.tareMilligrams ?? 0);
  if (net < 0) {
    return refuse(
      'below-tare',
      `${gross / 1000} g is less than the empty ${item.name} (${(item.tareMilligrams ?? 0) / 1000} g). Weigh it again.`,
    );
  }
  const scale = Math.sqrt((house.scaleResolutionGrams / 2) ** 2 + house.scaleLinearityGrams ** 2) / root3;
  if (item.unit === 'g')
    return done({ method: 'grams', amount: net, variance: (scale * 1000) ** 2, density: 0 });
  const { density, halfWidth, assumed } = containerDensity(item, house);
  const amount = Math.round((net / density) * 1000);
  const bound = checkContent(amount, item, `${(gross / 1000).toFixed(0)} g`);
  if (!bound.ok) return bound;
  const deviation = (scale / density) * 1_000_000;
  return done({
    method: 'grams',
    amount,
    variance: deviation ** 2,
    density: (amount * halfWidth) / root3 / density,
    assumed,
  });
}

/** An open container holds no more than it was sold with; a tenth is left for generous fills and brim-full bottles. */
function checkContent(amount: Thousandths, item: Item, said: string): Result<null> {
  if (amount <= item.size * 1.1) return done(null);
  return refuse(
    'over-full',
    `${said} is more than one ${item.sizeText} container of ${item.name} holds. Write sealed ones first, as 2+350ml.`,
  );
}

const exactMl = (amount: Thousandths): string => String(Math.round(amount / 1000));

function howToRead(item: Item, text: string): string {
  const doubt = numberDoubt(text);
  if (doubt !== null) return doubt;
  const said = `"${text.trim().slice(0, 40)}" is not a reading of ${item.name}.`;
  if (item.unit === 'each') return `${said} Write the number of pieces, as 14.`;
  if (item.count === 'ml' || item.count === 'grams') {
    const example = item.count === 'ml' ? '350ml, or 2+350ml' : '812g with its container, or 2+812g';
    return `${said} Write ${example} with two sealed, or 0.7 by eye.`;
  }
  if (/^\d{2,}$/.test(text.trim()))
    return `${said} Write ${text.trim()}+0 for sealed ones, 0.7 or 7 for an open one.`;
  return `${said} Write 7 or 0.7 for an open one, 2.7 with two sealed, 2+350ml or 2+812g.`;
}
