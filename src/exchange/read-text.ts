// Text from a file, strictly: UTF-8 only, a size limit, and no character that could play tricks on a screen.
import { done, type Result, refuse } from '../domain/problem.ts';

export const LARGEST_FILE = 50_000_000;

/** Bytes -> text; a byte-order mark is dropped. Refused when it is not UTF-8 or holds a NUL. */
export function decodeText(bytes: Uint8Array, name: string): Result<string> {
  if (bytes.length > LARGEST_FILE)
    return refuse('too-large', `${name} is larger than 50 MB. Import it in parts.`);
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return refuse('not-utf8', `${name} is not UTF-8 text. Save it again as UTF-8.`);
  }
  if (text.includes('\0'))
    return refuse('not-text', `${name} holds bytes that are not text. Save it again as plain UTF-8 text.`);
  return done(text);
}
