// Text from a file, strictly: UTF-8 only, a size limit, and no character that could play tricks on a screen.
import { done, type Problem, type Result, refuse, refuseAll } from '../../domain/value/problem.ts';

export const LARGEST_FILE = 50_000_000;

/** Bytes -> text; a byte-order mark is dropped. Refused when it is not UTF-8 or holds a NUL. */
export function decodeText(bytes: Uint8Array, name: string): Result<string> {
  if (bytes.length > LARGEST_FILE)
    return refuse('too-large', `${name} is larger than 50 MB. Import it in parts.`);
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return refuseAll(badLines(bytes, name));
  }
  if (text.includes('\0'))
    return refuse('not-text', `${name} holds bytes that are not text. Save it again as plain UTF-8 text.`);
  return done(text);
}

const MOST_LISTED = 20;

/** Every line that is not UTF-8: a file pasted together from two programs has only some. */
function badLines(bytes: Uint8Array, name: string): Problem[] {
  const problems: Problem[] = [];
  let [start, line] = [0, 1];
  while (start <= bytes.length && problems.length < MOST_LISTED) {
    const next = bytes.indexOf(10, start);
    const end = next === -1 ? bytes.length : next;
    try {
      new TextDecoder('utf-8', { fatal: true }).decode(bytes.subarray(start, end));
    } catch {
      problems.push({
        code: 'not-utf8',
        exit: 65,
        line,
        message: `This line of ${name} is not UTF-8 text. Save the file again as UTF-8.`,
      });
    }
    start = end + 1;
    line += 1;
  }
  return problems;
}
