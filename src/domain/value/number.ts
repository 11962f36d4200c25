// Numbers as people type them: the one reader of digits, points and commas, for amounts, counts, readings and money.
// A comma or a point with three digits after it may be a thousand or a little over one: such a number is refused with what to
// write instead, unless only one of the two is possible. What the program prints it reads back as the same.
import { addRatio, type Ratio, ratio } from './ratio.ts';

/** Signs that part thousands and nothing else: narrow, thin and no-break spaces, and the Swiss apostrophe. */
const GROUP = "\\u202f\\u2009\\u00a0'’";
const grouped = new RegExp(`(?<=\\d)[${GROUP}](?=\\d{3}(?!\\d))`, 'gu');

/** The sign the program parts thousands with. */
export const THOUSANDS = '\u202f';

/** The same text with its thousands joined: "1 400 ml" with a narrow space is "1400 ml". */
export const joinThousands = (text: string): string => text.replace(grouped, '');

const plain = /^(\d{1,12})(?:[.,](\d{1,6}))?$/;
const twoWays = /^([1-9]\d{0,2})[.,](\d{3})$/;
/** Two groups or more, or a group before decimals with the other sign, can only be thousands. */
const onlyThousands = /^([1-9]\d{0,2}(?:([.,])\d{3})(?:\2\d{3})*)(?:(?!\2)[.,](\d{1,6}))?$/;

/**
 * A plain decimal, never negative, exponents and signs refused; a decimal comma is read as a point. `most` is the largest that
 * makes sense: when the thousand is beyond it, "40.125" is a little over forty. Null when it is no number, or could be two.
 */
export function parseDecimal(text: string, most = Number.POSITIVE_INFINITY): Ratio | null {
  const joined = joinThousands(text);
  const doubt = twoWays.exec(joined);
  if (doubt !== null && Number(`${doubt[1]}${doubt[2]}`) <= most) return null;
  const match = plain.exec(joined);
  if (match !== null) return ofDigits(match[1] ?? '', match[2] ?? '');
  const large = onlyThousands.exec(joined);
  return large === null ? null : ofDigits((large[1] ?? '').replace(/[.,]/g, ''), large[3] ?? '');
}

const ofDigits = (whole: string, decimals: string): Ratio =>
  ratio(BigInt(`${whole}${decimals}`), 10n ** BigInt(decimals.length));

const doubtful = /(?<![\d.,])([1-9]\d{0,2})[.,](\d{3})(?![\d.,])/;

/** Why a text with a number of two meanings was refused, and what to write instead; null when it holds none. */
export function numberDoubt(text: string): string | null {
  const found = doubtful.exec(joinThousands(text));
  if (found === null) return null;
  const [said, whole = '', part = ''] = found;
  const decimals = part.replace(/0+$/, '').padEnd(1, '0');
  const small = decimals.length === 3 ? `${decimals}0` : decimals;
  return `"${said}" can be read two ways. Write ${whole}${part} or ${whole}.${small}.`;
}

/** A number for people and for files, without a doubt: three decimals are printed as four where they could be a thousand. */
export function decimalText(value: number): string {
  const text = String(value);
  return twoWays.test(text) ? `${text}0` : text;
}

const vulgar: ReadonlyMap<string, Ratio> = new Map(
  Object.entries({
    '¼': [1, 4],
    '½': [1, 2],
    '¾': [3, 4],
    '⅓': [1, 3],
    '⅔': [2, 3],
    '⅛': [1, 8],
    '⅜': [3, 8],
    '⅝': [5, 8],
    '⅞': [7, 8],
    '⅕': [1, 5],
    '⅖': [2, 5],
    '⅗': [3, 5],
    '⅘': [4, 5],
    '⅙': [1, 6],
    '⅚': [5, 6],
  }).map(([sign, [num, den]]) => [sign, ratio(num as number, den as number)]),
);

const fractionPattern = /^(\d{1,9})\/(\d{1,9})$/;

/**
 * An amount as people write it: `2`, `0.75`, `3/4`, `¾`, `1½`, `1 1/2`. Null when it is none of these, or a number that could
 * be two. `most` as for `parseDecimal`.
 */
export function parseQuantity(text: string, most?: number): Ratio | null {
  const words = joinThousands(text).trim().split(/\s+/);
  if (words.length > 2 || words[0] === undefined) return null;
  const parts = words.flatMap(splitVulgar).map((part) => parsePart(part, most));
  if (parts.some((part) => part === null) || parts.length > 2) return null;
  const [whole, fraction] = parts as Ratio[];
  if (whole === undefined) return null;
  if (fraction === undefined) return whole;
  return whole.den === 1n && fraction.den !== 1n ? addRatio(whole, fraction) : null;
}

function splitVulgar(word: string): string[] {
  const last = word.slice(-1);
  return word.length > 1 && vulgar.has(last) ? [word.slice(0, -1), last] : [word];
}

function parsePart(word: string, most: number | undefined): Ratio | null {
  const sign = vulgar.get(word);
  if (sign !== undefined) return sign;
  const fraction = fractionPattern.exec(word);
  if (fraction === null) return parseDecimal(word, most);
  const den = BigInt(fraction[2] ?? '0');
  return den === 0n ? null : ratio(BigInt(fraction[1] ?? '0'), den);
}

/** An amount as the books keep it: it was read when it was written, and means the same for ever. */
export const storedQuantity = (text: string): Ratio | null => parseQuantity(text, 0);
