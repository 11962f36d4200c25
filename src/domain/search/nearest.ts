// Known names near a wrong one, for the remedy of a refusal.
import { foldText } from '../value/text.ts';
import { LONGEST_QUERY, misspelt } from './search.ts';

/** Up to three known names near a wrong one, for the remedy of a refusal: few letters changed first, then fuse. */
export function nearestNames(text: string, names: readonly string[]): string[] {
  const wanted = foldText(text.slice(0, LONGEST_QUERY));
  if (wanted === '') return [];
  const most = Math.max(1, Math.floor(wanted.length / 3));
  const close = names
    .map((name) => ({ name, distance: editDistance(wanted, foldText(name).slice(0, LONGEST_QUERY)) }))
    .filter(({ distance }) => distance <= most)
    .sort((a, b) => a.distance - b.distance)
    .slice(0, 3)
    .map(({ name }) => name);
  if (close.length > 0) return close;
  const near = misspelt(wanted, names);
  if (near.length > 0) return near;
  const words = wanted.split(' ').filter((word) => word.length >= 3);
  return names.filter((name) => words.some((word) => foldText(name).includes(word))).slice(0, 3);
}

/** Letters to insert, delete, replace or swap (Damerau–Levenshtein, optimal string alignment). */
function editDistance(a: string, b: string): number {
  let [before, last]: [number[], number[]] = [[], Array.from({ length: b.length + 1 }, (_, index) => index)];
  for (let row = 1; row <= a.length; row += 1) {
    const next = [row];
    for (let column = 1; column <= b.length; column += 1) {
      const same = a[row - 1] === b[column - 1] ? 0 : 1;
      let best = Math.min(
        (last[column] ?? 0) + 1,
        (next[column - 1] ?? 0) + 1,
        (last[column - 1] ?? 0) + same,
      );
      const swapped = row > 1 && column > 1 && a[row - 1] === b[column - 2] && a[row - 2] === b[column - 1];
      if (swapped) best = Math.min(best, (before[column - 2] ?? 0) + 1);
      next.push(best);
    }
    [before, last] = [last, next];
  }
  return last[b.length] ?? 0;
}
