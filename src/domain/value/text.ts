// The one function that makes text from outside safe to show, and the branded type that proves it was used.
import * as z from 'zod/mini';

const safeText = z.string().brand<'SafeText'>();
/** Text that may be written to a screen, a file or a log. */
export type SafeText = z.infer<typeof safeText>;

/** Controls (C0, C1, DEL), format characters (bidi, zero width, tags), line separators, all that is ignorable by default. */
const plain = /^[\x20-\x7e]*$/;
const dangerous = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Default_Ignorable_Code_Point}]/gu;
const loneSurrogate = /[\ud800-\udfff]/gu;
/** More than four combining marks on one letter are a trick on the terminal, not a language. */
const stackedMarks = /(\p{M}{4})\p{M}+/gu;
const control = /[\p{Cc}\p{Zl}\p{Zp}]/u;

/**
 * Makes any text from outside safe to show: control characters become `·`, invisible and direction-changing ones go,
 * piled-up marks are cut. Idempotent. Nothing reaches a screen, a log or a file name without it.
 */
export function clean(text: string): SafeText {
  if (plain.test(text)) return text as SafeText;
  return text
    .replace(loneSurrogate, '\ufffd')
    .replace(dangerous, (char) => (control.test(char) ? '·' : ''))
    .replace(stackedMarks, '$1') as SafeText;
}

/** The first character that `clean` would change, as "U+001B", for a refusal at the door; null when there is none. */
export function firstUnsafe(text: string): string | null {
  const found = text.match(dangerous)?.[0] ?? text.match(loneSurrogate)?.[0];
  return found === undefined ? null : pointOf(found);
}

const pointOf = (char: string): string =>
  `U+${(char.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}`;

/**
 * Controls, line ends, what turns the direction of writing, what is not seen: no name or note of the books holds any. What joins
 * letters and signs (Persian, an emoji of several) is theirs.
 */
const acting = /(?!\u200c|\u200d|\ufe0f)[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Default_Ignorable_Code_Point}]/u;

/** The first character that would act on a screen in any text of a record, as "U+001B"; null when there is none. */
export function firstActing(value: unknown): string | null {
  if (typeof value === 'string') {
    if (plain.test(value)) return null;
    const found = acting.exec(value)?.[0] ?? (value.isWellFormed() ? undefined : '\ufffd');
    return found === undefined ? null : pointOf(found);
  }
  if (value === null || typeof value !== 'object') return null;
  for (const inner of Object.values(value)) {
    const found = firstActing(inner);
    if (found !== null) return found;
  }
  return null;
}

/** The same record with every text made harmless that would act on a screen; what holds none is handed back as it is. */
export function harmless<T>(value: T): T {
  if (firstActing(value) === null) return value;
  return JSON.parse(
    JSON.stringify(value, (_, inner: unknown) => (typeof inner === 'string' ? clean(inner) : inner)),
  );
}

/** Lower case, accents folded, punctuation as spaces; what is made of signs alone (🍸) stays as it is, or all of it would be one. */
export function foldText(text: string): string {
  const folded = text
    .normalize('NFKD')
    .replace(/\p{M}/gu, '')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}%]+/gu, ' ')
    .trim();
  return folded === '' && /\p{S}/u.test(text) ? text.trim() : folded;
}
