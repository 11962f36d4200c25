// One letter for each of the likeliest drinks: a letter of its own name that no likelier one has taken. It holds for a whole shift, so
// that the same letter means the same drink all night.
import type { Spec } from '../catalogue/spec.ts';
import type { SpecId } from '../value/ids.ts';
import { foldText } from '../value/text.ts';

/** The letters of a name in the order they come to mind: the first of the name, the first of each word, then all others. */
function lettersOf(name: string): string[] {
  const words = foldText(name).split(' ');
  const firsts = words.map((word) => word[0] ?? '');
  return [...new Set([...firsts, ...words.join('')])].filter((char) => /^\p{L}$/u.test(char));
}

/**
 * Letters to drinks, given the likeliest first. The first letter of a name goes to the likeliest drink that begins so; a drink whose
 * first letter is taken gets the next of its own that is free, if there is one.
 */
export function quickLetters(likely: readonly Spec[]): ReadonlyMap<string, SpecId> {
  const given = new Map<string, SpecId>();
  for (const { id, name } of likely) {
    const free = lettersOf(name).find((letter) => !given.has(letter));
    if (free !== undefined) given.set(free, id);
  }
  return given;
}
